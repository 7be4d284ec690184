//! Small rooms and entries for the tests of this crate.

use survey::units::Length;

use crate::{Entry, Measured, Reading, Room, RoomId, Setup, Sighting, Store, StoreError, Units};

pub(crate) const AT: &str = "2031-04-02T07:31:05-05:00";

pub(crate) fn room() -> RoomId {
    RoomId::from("r1")
}

pub(crate) fn entry(id: &str) -> Entry {
    Entry::new(id, AT, "phone", "rename", format!("{{\"name\":\"{id}\"}}")).in_room(&room())
}

pub(crate) fn setup(room: &RoomId, id: &str) -> Setup {
    Setup {
        room: room.clone(),
        id: id.into(),
        survey: "joists".into(),
        instrument: "line".into(),
        method: "tape".into(),
        sd: Some(Length::mm(0.8)),
        benchmark: Some("door".into()),
        benchmark_height: Some(Length::ZERO),
        opened_at: AT.into(),
        opening: Some(Sighting { entered: "44-1/4".into(), value: Length::inches(44.25) }),
        closed_at: None,
        closing: None,
        withdrawn: false,
    }
}

pub(crate) fn reading(id: &str) -> Reading {
    Reading {
        room: room(),
        id: id.into(),
        setup: Some("s1".into()),
        point: "J1@0".into(),
        measured: Measured::Down(Length::inches(44.125)),
        entered: "44-1/8".into(),
        edge: None,
        source: "typed".into(),
        raw: None,
        profile: None,
        at: AT.into(),
        by: None,
        sd: None,
        note: None,
        supersedes: None,
        withdrawn: false,
    }
}

/// A store with the rooms `r1` and `r2`, and the set-up `s1` in the first.
pub(crate) fn store() -> Store {
    let store = Store::in_memory().unwrap();
    store
        .write(|tx| -> Result<(), StoreError> {
            tx.rooms().insert(&Room::new("r1", "Hall bath", Units::Inches, AT))?;
            tx.rooms().insert(&Room::new("r2", "Ensuite", Units::Millimetres, AT))?;
            tx.setups().insert(&setup(&room(), "s1"))
        })
        .unwrap();
    store
}
