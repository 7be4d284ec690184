//! Who may come in: the right host name, the right origin, and the key of this start.

use super::refused;
use app::{Kind, Refusal};
use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};
use data_encoding::HEXLOWER;
use std::sync::Arc;

/// What the page may load and do: its own files and nothing else. `tests/tidy/permits.rs` says why each is named.
pub const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; \
                          font-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'; \
                          base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/// The key of this start, and the names under which it may be asked for.
pub(crate) struct Door {
    key: String,
    port: u16,
}

impl Door {
    /// A door with a fresh key of 128 bits.
    pub(crate) fn new(port: u16) -> Result<Self, getrandom::Error> {
        let mut bytes = [0u8; 16];
        getrandom::fill(&mut bytes)?;
        Ok(Self { key: HEXLOWER.encode(&bytes), port })
    }

    pub(crate) fn key(&self) -> &str {
        &self.key
    }

    /// Cookies are shared by all ports of a host, so the port is part of the name.
    fn cookie_name(&self) -> String {
        format!("truefall-{}", self.port)
    }

    fn is_our_host(&self, headers: &HeaderMap) -> bool {
        let names = [format!("127.0.0.1:{}", self.port), format!("localhost:{}", self.port)];
        let asked = headers.get(header::HOST).and_then(|host| host.to_str().ok());
        asked.is_some_and(|asked| names.iter().any(|name| name == asked))
    }

    fn is_our_origin(&self, headers: &HeaderMap) -> bool {
        let Some(origin) = headers.get(header::ORIGIN) else { return true };
        let ours = [format!("http://127.0.0.1:{}", self.port), format!("http://localhost:{}", self.port)];
        origin.to_str().is_ok_and(|origin| ours.iter().any(|name| name == origin))
    }

    fn holds_cookie(&self, headers: &HeaderMap) -> bool {
        cookie(headers, &self.cookie_name()).is_some_and(|value| same(&value, &self.key))
    }
}

/// The cookie of this name.
pub(crate) fn cookie(headers: &HeaderMap, name: &str) -> Option<String> {
    let cookies = headers.get_all(header::COOKIE).iter().filter_map(|cookies| cookies.to_str().ok());
    let mut pairs = cookies.flat_map(|cookies| cookies.split(';')).filter_map(|pair| pair.trim().split_once('='));
    pairs.find(|(key, _)| *key == name).map(|(_, value)| value.to_string())
}

/// Whether two keys are equal, taking the same time wherever they differ.
pub(crate) fn same(given: &str, key: &str) -> bool {
    given.len() == key.len() && given.bytes().zip(key.bytes()).fold(0, |differ, (a, b)| differ | (a ^ b)) == 0
}

/// Lets a request through, turns its key into a cookie, or refuses it.
pub(super) async fn check(State(door): State<Arc<Door>>, request: Request, next: Next) -> Response {
    let door = &door;
    let headers = request.headers();
    if !door.is_our_host(headers) {
        return refused(StatusCode::MISDIRECTED_REQUEST, &stranger("This address is not the one Truefall printed."));
    }
    if !door.is_our_origin(headers) {
        return refused(StatusCode::FORBIDDEN, &stranger("Another page may not speak to Truefall."));
    }
    if let Some(key) = key_of(request.uri().query()) {
        return if same(key, door.key()) { welcome(door) } else { unknown_key() };
    }
    if !door.holds_cookie(headers) {
        return unknown_key();
    }
    guarded(next.run(request).await)
}

fn key_of(query: Option<&str>) -> Option<&str> {
    query?.split('&').find_map(|pair| pair.strip_prefix("key="))
}

/// The key leaves the address bar and becomes a cookie that no script can read and no other site can send.
fn welcome(door: &Door) -> Response {
    let cookie = format!("{}={}; HttpOnly; SameSite=Strict; Path=/", door.cookie_name(), door.key());
    guarded(([(header::SET_COOKIE, cookie)], Redirect::to("/")).into_response())
}

fn unknown_key() -> Response {
    refused(
        StatusCode::UNAUTHORIZED,
        &stranger("Open the address that Truefall printed when it started, with its key."),
    )
}

pub(crate) fn stranger(message: &str) -> Refusal {
    Refusal::new(Kind::NotFound, message)
}

/// The response with the headers that keep a page to itself.
pub(crate) fn guarded(mut response: Response) -> Response {
    let headers = response.headers_mut();
    let fixed = [
        (header::CONTENT_SECURITY_POLICY, POLICY),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::REFERRER_POLICY, "no-referrer"),
        (header::CACHE_CONTROL, "no-store"),
    ];
    for (name, value) in fixed {
        headers.insert(name, HeaderValue::from_static(value));
    }
    response
}
