//! Every change, told to every open screen as a server-sent event.

use super::Host;
use axum::extract::State;
use axum::response::sse::{Event, KeepAlive, Sse};
use std::convert::Infallible;
use tokio_stream::wrappers::BroadcastStream;
use tokio_stream::{Stream, StreamExt};

/// The stream of changes from now on. A screen that falls behind is told to look at everything again.
pub(super) async fn stream(State(host): State<Host>) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    let changes = BroadcastStream::new(host.changes.subscribe()).map(|change| {
        Ok(match change {
            Ok(text) => Event::default().event("changes").data(text),
            Err(_) => Event::default().event("missed").data("{}"),
        })
    });
    Sse::new(changes).keep_alive(KeepAlive::default())
}
