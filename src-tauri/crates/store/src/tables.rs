//! The tables that the journal fills: how to reach them, empty them, and compare them.

use rusqlite::Connection;
use rusqlite::types::ValueRef;

use crate::access::{Read, ReadOnly, ReadWrite, Rows, Tx};
use crate::error::StoreError;
use crate::{Answer, Approval, Document, Photograph, Reading, Room, Setup, Tick};

macro_rules! tables {
    ($($table:ident: $row:ident),+ $(,)?) => {
        /// Every table that the journal fills, parents first.
        const TABLES: &[&str] = &[$(stringify!($table)),+];

        impl<'c> Read<'c> {
            $(pub fn $table(&self) -> Rows<'c, $row, ReadOnly> {
                Rows::new(self.connection)
            })+
        }

        impl<'c> Tx<'c> {
            $(pub fn $table(&self) -> Rows<'c, $row, ReadWrite> {
                Rows::new(self.connection)
            })+
        }
    };
}

tables! {
    rooms: Room,
    documents: Document,
    setups: Setup,
    readings: Reading,
    answers: Answer,
    approvals: Approval,
    ticks: Tick,
    photographs: Photograph,
}

/// Empties every table that the journal fills.
pub(crate) fn empty(connection: &Connection) -> Result<(), StoreError> {
    for table in TABLES.iter().rev() {
        connection.execute(&format!("DELETE FROM {table}"), [])?;
    }
    Ok(())
}

impl Read<'_> {
    /// Every row of every table that the journal fills, a line each in the order of arrival or of their key: two
    /// stores with the same content give the same text.
    pub fn tables_as_text(&self) -> Result<String, StoreError> {
        let mut lines = Vec::new();
        for table in TABLES {
            lines.extend(self.lines_of(table)?);
        }
        Ok(lines.concat())
    }

    fn lines_of(&self, table: &str) -> Result<Vec<String>, StoreError> {
        let mut statement = self.connection.prepare(&format!("SELECT * FROM {table} ORDER BY 1, 2, 3"))?;
        let compared = compared_columns(&statement);
        let mut rows = statement.query([])?;
        let mut lines = Vec::new();
        while let Some(row) = rows.next()? {
            let cells: Result<Vec<_>, _> = compared.iter().map(|&column| row.get_ref(column).map(cell)).collect();
            lines.push(format!("{table}\t{}\n", cells?.join("\t")));
        }
        Ok(lines)
    }
}

/// All columns but the count of arrivals, which has gaps where rows were removed.
fn compared_columns(statement: &rusqlite::Statement<'_>) -> Vec<usize> {
    let names = statement.column_names().enumerate();
    names.filter(|&(_, name)| name != "arrival").map(|(column, _)| column).collect()
}

fn cell(value: ValueRef<'_>) -> String {
    match value {
        ValueRef::Null => "-".into(),
        ValueRef::Integer(whole) => whole.to_string(),
        ValueRef::Real(real) => format!("{real:?}"),
        ValueRef::Text(text) => format!("{:?}", String::from_utf8_lossy(text)),
        ValueRef::Blob(bytes) => format!("{bytes:02x?}"),
    }
}

#[cfg(test)]
mod tests {
    use survey::units::Length;

    use super::*;
    use crate::examples::{AT, reading, room, setup, store};
    use crate::{RoomId, Sighting, Store, Units};

    /// Whatever the closure finds after its own changes, in one transaction.
    fn after<T>(store: &Store, work: impl FnOnce(&Tx<'_>) -> Result<T, StoreError>) -> T {
        store.write(work).unwrap()
    }

    #[test]
    fn rooms_are_renamed_and_archived() {
        let store = store();
        let other = after(&store, |tx| {
            let mut room = tx.rooms().get(&room())?.unwrap();
            room.name = "Back bath".into();
            room.place = Some("first floor".into());
            room.units = Units::Millimetres;
            room.archived_at = Some(AT.into());
            tx.rooms().update(&room)?;
            Ok(room)
        });
        let all = store.read(|read| read.rooms().all()).unwrap();
        assert_eq!(all, [other, Room::new("r2", "Ensuite", Units::Millimetres, AT)]);
        let unknown = store.write(|tx| tx.rooms().update(&Room::new("r9", "", Units::Inches, AT)));
        assert_eq!(unknown, Err(StoreError::refused("there is no such room")));
        assert_eq!(Units::of_name("ft"), None);
    }

    #[test]
    fn documents_are_replaced_whole_in_a_room_and_in_the_settings() {
        let store = store();
        let document =
            |room: Option<RoomId>, name: &str, body: &str| Document { room, name: name.into(), body: body.into() };
        after(&store, |tx| {
            for body in ["{\"a\":1}", "{\"b\": 2.50}"] {
                tx.documents().put(&document(Some(room()), "plan", body))?;
                tx.documents().put(&document(None, "plan", "[]"))?;
            }
            tx.documents().put(&document(Some(room()), "layers", "null"))
        });
        let of = |room: Option<&RoomId>| store.read(|read| read.documents().of_room(room)).unwrap();
        let plan = document(Some(room()), "plan", "{\"b\": 2.50}");
        assert_eq!(of(Some(&room())), [document(Some(room()), "layers", "null"), plan]);
        assert_eq!(of(None), [document(None, "plan", "[]")]);
        after(&store, |tx| tx.documents().remove(Some(&room()), "plan"));
        assert_eq!(store.read(|read| read.documents().get(Some(&room()), "plan")).unwrap(), None);
        assert_eq!(store.read(|read| read.documents().get(None, "plan")).unwrap().as_deref(), Some("[]"));
        for bad in [document(None, "plan", "{"), document(Some("r9".into()), "plan", "{}")] {
            assert_eq!(store.write(|tx| tx.documents().put(&bad)).unwrap_err().kind(), "refused");
        }
    }

    #[test]
    fn set_ups_close_reopen_and_are_withdrawn() {
        let store = store();
        let (room, id) = (room(), "s1".into());
        let closing = Sighting { entered: "44-5/16".into(), value: Length::inches(44.3125) };
        let found = || store.read(|read| read.setups().get(&room, &id)).unwrap().unwrap();
        after(&store, |tx| tx.setups().close(&room, &id, AT, Some(&closing)));
        let closed = Setup { closed_at: Some(AT.into()), closing: Some(closing), ..setup(&room, "s1") };
        assert_eq!(found(), closed);
        after(&store, |tx| tx.setups().close(&room, &id, AT, None));
        assert_eq!(found(), Setup { closing: None, ..closed });
        after(&store, |tx| tx.setups().reopen(&room, &id).and_then(|()| tx.setups().set_withdrawn(&room, &id, true)));
        assert_eq!(
            store.read(|read| read.setups().of_room(&room)).unwrap(),
            [Setup { withdrawn: true, ..setup(&room, "s1") }]
        );
        assert_eq!(store.write(|tx| tx.setups().reopen(&room, &"s9".into())).unwrap_err().kind(), "refused");
    }

    #[test]
    fn answers_and_ticks_are_replaced_and_taken_back() {
        let store = store();
        let answer = |subject: &str, answer: &str| Answer {
            room: room(),
            question: "notch".into(),
            subject: subject.into(),
            answer: answer.into(),
            note: Some("by the door".into()),
            at: AT.into(),
            by: None,
        };
        let tick = |done| Tick { room: room(), item: "J2 strip".into(), done };
        after(&store, |tx| {
            [answer("J6", "no"), answer("", "yes"), answer("J6", "yes")]
                .iter()
                .try_for_each(|one| tx.answers().put(one))?;
            [tick(false), tick(true)].iter().try_for_each(|one| tx.ticks().put(one))
        });
        assert_eq!(
            store.read(|read| read.answers().of_room(&room())).unwrap(),
            [answer("", "yes"), answer("J6", "yes")]
        );
        assert_eq!(store.read(|read| read.ticks().of_room(&room())).unwrap(), [tick(true)]);
        after(&store, |tx| {
            tx.answers().remove(&room(), "notch", "J6").and_then(|()| tx.ticks().remove(&room(), "J2 strip"))
        });
        assert_eq!(store.read(|read| read.answers().get(&room(), "notch", "J6")).unwrap(), None);
        assert_eq!(store.read(|read| read.ticks().get(&room(), "J2 strip")).unwrap(), None);
    }

    #[test]
    fn approvals_are_withdrawn_and_photographs_taken_off() {
        let store = store();
        let approval = Approval {
            room: room(),
            id: "a1".into(),
            joist: "J4".into(),
            depth: Length::inches(0.125),
            from: Length::inches(30.0),
            to: Length::inches(72.0),
            by: "the engineer".into(),
            date: "2031-04-03".into(),
            reference: "letter 7".into(),
            withdrawn: false,
        };
        let photograph =
            Photograph { room: room(), sha256: "0f".repeat(32), name: "J6.jpg".into(), taken_at: None, note: None };
        after(&store, |tx| tx.approvals().insert(&approval).and_then(|()| tx.photographs().insert(&photograph)));
        assert_eq!(store.read(|read| read.approvals().of_room(&room())).unwrap(), std::slice::from_ref(&approval));
        assert_eq!(store.read(|read| read.photographs().of_room(&room())).unwrap(), std::slice::from_ref(&photograph));
        after(&store, |tx| tx.approvals().set_withdrawn(&room(), &approval.id, true));
        after(&store, |tx| tx.photographs().remove(&room(), &photograph.sha256));
        let found = store.read(|read| read.approvals().get(&room(), &approval.id)).unwrap();
        assert_eq!(found, Some(Approval { withdrawn: true, ..approval }));
        assert_eq!(store.read(|read| read.photographs().of_room(&room())).unwrap(), []);
    }

    #[test]
    fn the_text_of_the_tables_tells_any_difference() {
        let text = |store: &Store| store.read(|read| read.tables_as_text()).unwrap();
        let (one, other) = (store(), store());
        assert_eq!(text(&one), text(&other));
        for store in [&one, &other] {
            after(store, |tx| tx.readings().insert(&reading("a")));
        }
        assert_eq!(text(&one), text(&other));
        after(&one, |tx| tx.readings().set_withdrawn(&room(), &"a".into(), true));
        assert_ne!(text(&one), text(&other));
        after(&one, |tx| empty(tx.connection));
        assert_eq!(text(&one), "");
    }
}
