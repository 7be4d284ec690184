//! The whole program beside a plain model: any changes in any order, refused ones, repeated ones and undone ones, with
//! the program ended and begun anew in between. After each step both say the same.

mod deed;
mod model;

use app::forms::{ImportAsk, PrivateText, RoomFile, Write};
use app::{App, Clock, Kind, Refusal};
use deed::{Deed, deed, room_of};
use model::{Model, Room, Set};
use proptest::prelude::*;
use proptest::sample::Index;
use serde_json::{Value, json};
use std::path::Path;

const AT: &str = "2031-04-02T07:31:05-05:00";
const POINTS: [&str; 3] = ["A", "B", "C"];
const WORDS: [&str; 4] = ["yes", "no", "not looked at", "\u{bd}\u{1f6bf}\"\\"];

/// The program in a folder, and the model beside it.
struct Bench<'f> {
    folder: &'f Path,
    app: App,
    model: Model,
    /// Every change that was taken, to be sent again.
    sent: Vec<Write>,
}

fn open(folder: &Path) -> App {
    App::open(folder, Clock::fixed(AT, "rooms")).expect("rooms")
}

fn opening(sixteenths: u16) -> Value {
    json!({ "text": sixteenths.to_string(), "mm": f64::from(sixteenths), "at": AT })
}

impl Bench<'_> {
    /// Sends a change; where it is taken the model changes, too, and remembers how it is undone.
    fn send(&mut self, room: &str, command: &str, payload: Value, sets: Vec<Set>) -> Result<(), Refusal> {
        self.send_by(None, room, command, payload, sets)
    }

    fn send_by(
        &mut self,
        person: Option<PrivateText>,
        room: &str,
        command: &str,
        payload: Value,
        sets: Vec<Set>,
    ) -> Result<(), Refusal> {
        let (id, room) = (format!("w{}", self.sent.len()), room.to_string());
        let (command, payload) = (command.to_string(), payload.to_string());
        let write = Write { id, room, command, payload, at: Some(AT.into()), person: None, private: Vec::new() };
        let written = match &person {
            Some(person) => self.app.write_for(person, write.clone()),
            None => self.app.write(&write),
        }?;
        assert!(!written.repeat, "a new change is no repeat");
        self.model.room(&write.room).change(sets);
        self.sent.push(Write { person: person.map(|one| one.value), ..write });
        Ok(())
    }

    /// The same for a change that must be taken.
    fn must(&mut self, room: &str, command: &str, payload: Value, sets: Vec<Set>) {
        self.send(room, command, payload, sets).unwrap_or_else(|why| panic!("{command}: {why}"));
    }

    /// The same for a change that must be refused, and changes nothing then.
    fn refused(&mut self, room: &str, command: &str, payload: Value) {
        let refusal = self.send(room, command, payload.clone(), Vec::new()).expect_err(command);
        crate::said::refused(&refusal, payload.to_string().as_bytes());
    }

    fn new_room(&mut self) {
        let room = format!("r{}", self.model.rooms.len());
        self.model.rooms.insert(room.clone(), Room::named("Bath"));
        let created = json!({ "name": "Bath", "units": "in", "created": AT });
        self.must(&room, "room-new", created, vec![]);
        self.model.room(&room).undo.clear();
        let point = |id: &str| json!({ "id": id, "survey": "floor", "x": 10.0, "y": 20.0 });
        let plan = json!({ "outline": [[0, 0], [900, 0], [900, 900]], "base_wall": "door", "side_wall": "left",
            "joists_along": "y", "joists": [], "points": POINTS.map(point),
            "surveys": [{ "id": "floor", "name": "floor", "surface": "floor" }] });
        self.must(&room, "plan-set", json!({ "plan": plan }), vec![Set::Plan(true)]);
    }

    fn step(&mut self, deed: Deed) {
        match deed {
            Deed::New => self.new_room(),
            Deed::Rebuild => self.app.rebuild().expect("the journal is sound"),
            Deed::Restart => {
                // The old one lets go before the new one begins.
                self.app = App::in_memory(Clock::fixed(AT, "between")).expect("memory");
                self.app = open(self.folder);
            }
            Deed::Again(which) if !self.sent.is_empty() => self.again(&which.get(&self.sent).clone()),
            Deed::Changed(which) if !self.sent.is_empty() => {
                let write = which.get(&self.sent).clone();
                let other = Write { payload: format!("{} ", write.payload), person: None, ..write };
                assert_eq!(self.app.write(&other).expect_err("another payload").kind, Kind::IdReused);
            }
            Deed::Again(_) | Deed::Changed(_) => {}
            other => self.in_room(other),
        }
    }

    /// What was sent once does nothing when it is sent again.
    fn again(&self, write: &Write) {
        let again = match &write.person {
            Some(name) => self.app.write_for(&person(name), Write { person: None, ..write.clone() }),
            None => self.app.write(write),
        };
        assert!(again.expect("a repeat").repeat);
    }

    fn in_room(&mut self, deed: Deed) {
        let names: Vec<String> = self.model.rooms.keys().cloned().collect();
        let Some(room) = room_of(&deed).filter(|_| !names.is_empty()).map(|which| which.get(&names).clone()) else {
            return;
        };
        match deed {
            Deed::Rename(_, k) => {
                self.must(
                    &room,
                    "room-rename",
                    json!({ "name": format!("Bath {k}") }),
                    vec![Set::Name(format!("Bath {k}"))],
                );
            }
            Deed::Archive(_, away) => {
                self.must(&room, "room-archive", json!({ "at": away.then_some(AT) }), vec![Set::Away(away)]);
            }
            Deed::Answer(_, k, said) => self.answer(&room, k, said),
            Deed::Rule(_, k, value) => {
                let rule = ["reading-sd", "tilt-sd", "strong"][usize::from(k)];
                // Within the bounds of each of the three.
                let value = value.map(|value| (1.0 + f64::from(value)) / 1100.0);
                let payload = json!({ "rule": rule, "value": value });
                self.must(&room, "rule-set", payload, vec![Set::Rule(rule.into(), value)]);
            }
            Deed::Tick(_, k, done) => {
                let item = format!("item {k}");
                self.must(&room, "tick-set", json!({ "item": item, "done": done }), vec![Set::Tick(item, done)]);
            }
            Deed::Note(_, k, text) => self.note(&room, k, text),
            Deed::Undo(_) => self.undo(&room),
            Deed::Nonsense(_, k) => {
                let nonsense =
                    [("reading-add", json!({})), ("no-such", json!({})), ("room-rename", json!({ "name": " " }))];
                let (command, payload) = nonsense[usize::from(k)].clone();
                self.refused(&room, command, payload);
            }
            Deed::Copy(_) => self.copy(&room),
            Deed::Elsewhere(_, sixteenths) => self.elsewhere(&room, sixteenths),
            other => self.measured(&room, other),
        }
    }

    fn measured(&mut self, room: &str, deed: Deed) {
        let known = self.model.rooms[room].clone();
        match deed {
            Deed::Open(_, k) => {
                let setup = format!("S{k}");
                let payload = json!({ "setup": setup, "survey": "floor", "instrument": "line", "sd_mm": 0.8,
                    "benchmark": { "name": "BM", "height": 0.0 }, "opening": opening(1000) });
                // What a room without a plan takes depends on how it came to have none.
                if !known.plan {
                    return;
                }
                self.must(room, "setup-open", payload, vec![Set::Setup(setup, true)]);
            }
            Deed::Close(_, k, close) => {
                let setup = format!("S{k}");
                let payload = json!({ "setup": setup, "closing": close.then(|| opening(1001)) });
                self.where_known(
                    known.setups.contains_key(&setup),
                    room,
                    "setup-close",
                    payload,
                    vec![Set::Closed(setup, close)],
                );
            }
            Deed::TakeDown(_, k) => {
                let setup = format!("S{k}");
                let payload = json!({ "setup": setup });
                self.where_known(
                    known.setups.contains_key(&setup),
                    room,
                    "setup-withdraw",
                    payload,
                    vec![Set::Setup(setup, false)],
                );
            }
            Deed::TakeBack(_, which, back) if !known.readings.is_empty() => {
                let id = which.get(&known.readings.keys().cloned().collect::<Vec<_>>()).clone();
                let payload = json!({ "readings": [id], "withdrawn": back });
                self.must(room, "readings-withdraw", payload, vec![Set::Withdrawn(id, back)]);
            }
            Deed::Approve(_, k) => {
                let id = format!("a{k}");
                let approval = json!({ "id": id, "joist": "J1", "depth": 3.0, "from": 0.0, "to": 300.0, "by": "P. Eng.",
                    "date": "2031-04-02", "reference": "7" });
                let is_new = !known.approvals.contains_key(&id);
                self.where_known(
                    is_new,
                    room,
                    "approval-add",
                    json!({ "approval": approval }),
                    vec![Set::Approval(id, true)],
                );
            }
            Deed::Disapprove(_, k, back) => {
                let id = format!("a{k}");
                let payload = json!({ "approval": id, "withdrawn": back });
                self.where_known(
                    known.approvals.contains_key(&id),
                    room,
                    "approval-withdraw",
                    payload,
                    vec![Set::Approval(id, !back)],
                );
            }
            Deed::Read { setup, point, sixteenths, corrects, person, .. } => {
                self.read(room, &known, (setup, point, sixteenths), corrects, person);
            }
            _ => {}
        }
    }

    /// Taken where what it names is there, else refused.
    fn where_known(&mut self, known: bool, room: &str, command: &str, payload: Value, sets: Vec<Set>) {
        if known { self.must(room, command, payload, sets) } else { self.refused(room, command, payload) }
    }

    fn read(
        &mut self,
        room: &str,
        known: &Room,
        (setup, point, sixteenths): (u8, u8, u16),
        corrects: Option<Index>,
        by: Option<u8>,
    ) {
        let (id, setup) = (format!("{room}-{}", self.sent.len()), format!("S{setup}"));
        let before = corrects.filter(|_| !known.readings.is_empty());
        let before = before.map(|which| which.get(&known.readings.keys().cloned().collect::<Vec<_>>()).clone());
        let point = before.as_ref().map_or(POINTS[usize::from(point)], |id| {
            POINTS.iter().find(|one| **one == known.readings[id].point).expect("known")
        });
        let inches = f64::from(sixteenths) / 16.0;
        let payload = json!({ "reading": id, "setup": setup, "point": point, "sense": "down", "entered": inches.to_string(),
            "value": inches * 25.4, "sd_mm": 0.8, "source": "typed", "supersedes": before });
        let new = Set::Reading(
            id,
            model::Reading { point: point.to_string(), sixteenths, corrects: before, withdrawn: false },
        );
        if !(known.setups.contains_key(&setup) && known.plan) {
            return self.refused(room, "reading-add", payload);
        }
        let person = by.map(|k| person(&format!("P{k}")));
        self.send_by(person, room, "reading-add", payload, vec![new])
            .unwrap_or_else(|why| panic!("reading-add: {why}"));
    }

    fn answer(&mut self, room: &str, k: u8, said: Option<u8>) {
        let (question, subject) = ("bounce", format!("J{k}"));
        match said.map(|said| WORDS[usize::from(said)].to_string()) {
            Some(said) => {
                let answer = json!({ "question": question, "subject": subject, "answer": said });
                self.must(room, "gate-set", json!({ "answer": answer }), vec![Set::Answer(subject, Some(said))]);
            }
            None => self.must(
                room,
                "gate-clear",
                json!({ "question": question, "subject": subject }),
                vec![Set::Answer(subject, None)],
            ),
        }
    }

    fn note(&mut self, room: &str, k: u8, text: Option<u8>) {
        let id = format!("n{k}");
        match text.map(|text| WORDS[usize::from(text)].to_string()) {
            Some(text) => {
                let entry = json!({ "id": id, "at": AT, "what": { "kind": "note", "text": text } });
                self.must(room, "entry-put", json!({ "entry": entry }), vec![Set::Note(id, Some(text))]);
            }
            None => {
                let known = self.model.rooms[room].notes.contains_key(&id);
                self.where_known(known, room, "entry-remove", json!({ "entry": id }), vec![Set::Note(id, None)]);
            }
        }
    }

    /// Undo takes back the last change that stands, and says so where there is none.
    fn undo(&mut self, room: &str) {
        let undone = self.app.undo(&self.app.new_id(), room);
        assert_eq!(undone.is_ok(), self.model.room(room).undo(), "{undone:?}");
    }

    /// A room that goes out and comes in as a second one says the same, and has no past to undo.
    fn copy(&mut self, room: &str) {
        let (file, copy) = (self.app.export_room(room).expect("a file").text, format!("r{}", self.model.rooms.len()));
        let ask = ImportAsk { id: self.app.new_id(), file, as_room: Some(copy.clone()) };
        self.app.import_room(&ask).expect("a second room");
        let known = self.model.rooms[room].clone();
        self.model.rooms.insert(copy, Room { undo: Vec::new(), away: false, ..known });
    }

    /// A room that goes to another device, is changed there and comes back has what was done there.
    fn elsewhere(&mut self, room: &str, k: u16) {
        let other = site_tests::app();
        let text = self.app.export_room(room).expect("a file").text;
        other.import_bytes("i", text.as_bytes(), None).expect("taken there");
        let item = format!("there {k}");
        let id = self.app.new_id();
        site_tests::write_as(&other, &id, room, "tick-set", json!({ "item": item, "done": true })).expect("done there");
        let back = other.export_room(room).expect("a file").text;
        self.app.import_bytes("j", back.as_bytes(), None).expect("taken back");
        self.model.room(room).change(vec![Set::Tick(item, true)]);
    }

    fn compare(&self) {
        let files: Vec<RoomFile> = site_tests::files(&self.app);
        let here: Vec<_> = files.iter().map(|file| (file.room.id.clone(), model::said(file))).collect();
        let there: Vec<_> = self.model.rooms.iter().map(|(id, room)| (id.clone(), room.said())).collect();
        assert_eq!(here, there);
        for card in self.app.rooms().expect("rooms").rooms {
            assert_eq!(card.archived, self.model.rooms[&card.id].away, "{} is put away", card.id);
        }
    }
}

fn person(name: &str) -> PrivateText {
    PrivateText { salt: format!("{:032x}", name.len()), value: name.to_string() }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: site_tests::long(12, 400), max_shrink_iters: 300, failure_persistence: None,
        ..ProptestConfig::default() })]

    #[test]
    fn the_program_says_what_the_model_says(deeds in prop::collection::vec(deed(), 1..60)) {
        let folder = tempfile::tempdir().expect("a folder");
        let (app, model) = (open(folder.path()), Model::default());
        let mut bench = Bench { folder: folder.path(), app, model, sent: Vec::new() };
        bench.new_room();
        for deed in deeds {
            bench.step(deed);
            bench.compare();
        }
        bench.step(Deed::Restart);
        bench.step(Deed::Rebuild);
        bench.compare();
        for file in site_tests::files(&bench.app) {
            let text = serde_json::to_string(&file).expect("JSON");
            app::verify(text.as_bytes()).expect("every journal holds");
        }
    }
}
