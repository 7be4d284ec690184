//! The demo rooms: invented, embedded, and opened as a copy of one's own.

use crate::app::App;
use crate::commands::read_file;
use crate::refusal::Refusal;
use crate::wire::{DemoAsk, DemoCard, ImportAsk, Imported, RoomFile};

/// Each demo room: the name it is asked for by, and its file.
const DEMOS: [(&str, &str); 3] = [
    ("kestrel", include_str!("../../../../fixtures/rooms/kestrel-lane.room.json")),
    ("rowan", include_str!("../../../../fixtures/rooms/rowan-street.room.json")),
    ("banksia", include_str!("../../../../fixtures/rooms/banksia-court.room.json")),
];

/// The demo room of a name.
///
/// # Errors
/// `not-found`, naming those there are.
pub fn demo(name: &str) -> Result<RoomFile, Refusal> {
    read_file(text(name)?)
}

fn text(name: &str) -> Result<&'static str, Refusal> {
    let known = DEMOS.iter().find(|(known, _)| *known == name).map(|(_, text)| *text);
    known.ok_or_else(|| {
        let names: Vec<&str> = DEMOS.iter().map(|(name, _)| *name).collect();
        let refusal = Refusal::not_found("demo room", name);
        Refusal { message: format!("{} There are: {}.", refusal.message, names.join(", ")), ..refusal }.field("name")
    })
}

/// The demo rooms as the Rooms screen lists them.
pub(crate) fn cards() -> Vec<DemoCard> {
    let title = |(name, text): &(&str, &str)| {
        read_file(text).map(|file| DemoCard { name: name.to_string(), title: file.room.name }).ok()
    };
    DEMOS.iter().filter_map(title).collect()
}

impl App {
    /// Opens a copy of a demo room under a new id.
    ///
    /// # Errors
    /// `not-found` where there is no such demo room.
    pub fn open_demo(&self, ask: &DemoAsk) -> Result<Imported, Refusal> {
        let file = text(&ask.name)?.to_string();
        self.import_room(&ImportAsk { id: ask.id.clone(), file, as_room: Some(format!("room-{}", ask.id)) })
    }
}
