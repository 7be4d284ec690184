//! Readings: what was measured, kept as it was entered. A correction is a new row that supersedes.

mod measured;

use rusqlite::params;
use survey::units::Length;

use crate::access::{ReadWrite, Rows};
use crate::columns::Columns;
use crate::error::StoreError;
use crate::id::{ReadingId, RoomId, SetupId};

pub use measured::Measured;

/// Which form of which profile an instrument's bytes were read by.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ProfileName {
    pub name: String,
    pub version: u32,
}

/// One reading. Only `withdrawn` ever changes, and only by undoing.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    pub room: RoomId,
    pub id: ReadingId,
    /// The standing it was taken from; a reading down from the line must have one.
    pub setup: Option<SetupId>,
    pub point: String,
    pub measured: Measured,
    /// The text as it was typed or received.
    pub entered: String,
    /// The edge of the joist it was taken on, where both are read.
    pub edge: Option<String>,
    /// `typed`, `csv`, `keyboard`, `practice` or `device:` and its id.
    pub source: String,
    /// The bytes an instrument sent.
    pub raw: Option<Vec<u8>>,
    /// The profile those bytes were read by.
    pub profile: Option<ProfileName>,
    pub at: String,
    pub by: Option<String>,
    /// The standard uncertainty; of a tilt, that of the rise over its foot.
    pub sd: Option<Length>,
    pub note: Option<String>,
    /// The reading this one corrects.
    pub supersedes: Option<ReadingId>,
    pub withdrawn: bool,
}

impl<Access> Rows<'_, Reading, Access> {
    pub fn get(&self, room: &RoomId, id: &ReadingId) -> Result<Option<Reading>, StoreError> {
        self.first(include_str!("get.sql"), params![room, id], take)
    }

    /// Every reading of a room in the order they were kept, superseded and withdrawn ones too.
    pub fn of_room(&self, room: &RoomId) -> Result<Vec<Reading>, StoreError> {
        self.list(include_str!("of_room.sql"), [room], take)
    }

    /// The readings that count: not withdrawn, and not superseded by one that is not withdrawn.
    pub fn current_of_room(&self, room: &RoomId) -> Result<Vec<Reading>, StoreError> {
        self.list(include_str!("current_of_room.sql"), [room], take)
    }
}

impl Rows<'_, Reading, ReadWrite> {
    /// Keeps a reading.
    ///
    /// # Errors
    /// [`StoreError::Refused`] where its room, its set-up or the reading it corrects is not there, where a reading
    /// down from the line has no set-up, and where the id is taken.
    pub fn insert(&self, reading: &Reading) -> Result<(), StoreError> {
        let parts = reading.measured.parts();
        self.change(
            include_str!("insert.sql"),
            params![
                reading.room,
                reading.id,
                reading.setup,
                reading.point,
                reading.measured.sense(),
                parts.value,
                parts.length,
                parts.x2,
                parts.y2,
                parts.foot,
                reading.entered,
                reading.edge,
                reading.source,
                reading.raw,
                reading.at,
                reading.by,
                reading.sd.map(Length::to_mm),
                reading.note,
                reading.supersedes,
                reading.withdrawn,
                reading.profile.as_ref().map(|profile| &profile.name),
                reading.profile.as_ref().map(|profile| profile.version),
            ],
        )?;
        Ok(())
    }

    /// Marks a reading as withdrawn, or as standing again.
    ///
    /// # Errors
    /// [`StoreError::Refused`] where there is no such reading.
    pub fn set_withdrawn(&self, room: &RoomId, id: &ReadingId, withdrawn: bool) -> Result<(), StoreError> {
        self.change_one(include_str!("set_withdrawn.sql"), params![room, id, withdrawn], "reading")
    }
}

fn take(columns: &mut Columns<'_>) -> rusqlite::Result<Reading> {
    let mut reading = Reading {
        room: columns.take()?,
        id: columns.take()?,
        setup: columns.take()?,
        point: columns.take()?,
        measured: measured::take(columns)?,
        entered: columns.take()?,
        edge: columns.take()?,
        source: columns.take()?,
        raw: columns.take()?,
        profile: None,
        at: columns.take()?,
        by: columns.take()?,
        sd: columns.length_if_any()?,
        note: columns.take()?,
        supersedes: columns.take()?,
        withdrawn: columns.take()?,
    };
    let (name, version) = (columns.take::<Option<String>>()?, columns.take::<Option<u32>>()?);
    reading.profile = name.zip(version).map(|(name, version)| ProfileName { name, version });
    Ok(reading)
}

#[cfg(test)]
mod tests {
    use survey::PlanPosition;
    use survey::units::Slope;

    use super::*;
    use crate::examples::{reading, room, setup, store};

    #[test]
    fn every_sense_reads_back_as_it_was_kept() {
        let store = store();
        let to = Some(PlanPosition { x: Length::mm(-0.1), y: Length::mm(4.5e9) });
        let (length, foot) = (Some(Length::inches(96.0)), Some(Length::mm(600.0)));
        let all = [
            Measured::Down(Length::inches(44.1875)),
            Measured::Up(Length::mm(-1.0 / 3.0)),
            Measured::Gap { gap: Length::mm(1.6), length, to },
            Measured::Gap { gap: Length::ZERO, length: None, to: None },
            Measured::Tilt { tilt: Slope::one_in(48.0), foot, to },
            Measured::Tilt { tilt: Slope::ratio(-0.1), foot: None, to: None },
        ];
        for (number, measured) in all.into_iter().enumerate() {
            let id = ReadingId::from(format!("m{number}"));
            let kept = Reading {
                id: id.clone(),
                measured,
                setup: (number == 0).then(|| "s1".into()),
                edge: Some("left".into()),
                raw: Some(vec![0, 255, 13]),
                profile: Some(ProfileName { name: "practice laser".into(), version: 3 }),
                by: Some("Ann".into()),
                sd: Some(Length::mm(0.1)),
                note: Some("wet".into()),
                ..reading("")
            };
            store.write(|tx| tx.readings().insert(&kept)).unwrap();
            assert_eq!(store.read(|read| read.readings().get(&room(), &id)).unwrap(), Some(kept));
        }
        let order = store.read(|read| read.readings().of_room(&room())).unwrap();
        assert_eq!(order.iter().map(|reading| reading.measured).collect::<Vec<_>>(), all);
    }

    /// Each reading is written `id`, `id<id` where it corrects another, and ends in `!` where it is withdrawn.
    #[test]
    fn a_reading_counts_unless_withdrawn_or_corrected() {
        let check = |script: &str, want: &str| {
            let store = store();
            for word in script.split(' ') {
                let (id, corrects) =
                    word.trim_end_matches('!').split_once('<').unwrap_or((word.trim_end_matches('!'), ""));
                let supersedes = Some(corrects).filter(|id| !id.is_empty()).map(ReadingId::from);
                let kept = Reading { supersedes, withdrawn: word.ends_with('!'), ..reading(id) };
                store.write(|tx| tx.readings().insert(&kept)).unwrap();
            }
            let current = store.read(|read| read.readings().current_of_room(&room())).unwrap();
            let ids: Vec<_> = current.iter().map(|reading| reading.id.as_str()).collect();
            assert_eq!(ids.join(" "), want, "{script}");
        };
        check("a", "a");
        check("a b", "a b");
        check("a!", "");
        check("a b<a", "b");
        check("a b<a!", "a");
        check("a! b<a", "b");
        check("a b<a c<b", "c");
        check("a b<a c<b!", "b");
        check("a b<a c<a", "b c");
        check("a b<a! c<a", "c");
    }

    #[test]
    fn withdrawing_is_the_only_change() {
        let store = store();
        store.write(|tx| tx.readings().insert(&reading("a"))).unwrap();
        for withdrawn in [true, false] {
            store.write(|tx| tx.readings().set_withdrawn(&room(), &"a".into(), withdrawn)).unwrap();
            let found = store.read(|read| read.readings().get(&room(), &"a".into())).unwrap();
            assert_eq!(found, Some(Reading { withdrawn, ..reading("a") }));
        }
    }

    #[test]
    fn a_reading_that_hangs_in_the_air_is_refused() {
        let store = store();
        let other = RoomId::from("r2");
        store.write(|tx| tx.readings().insert(&reading("a"))).unwrap();
        store.write(|tx| tx.setups().insert(&setup(&other, "s2"))).unwrap();
        let check = |bad: Reading| {
            let refused = store.write(|tx| tx.readings().insert(&bad)).unwrap_err();
            assert_eq!(refused.kind(), "refused", "{bad:?}");
        };
        check(reading("a"));
        check(Reading { room: "r3".into(), ..reading("b") });
        check(Reading { setup: None, ..reading("b") });
        check(Reading { setup: Some("s9".into()), ..reading("b") });
        check(Reading { setup: Some("s2".into()), ..reading("b") });
        check(Reading { supersedes: Some("z".into()), ..reading("b") });
        check(Reading { supersedes: Some("b".into()), ..reading("b") });
        check(Reading { room: other.clone(), setup: Some("s2".into()), supersedes: Some("a".into()), ..reading("b") });
        check(Reading { point: String::new(), ..reading("b") });
        let unknown = store.write(|tx| tx.readings().set_withdrawn(&other, &"a".into(), true));
        assert_eq!(unknown.unwrap_err().kind(), "refused");
        let same_id = Reading { room: other.clone(), setup: Some("s2".into()), ..reading("a") };
        store.write(|tx| tx.readings().insert(&same_id)).unwrap();
    }
}
