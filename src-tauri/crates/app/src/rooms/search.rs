//! The list of rooms, and the few that are looked for: by words, by days, by how they stand.

use super::read_room;
use crate::app::App;
use crate::fault::Fault;
use crate::forms::*;
use judge::Refusal;
use judge::demo;
use judge::forms::json;
use judge::room::latest_by_point;
use serde_json::Value;
use std::collections::{HashMap, HashSet};
use store::{Listed, Read};

impl App {
    /// All rooms, newest first, and the demo rooms.
    ///
    /// # Errors
    /// Whatever keeps the rooms from being read.
    pub fn rooms(&self) -> Result<RoomsView, Refusal> {
        self.find_rooms(&RoomsAsk::default())
    }

    /// The rooms that are asked for, newest first, and the demo rooms.
    ///
    /// Every word has to stand in the name, the place, a day, or the texts of the record's entries. A room that was
    /// not judged since its last change is judged now, so many at a time; `unjudged` says how many are left.
    ///
    /// # Errors
    /// `out-of-range` for a day that is none, or whatever keeps the rooms from being read.
    pub fn find_rooms(&self, ask: &RoomsAsk) -> Result<RoomsView, Refusal> {
        let days = Days::of(ask)?;
        let text = ask.text.as_deref().unwrap_or_default().to_lowercase();
        let words: Vec<&str> = text.split_whitespace().collect();
        let (all, mut rooms) = self.read(|read| {
            let mut rooms = read.rooms().listed()?;
            let (all, noted) = (rooms.len() as u32, noted(read, &words)?);
            rooms.retain(|room| days.hold(room) && holds(room, &words, &noted));
            Ok((all, rooms))
        })?;
        let unjudged = match ask.verdict {
            Some(verdict) => self.keep_those_standing(&mut rooms, verdict)?,
            None => 0,
        };
        let most = ask.most.map_or(usize::MAX, |most| most as usize);
        let cards = self.read(|read| rooms.iter().take(most).map(|room| self.card(read, room)).collect())?;
        let found = rooms.len() as u32;
        Ok(RoomsView { rooms: cards, found, all, unjudged, demos: demo::cards(), trouble: self.trouble() })
    }

    fn card(&self, read: &Read<'_>, listed: &Listed) -> Result<RoomCard, Fault> {
        let file = read_room(read, &listed.room.id)?;
        Ok(RoomCard {
            read: latest_by_point(&file).len() as u32,
            points: file.plan.points.len() as u32,
            archived: listed.room.archived_at.is_some(),
            last: listed.last.as_ref().map(|(at, _)| at.clone()),
            verdict: self.verdicts.known(listed),
            id: file.room.id,
            name: file.room.name,
            units: file.room.units,
            place: file.room.place,
            created: file.room.created,
        })
    }
}

/// The days between which a room was worked on.
struct Days<'a> {
    since: &'a str,
    until: &'a str,
}

impl<'a> Days<'a> {
    fn of(ask: &'a RoomsAsk) -> Result<Self, Refusal> {
        let day = |field: &str, text: &'a Option<String>| {
            let text = text.as_deref().unwrap_or_default().trim();
            let shape = |at: usize, c: char| if matches!(at, 4 | 7) { c == '-' } else { c.is_ascii_digit() };
            let fits = text.chars().enumerate().all(|(at, c)| shape(at, c)) && matches!(text.len(), 0 | 4 | 7 | 10);
            if fits { Ok(text) } else { Err(Refusal::out_of_range(field, "a day like 2031-04-02, a month or a year")) }
        };
        Ok(Self { since: day("since", &ask.since)?, until: day("until", &ask.until)? })
    }

    /// Whether the time from its beginning to its last change meets these days.
    fn hold(&self, listed: &Listed) -> bool {
        let begun = listed.room.created_at.as_str();
        let last = listed.last.as_ref().map_or(begun, |(at, _)| at.as_str()).max(begun);
        let begun = begun.get(..self.until.len()).unwrap_or(begun);
        last >= self.since && (self.until.is_empty() || begun <= self.until)
    }
}

/// For each word the rooms in whose entries it stands.
fn noted<'w>(read: &Read<'_>, words: &[&'w str]) -> Result<HashMap<&'w str, HashSet<String>>, Fault> {
    words.iter().map(|word| Ok((*word, rooms_noting(read, word)?))).collect()
}

fn rooms_noting(read: &Read<'_>, word: &str) -> Result<HashSet<String>, Fault> {
    let mut found = HashSet::new();
    for document in read.documents().entries_with(word)? {
        if says(&json::read::<Value>(&document.body)?, &|text| text.to_lowercase().contains(word)) {
            found.extend(document.room.map(|room| room.to_string()));
        }
    }
    let sealed: HashSet<String> = read.private_with(word)?.into_iter().collect();
    if !sealed.is_empty() {
        for document in read.documents().entries_with("sha256:")? {
            if says(&json::read::<Value>(&document.body)?, &|text| sealed.contains(text)) {
                found.extend(document.room.map(|room| room.to_string()));
            }
        }
    }
    Ok(found)
}

/// Whether any text in a value, but for names of its fields, is such.
fn says(value: &Value, such: &dyn Fn(&str) -> bool) -> bool {
    match value {
        Value::String(text) => such(text),
        Value::Array(all) => all.iter().any(|one| says(one, such)),
        Value::Object(fields) => fields
            .iter()
            .any(|(name, one)| !matches!(name.as_str(), "id" | "kind" | "sha256" | "mime") && says(one, such)),
        _ => false,
    }
}

fn holds(listed: &Listed, words: &[&str], noted: &HashMap<&str, HashSet<String>>) -> bool {
    if words.is_empty() {
        return true;
    }
    let room = &listed.room;
    let place = listed.place.as_deref().unwrap_or_default();
    let said = format!("{} {place} {}", room.name, room.created_at).to_lowercase();
    words.iter().all(|word| said.contains(word) || noted.get(word).is_some_and(|all| all.contains(room.id.as_str())))
}
