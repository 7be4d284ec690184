//! What can be done to rooms.

use proptest::prelude::*;
use proptest::sample::Index;

/// One thing that is done; indices choose among what is there.
#[derive(Debug, Clone)]
pub(crate) enum Deed {
    New,
    Rename(Index, u8),
    Archive(Index, bool),
    Open(Index, u8),
    Close(Index, u8, bool),
    TakeDown(Index, u8),
    Read { room: Index, setup: u8, point: u8, sixteenths: u16, corrects: Option<Index>, person: Option<u8> },
    TakeBack(Index, Index, bool),
    Answer(Index, u8, Option<u8>),
    Approve(Index, u8),
    Disapprove(Index, u8, bool),
    Rule(Index, u8, Option<u8>),
    Tick(Index, u8, bool),
    Note(Index, u8, Option<u8>),
    Undo(Index),
    Again(Index),
    Changed(Index),
    Nonsense(Index, u8),
    Copy(Index),
    Elsewhere(Index, u16),
    Rebuild,
    Restart,
}

/// Any of it, what is common more often.
pub(crate) fn deed() -> impl Strategy<Value = Deed> {
    let room = any::<Index>;
    let few = || 0u8..3;
    let read = (room(), few(), few(), 700u16..712, prop::option::of(room()), prop::option::of(few()));
    let read = read.prop_map(|(room, setup, point, sixteenths, corrects, person)| Deed::Read {
        room,
        setup,
        point,
        sixteenths,
        corrects,
        person,
    });
    let some = || prop::option::of(few());
    prop_oneof![
        2 => Just(Deed::New),
        1 => (room(), few()).prop_map(|(room, k)| Deed::Rename(room, k)),
        1 => (room(), any::<bool>()).prop_map(|(room, away)| Deed::Archive(room, away)),
        4 => (room(), few()).prop_map(|(room, k)| Deed::Open(room, k)),
        2 => (room(), few(), any::<bool>()).prop_map(|(room, k, close)| Deed::Close(room, k, close)),
        1 => (room(), few()).prop_map(|(room, k)| Deed::TakeDown(room, k)),
        10 => read,
        3 => (room(), room(), any::<bool>()).prop_map(|(room, which, back)| Deed::TakeBack(room, which, back)),
        2 => (room(), few(), some()).prop_map(|(room, k, said)| Deed::Answer(room, k, said)),
        1 => (room(), few()).prop_map(|(room, k)| Deed::Approve(room, k)),
        1 => (room(), few(), any::<bool>()).prop_map(|(room, k, back)| Deed::Disapprove(room, k, back)),
        2 => (room(), few(), some()).prop_map(|(room, k, value)| Deed::Rule(room, k, value)),
        2 => (room(), few(), any::<bool>()).prop_map(|(room, k, done)| Deed::Tick(room, k, done)),
        2 => (room(), few(), some()).prop_map(|(room, k, text)| Deed::Note(room, k, text)),
        5 => room().prop_map(Deed::Undo),
        2 => room().prop_map(Deed::Again),
        1 => room().prop_map(Deed::Changed),
        2 => (room(), few()).prop_map(|(room, k)| Deed::Nonsense(room, k)),
        1 => room().prop_map(Deed::Copy),
        1 => (room(), 700u16..712).prop_map(|(room, sixteenths)| Deed::Elsewhere(room, sixteenths)),
        1 => Just(Deed::Rebuild),
        1 => Just(Deed::Restart),
    ]
}

/// Which room it is done to, where there is one.
pub(crate) fn room_of(deed: &Deed) -> Option<&Index> {
    match deed {
        Deed::Rename(room, _) | Deed::Open(room, _) | Deed::TakeDown(room, _) | Deed::Approve(room, _) => Some(room),
        Deed::Nonsense(room, _) | Deed::Archive(room, _) | Deed::Undo(room) | Deed::Copy(room) => Some(room),
        Deed::Close(room, ..) | Deed::TakeBack(room, ..) | Deed::Answer(room, ..) | Deed::Elsewhere(room, _) => {
            Some(room)
        }
        Deed::Disapprove(room, ..) | Deed::Rule(room, ..) | Deed::Tick(room, ..) | Deed::Note(room, ..) => Some(room),
        Deed::Read { room, .. } => Some(room),
        Deed::New | Deed::Again(_) | Deed::Changed(_) | Deed::Rebuild | Deed::Restart => None,
    }
}
