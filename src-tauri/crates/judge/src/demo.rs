//! The demo rooms: invented, embedded, and opened as a copy of one's own.

use crate::forms::refusal::Refusal;
use crate::forms::{DemoCard, RoomFile};

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
    RoomFile::read(text(name)?)
}

/// The room file of a demo room, as text.
///
/// # Errors
/// `not-found`, naming those there are.
pub fn text(name: &str) -> Result<&'static str, Refusal> {
    let known = DEMOS.iter().find(|(known, _)| *known == name).map(|(_, text)| *text);
    known.ok_or_else(|| {
        let names: Vec<&str> = DEMOS.iter().map(|(name, _)| *name).collect();
        let refusal = Refusal::not_found("demo room", name);
        Refusal { message: format!("{} There are: {}.", refusal.message, names.join(", ")), ..refusal }.field("name")
    })
}

/// The demo rooms as the Rooms screen lists them.
pub fn cards() -> Vec<DemoCard> {
    let title = |(name, text): &(&str, &str)| {
        RoomFile::read(text).map(|file| DemoCard { name: name.to_string(), title: file.room.name }).ok()
    };
    DEMOS.iter().filter_map(title).collect()
}
