//! Who may come in at the crew's door: the right host name, the right origin, not too often, and the key of a device
//! that was let in. Without a key there are only the screens themselves, which know nothing, and the way to join.

use super::{Crew, not_joined};
use crate::door::{cookie, guarded, stranger};
use crate::{Asker, Host, answers, body, late, page, refused};
use app::forms::{CrewJoin, CrewMe};
use app::{Kind, Refusal};
use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, header};
use axum::middleware::{self, Next};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use axum::{Extension, Json, Router};
use std::net::IpAddr;
use std::sync::Arc;

/// From whom a connection comes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Peer(pub(super) IpAddr);

/// A code and a name are short.
const MOST_TO_JOIN: usize = 1024;
/// How long a device is known without coming back: thirty days, in seconds.
const KNOWN: u32 = 30 * 24 * 60 * 60;

#[derive(Clone)]
struct Gate {
    crew: Arc<Crew>,
    /// The names under which the door may be asked for, with the port.
    names: Arc<Vec<String>>,
}

/// Everything that is answered at the crew's door.
pub(super) fn router(host: Host, crew: Arc<Crew>, names: Vec<String>) -> Router {
    let gate = Gate { crew, names: Arc::new(names) };
    let joining = late::held_back(Router::new().route("/join", post(join).with_state(gate.clone())));
    answers(host).merge(joining).fallback(get(page::page)).layer(middleware::from_fn_with_state(gate, check))
}

async fn check(
    State(gate): State<Gate>,
    Extension(Peer(peer)): Extension<Peer>,
    mut request: Request,
    next: Next,
) -> Response {
    if let Some(refusal) = gate.turned_away(request.method(), request.headers()) {
        return guarded(refusal);
    }
    let member = cookie(request.headers(), &gate.cookie_name()).and_then(|shown| gate.crew.who(&shown));
    let name = member.as_ref().map_or_else(|| peer.to_string(), |member| member.id.clone());
    if !gate.crew.allows(&name) {
        return guarded(too_often());
    }
    let open_to_all = matches!(request.uri().path(), "/join") || !is_of_the_rooms(request.uri().path());
    match member {
        Some(member) => drop(request.extensions_mut().insert(Asker::Member(member))),
        None if open_to_all => {}
        None => return guarded(refused(StatusCode::UNAUTHORIZED, &not_joined("Join with the code shown at home."))),
    }
    guarded(next.run(request).await)
}

fn is_of_the_rooms(path: &str) -> bool {
    ["/dispatch", "/changes"].iter().any(|start| path.starts_with(start))
}

impl Gate {
    /// The port is part of the name: cookies are shared by all ports of a host.
    fn cookie_name(&self) -> String {
        let port = self.names.first().and_then(|name| name.rsplit_once(':')).map_or("", |(_, port)| port);
        format!("truefall-crew-{port}")
    }

    /// A request under another name comes by way of a stranger's page, as does one from another origin.
    fn turned_away(&self, method: &Method, headers: &HeaderMap) -> Option<Response> {
        let asked = headers.get(header::HOST).and_then(|host| host.to_str().ok());
        if !asked.is_some_and(|asked| self.names.iter().any(|name| name == asked)) {
            let refusal = stranger("This address is not the one shown at home.");
            return Some(refused(StatusCode::MISDIRECTED_REQUEST, &refusal));
        }
        let origin = headers.get(header::ORIGIN);
        let ours = |origin: &HeaderValue| self.names.iter().any(|name| origin == format!("https://{name}").as_str());
        let fits = origin.map_or(method == Method::GET, ours);
        (!fits).then(|| refused(StatusCode::FORBIDDEN, &stranger("Another page may not speak to Truefall.")))
    }
}

fn too_often() -> Response {
    let refusal = Refusal::new(Kind::TooOften, "That was too much at once. Wait a moment.").worth_a_retry();
    refused(StatusCode::TOO_MANY_REQUESTS, &refusal)
}

/// Trades a code for a key, which becomes a cookie that no script can read and no other site can send.
async fn join(State(gate): State<Gate>, request: Request) -> Response {
    let text = match body::text(request, MOST_TO_JOIN, gate.crew.limits().body).await {
        Ok(text) => text,
        Err(refusal) => return refusal,
    };
    let joined = app::json::read::<CrewJoin>(&text).and_then(|ask| gate.crew.join(&ask));
    match joined {
        Ok((member, shown)) => {
            let key =
                format!("{}={shown}; HttpOnly; Secure; SameSite=Strict; Path=/; Max-Age={KNOWN}", gate.cookie_name());
            ([(header::SET_COOKIE, key)], Json(CrewMe { role: member.role, name: member.name })).into_response()
        }
        Err(refusal) => refused(crate::status(refusal.kind), &refusal),
    }
}
