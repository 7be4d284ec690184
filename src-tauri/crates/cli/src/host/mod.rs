//! The screens for a browser on this machine: the same core behind the same requests.
//!
//! Bound to the loopback address alone. Every start draws a key; it stands in the printed address, becomes a cookie,
//! and nothing is answered without it. Requests for another host name or from another origin are refused.

mod changes;
mod door;
mod page;

use app::{App, Kind, Refusal};
use axum::Router;
use axum::body::Bytes;
use axum::extract::rejection::BytesRejection;
use axum::extract::{DefaultBodyLimit, Path, State};
use axum::http::{StatusCode, header};
use axum::middleware;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use door::Door;
use std::process::ExitCode;
use std::sync::Arc;
use tokio::net::TcpListener;
use tokio::sync::broadcast;

/// The largest request that is read.
const MOST_BYTES: usize = 64 << 20;

/// What every request is answered from.
#[derive(Clone)]
pub(crate) struct Host {
    app: Arc<App>,
    door: Arc<Door>,
    changes: broadcast::Sender<String>,
}

/// Serves until the program is stopped.
pub(crate) fn serve(app: App, port: u16) -> Result<ExitCode, Refusal> {
    let runtime = tokio::runtime::Runtime::new().map_err(|error| failed("The host could not start", &error))?;
    runtime.block_on(listen(app, port))
}

async fn listen(app: App, port: u16) -> Result<ExitCode, Refusal> {
    let listener = TcpListener::bind(("127.0.0.1", port))
        .await
        .map_err(|error| failed(&format!("Port {port} could not be opened; choose another with --port"), &error))?;
    let address = listener.local_addr().map_err(|error| failed("The host has no address", &error))?;
    let door = Door::new(address.port()).map_err(|error| failed("No key could be drawn", &error))?;
    println!("Truefall is at http://127.0.0.1:{}/?key={}", address.port(), door.key());
    let served = axum::serve(listener, router(app, door)).with_graceful_shutdown(stopped()).await;
    served.map(|()| ExitCode::SUCCESS).map_err(|error| failed("The host stopped", &error))
}

fn failed(what: &str, error: &dyn std::fmt::Display) -> Refusal {
    Refusal::new(Kind::Io, format!("{what}: {error}."))
}

async fn stopped() {
    // Where no signal can be waited for, the host runs until it is killed.
    if tokio::signal::ctrl_c().await.is_err() {
        std::future::pending::<()>().await;
    }
}

fn router(app: App, door: Door) -> Router {
    let (changes, _) = broadcast::channel(256);
    let teller = changes.clone();
    app.on_change(Box::new(move |change| {
        // Nobody listening is no mistake.
        let _ = teller.send(change.to_string());
    }));
    let app = Arc::new(app);
    let looked_over = Arc::clone(&app);
    std::thread::spawn(move || looked_over.look_over());
    let host = Host { app, door: Arc::new(door), changes };
    Router::new()
        .route("/dispatch/{name}", post(dispatch))
        .route("/changes", get(changes::stream))
        .fallback(get(page::page))
        .layer(DefaultBodyLimit::max(MOST_BYTES))
        .layer(middleware::from_fn_with_state(host.clone(), door::check))
        .with_state(host)
}

async fn dispatch(State(host): State<Host>, Path(name): Path<String>, body: Result<Bytes, BytesRejection>) -> Response {
    let body = match body {
        Ok(body) => body,
        Err(_) => return refused(StatusCode::PAYLOAD_TOO_LARGE, &too_large()),
    };
    let Ok(text) = String::from_utf8(body.to_vec()) else {
        return refused(StatusCode::BAD_REQUEST, &Refusal::new(Kind::NotJson, "The request is not text."));
    };
    // The disk is waited for; other requests go on meanwhile.
    let answered = tokio::task::spawn_blocking(move || host.app.dispatch(&name, &text)).await;
    match answered {
        Ok(Ok(answer)) => ([(header::CONTENT_TYPE, "application/json")], answer).into_response(),
        Ok(Err(refusal)) => refused(status(refusal.kind), &refusal),
        Err(error) => refused(
            StatusCode::INTERNAL_SERVER_ERROR,
            &Refusal::new(Kind::Internal, format!("The request failed: {error}.")),
        ),
    }
}

fn too_large() -> Refusal {
    Refusal::new(Kind::OutOfRange, "The request is larger than 64 MiB. Use the command line for it.")
}

fn status(kind: Kind) -> StatusCode {
    match kind {
        Kind::Internal => StatusCode::INTERNAL_SERVER_ERROR,
        Kind::NotFound | Kind::UnknownCommand => StatusCode::NOT_FOUND,
        Kind::Locked | Kind::Full | Kind::Io | Kind::ReadOnly => StatusCode::SERVICE_UNAVAILABLE,
        _ => StatusCode::UNPROCESSABLE_ENTITY,
    }
}

pub(crate) fn refused(status: StatusCode, refusal: &Refusal) -> Response {
    let body = serde_json::json!(refusal).to_string();
    (status, [(header::CONTENT_TYPE, "application/json")], body).into_response()
}
