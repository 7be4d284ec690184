//! The screens for a browser: the same core behind the same requests.
//!
//! For this machine they are bound to the loopback address alone. Every start draws a key; it stands in the printed
//! address, becomes a cookie, and nothing is answered without it. Requests for another host name or from another origin
//! are refused. For the crew there is a door of its own, [`Crew`], which is opened by choice.

mod body;
mod changes;
mod crew;
mod door;
mod late;
mod limits;
mod page;
mod roles;
mod terminal;

use app::forms::{CrewHere, CrewOpen, CrewRole, UndoAsk, Write};
use app::{App, Kind, Refusal, json};
use axum::extract::{Path, Request, State};
use axum::http::{StatusCode, header};
use axum::middleware;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use axum::{Extension, Router};
use crew::Member;
pub use crew::{Crew, places};
use door::Door;
pub use door::POLICY;
pub use limits::Limits;
use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::Arc;
use tokio::net::TcpListener;

/// The largest request that is read from this machine itself.
const MOST_BYTES: usize = 64 << 20;

/// What every request is answered from.
#[derive(Clone)]
pub(crate) struct Host {
    app: Arc<App>,
    crew: Arc<Crew>,
}

/// Whose request it is.
#[derive(Debug, Clone)]
pub(crate) enum Asker {
    Home,
    Member(Member),
}

impl Asker {
    /// The id of the device, empty for the home device.
    fn id(&self) -> &str {
        match self {
            Self::Home => "",
            Self::Member(member) => &member.id,
        }
    }
}

/// What is opened to the crew from the start, and at which port.
pub struct Opening {
    pub open: CrewOpen,
    pub port: Option<u16>,
}

/// Serves until the program is stopped.
///
/// # Errors
/// `io` where no port can be opened.
pub fn serve(app: App, port: u16, folder: Option<PathBuf>, opening: Option<&Opening>) -> Result<ExitCode, Refusal> {
    let app = Arc::new(app);
    let crew = Crew::lend(&app, folder, Limits::default());
    let runtime = tokio::runtime::Runtime::new().map_err(|error| failed("The host could not start", &error))?;
    let served = runtime.block_on(listen(Arc::clone(&app), Arc::clone(&crew), port, opening));
    crew.close();
    served
}

async fn listen(app: Arc<App>, crew: Arc<Crew>, port: u16, opening: Option<&Opening>) -> Result<ExitCode, Refusal> {
    let listener = TcpListener::bind(("127.0.0.1", port))
        .await
        .map_err(|error| failed(&format!("Port {port} could not be opened; choose another with --port"), &error))?;
    let address = listener.local_addr().map_err(|error| failed("The host has no address", &error))?;
    let door = Door::new(address.port()).map_err(|error| failed("No key could be drawn", &error))?;
    println!("Truefall is at http://127.0.0.1:{}/?key={}", address.port(), door.key());
    if let Some(Opening { open, port }) = opening {
        let (crew_told, crew) = (Arc::clone(&crew), Arc::clone(&crew));
        let (open, port) = (open.clone(), *port);
        let opened = tokio::task::spawn_blocking(move || crew.open(&open, port).map(|()| crew.view()));
        terminal::attend(&crew_told, opened.await.map_err(|error| failed("The door could not be opened", &error))??);
    }
    let looked_over = Arc::clone(&app);
    std::thread::spawn(move || looked_over.look_over());
    let served = axum::serve(listener, at_home(Host { app, crew }, door)).with_graceful_shutdown(stopped()).await;
    served.map(|()| ExitCode::SUCCESS).map_err(|error| failed("The host stopped", &error))
}

pub(crate) fn failed(what: &str, error: &dyn std::fmt::Display) -> Refusal {
    Refusal::new(Kind::Io, format!("{what}: {error}."))
}

async fn stopped() {
    // Where no signal can be waited for, the host runs until it is killed.
    if tokio::signal::ctrl_c().await.is_err() {
        std::future::pending::<()>().await;
    }
}

/// What is answered at home: everything, behind the key of this start.
fn at_home(host: Host, door: Door) -> Router {
    let check = middleware::from_fn_with_state(Arc::new(door), door::check);
    answers(host).fallback(get(page::page)).layer(Extension(Asker::Home)).layer(check)
}

/// What is answered at either door, each for whoever the door says it is.
pub(crate) fn answers(host: Host) -> Router {
    let asked = late::held_back(Router::new().route("/dispatch/{name}", post(dispatch)));
    asked.route("/changes", get(changes::stream)).with_state(host)
}

async fn dispatch(
    State(host): State<Host>,
    Extension(asker): Extension<Asker>,
    Path(name): Path<String>,
    request: Request,
) -> Response {
    let (most, within) = bounds(&host, &asker, &name);
    let text = match body::text(request, most, within).await {
        Ok(text) => text,
        Err(refusal) => return refusal,
    };
    // The disk is waited for; other requests go on meanwhile.
    let answered = tokio::task::spawn_blocking(move || match asker {
        Asker::Home => host.app.dispatch(&name, &text),
        Asker::Member(member) => for_member(&host, &member, &name, &text),
    });
    match answered.await {
        Ok(Ok(answer)) => ([(header::CONTENT_TYPE, "application/json")], answer).into_response(),
        Ok(Err(refusal)) => refused(status(refusal.kind), &refusal),
        Err(error) => refused(
            StatusCode::INTERNAL_SERVER_ERROR,
            &Refusal::new(Kind::Internal, format!("The request failed: {error}.")),
        ),
    }
}

/// How much a request may hold and how long it may take to come.
fn bounds(host: &Host, asker: &Asker, name: &str) -> (usize, std::time::Duration) {
    let limits = host.crew.limits();
    match asker {
        Asker::Home => (MOST_BYTES, limits.body * 10),
        Asker::Member(_) if name == "photograph-add" => (limits.photograph, limits.body),
        Asker::Member(_) => (limits.bytes, limits.body),
    }
}

/// Answers one request of the crew, as far as its role reaches.
fn for_member(host: &Host, member: &Member, name: &str, text: &str) -> Result<String, Refusal> {
    if !roles::may_ask(member.role, name) {
        return Err(not_allowed(member.role));
    }
    match name {
        "crew" => json::write(&host.crew.view_of(member)),
        "crew-here" => {
            host.crew.looks_at(&member.id, json::read::<CrewHere>(text)?);
            json::write(&host.crew.view_of(member))
        }
        "write" => {
            let write = json::read::<Write>(text)?;
            match roles::may_change(member.role, &write.command) {
                true => json::write(&host.app.write_for(&member.person(), write)?),
                false => Err(not_allowed(member.role)),
            }
        }
        "undo" => json::write(&host.app.undo_for(&member.person(), &json::read::<UndoAsk>(text)?)?),
        _ => host.app.dispatch(name, text),
    }
}

fn not_allowed(role: CrewRole) -> Refusal {
    Refusal::new(
        Kind::NotAllowed,
        match role {
            CrewRole::Read => "This device may look, not write. The home device can change that.",
            _ => "That is for the home device alone.",
        },
    )
}

pub(crate) fn status(kind: Kind) -> StatusCode {
    match kind {
        Kind::Internal => StatusCode::INTERNAL_SERVER_ERROR,
        Kind::NotFound | Kind::UnknownCommand => StatusCode::NOT_FOUND,
        Kind::Locked | Kind::Full | Kind::Io | Kind::ReadOnly => StatusCode::SERVICE_UNAVAILABLE,
        Kind::NotJoined => StatusCode::UNAUTHORIZED,
        Kind::NotAllowed => StatusCode::FORBIDDEN,
        Kind::TooOften => StatusCode::TOO_MANY_REQUESTS,
        _ => StatusCode::UNPROCESSABLE_ENTITY,
    }
}

pub(crate) fn refused(status: StatusCode, refusal: &Refusal) -> Response {
    let body = serde_json::json!(refusal).to_string();
    (status, [(header::CONTENT_TYPE, "application/json")], body).into_response()
}
