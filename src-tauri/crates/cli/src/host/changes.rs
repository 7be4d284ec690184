//! Every change, told to every open screen as a server-sent event.

use super::{Asker, Host};
use app::forms::Changes;
use axum::Extension;
use axum::extract::State;
use axum::response::sse::{Event, KeepAlive, Sse};
use std::convert::Infallible;
use tokio_stream::wrappers::BroadcastStream;
use tokio_stream::{Stream, StreamExt};

/// The stream of changes from now on. A screen that falls behind is told to look at everything again. It ends when its
/// device is turned away.
pub(super) async fn stream(
    State(host): State<Host>,
    Extension(asker): Extension<Asker>,
) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    let id = asker.id().to_string();
    let crew = host.crew;
    let changes = BroadcastStream::new(crew.heard());
    // The screen counts as on for as long as its stream is kept.
    let screen = crew.screen_on(&id);
    let at_home = matches!(asker, Asker::Home);
    let heard = move |text: &str| at_home || !is_of_instruments(text);
    let changes = changes.filter(move |change| change.as_ref().map_or(true, |text| heard(text)));
    let changes = changes.take_while(move |_| crew.lets_in(&id)).map(move |change| {
        let _on = &screen;
        Ok(match change {
            Ok(text) => Event::default().event("changes").data(text),
            Err(_) => Event::default().event("missed").data("{}"),
        })
    });
    Sse::new(changes).keep_alive(KeepAlive::default())
}

/// Whether the instruments changed: they are the home device's alone.
fn is_of_instruments(change: &str) -> bool {
    serde_json::from_str::<Changes>(change).is_ok_and(|change| change.devices.is_some())
}
