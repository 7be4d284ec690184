//! Any run of changes: replayed the tables are equal, sent again nothing happens, taken over elsewhere it is the same.

use crate::commands::{entry, entry_ids, reading_add, room_new, setup_open, tables, take_over, write};
use proptest::prelude::*;
use serde_json::json;
use store::{Chain, Entry, RoomId, Store, StoreError};

fn room(number: u8) -> RoomId {
    RoomId::from(format!("room{number}"))
}

/// A change of one of three rooms; many are refused, for want of a room, a set-up or a reading.
fn change() -> impl Strategy<Value = (u8, u8, u8, i32)> {
    (0..3_u8, 0..14_u8, 0..4_u8, -30_000..30_000_i32)
}

fn entry_of(number: usize, (which, command, subject, value): (u8, u8, u8, i32)) -> Entry {
    let (id, room) = (format!("e{number}"), room(which));
    let (mm, even) = (f64::from(value) / 7.0, value % 2 == 0);
    let reading = |back: usize| format!("e{}", number.saturating_sub(back));
    let plain = |command: &str, payload| entry(&id, &room, command, &payload);
    match command {
        0 => room_new(&id, &room),
        1 => plain("room-archive", json!({"at": even.then_some("2031-05-01T00:00:00Z")})),
        2 => plain("plan-set", json!({"plan": even.then_some(json!({"width": mm}))})),
        3 => setup_open(&id, &room, &format!("s{subject}")),
        4 => plain("setup-close", json!({"setup": format!("s{subject}"), "closing": {"text": "1 m", "mm": mm}})),
        5 | 6 => reading_add(&id, &room, &format!("s{subject}"), "J1@0", mm, None),
        7 => reading_add(&id, &room, &format!("s{subject}"), "J1@0", mm, Some(&reading(1 + usize::from(subject)))),
        8 => plain("readings-withdraw", json!({"readings": [reading(usize::from(subject))], "withdrawn": even})),
        9 => plain("gate-set", json!({"question": "rot", "subject": format!("J{subject}"), "answer": mm.to_string()})),
        10 => plain("gate-clear", json!({"question": "rot", "subject": format!("J{subject}")})),
        11 => plain("approval-add", json!({"approval": id, "joist": "J1", "depth": mm, "from": 0, "to": mm})),
        12 => plain("tick-set", json!({"item": format!("J{subject}"), "done": even})),
        _ if even => plain("photograph-remove", json!({"sha256": format!("{subject}").repeat(64)})),
        _ => plain("photograph-add", json!({"sha256": format!("{subject}").repeat(64)})),
    }
}

/// A first room with a set-up, so that fewer changes are refused; then the changes.
fn entries(changes: &[(u8, u8, u8, i32)]) -> Vec<Entry> {
    let first = [room_new("first", &room(0)), setup_open("second", &room(0), "s0")];
    let rest = changes.iter().enumerate().map(|(number, change)| entry_of(number, *change));
    first.into_iter().chain(rest).collect()
}

fn written(entries: &[Entry]) -> Store {
    let store = Store::in_memory().unwrap();
    for entry in entries {
        let before = (tables(&store), entry_ids(&store, &room(0)));
        if let Err(error) = write(&store, entry) {
            assert_eq!(error.kind(), "refused", "{error}");
            assert_eq!((tables(&store), entry_ids(&store, &room(0))), before, "a refused change leaves no trace");
        }
    }
    store
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn tables_made_anew_are_equal(changes in prop::collection::vec(change(), 0..60)) {
        let store = written(&entries(&changes));
        let before = tables(&store);
        store.rebuild(crate::commands::apply).unwrap();
        prop_assert_eq!(tables(&store), before);
        prop_assert_eq!(store.check(), Ok(()));
    }

    #[test]
    fn sent_again_nothing_happens(changes in prop::collection::vec(change(), 0..40)) {
        let entries = entries(&changes);
        let store = written(&entries);
        let before = tables(&store);
        let heads: Vec<_> = (0..3).map(|number| store.read(|read| read.head(Some(&room(number)))).unwrap()).collect();
        for entry in entries.iter().filter(|entry| entry_ids(&store, entry.room.as_ref().unwrap()).contains(&entry.id)) {
            prop_assert!(write(&store, entry).unwrap().repeat);
            let other = Entry { payload: b"{}".to_vec(), ..entry.clone() };
            prop_assert_eq!(write(&store, &other), Err(StoreError::IdReused { id: entry.id.clone() }));
        }
        prop_assert_eq!(tables(&store), before);
        let after: Vec<_> = (0..3).map(|number| store.read(|read| read.head(Some(&room(number)))).unwrap()).collect();
        prop_assert_eq!(after, heads);
    }

    #[test]
    fn taken_over_it_is_the_same(changes in prop::collection::vec(change(), 0..40)) {
        let (store, other) = (written(&entries(&changes)), Store::in_memory().unwrap());
        for number in 0..3 {
            let chain = store.read(|read| read.history(Some(&room(number)))).unwrap();
            for recorded in chain.iter().chain(&chain) {
                take_over(&other, recorded).unwrap();
            }
            let (one, two) = (store.read(|read| read.verify(Some(&room(number)))), other.read(|read| read.verify(Some(&room(number)))));
            prop_assert!(matches!(one, Ok(Chain::Fits(_))));
            prop_assert_eq!(one, two);
        }
        let sorted = |store: &Store| {
            let text = tables(store);
            let mut lines: Vec<_> = text.lines().map(str::to_owned).collect();
            lines.sort();
            lines
        };
        prop_assert_eq!(sorted(&other), sorted(&store));
    }
}

#[test]
fn a_replay_that_fails_leaves_the_tables_as_they_were() {
    let store = Store::in_memory().unwrap();
    crate::commands::furnish(&store, &room(0));
    let before = tables(&store);
    let mut left = 10;
    let failed = store.rebuild(|tx, recorded| {
        left -= 1;
        if left == 0 { Err(StoreError::Full) } else { crate::commands::apply(tx, recorded) }
    });
    assert_eq!(failed, Err(StoreError::Full));
    assert_eq!(tables(&store), before);
}
