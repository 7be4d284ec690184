//! Phrases that many sentences share.

use super::say::Say;
use crate::forms::{FromWall, Place};

/// Where something lies: `60 in from the door wall, 48 in from the left wall`.
pub fn place(place: &Place, say: Say) -> String {
    from_walls(&place.from_walls, say)
}

pub(super) fn from_walls(walls: &[FromWall], say: Say) -> String {
    let told = walls.iter().rev().map(|from| format!("{} from the {}", say.length(from.distance), from.wall));
    told.collect::<Vec<_>>().join(", ")
}

/// The article before a number that is spoken.
pub(super) fn article(number: &str) -> &'static str {
    let spoken_with_a_vowel = number.starts_with('8') || number.starts_with("11 ") || number.starts_with("18 ");
    if spoken_with_a_vowel { "An" } else { "A" }
}

/// `J4`, `J4 and J6`, `J4, J6 and 2 more`.
pub fn list(names: &[String]) -> String {
    match names {
        [] => "nothing by name".to_string(),
        [one] => one.clone(),
        [one, other] => format!("{one} and {other}"),
        [one, other, rest @ ..] => format!("{one}, {other} and {} more", rest.len()),
    }
}
