//! What must be in the rooms, kept in plain maps.

use app::forms::{EntryKind, RoomFile};
use std::collections::{BTreeMap, BTreeSet};

/// Every room, by its id.
#[derive(Default)]
pub(crate) struct Model {
    pub(crate) rooms: BTreeMap<String, Room>,
}

impl Model {
    pub(crate) fn room(&mut self, id: &str) -> &mut Room {
        self.rooms.get_mut(id).expect("a room of the model")
    }
}

#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Reading {
    pub(crate) point: String,
    pub(crate) sixteenths: u16,
    pub(crate) corrects: Option<String>,
    pub(crate) withdrawn: bool,
}

/// One room.
#[derive(Debug, Clone, Default)]
pub(crate) struct Room {
    pub(crate) name: String,
    pub(crate) away: bool,
    pub(crate) plan: bool,
    /// Whether each stands, and whether it is closed.
    pub(crate) setups: BTreeMap<String, (bool, bool)>,
    pub(crate) readings: BTreeMap<String, Reading>,
    pub(crate) answers: BTreeMap<String, String>,
    /// Whether each counts.
    pub(crate) approvals: BTreeMap<String, bool>,
    pub(crate) rules: BTreeMap<String, f64>,
    pub(crate) ticks: BTreeSet<String>,
    pub(crate) notes: BTreeMap<String, String>,
    /// What would take back each change that stands, the last one last.
    pub(crate) undo: Vec<Vec<Set>>,
}

/// One thing made so.
#[derive(Debug, Clone)]
pub(crate) enum Set {
    Name(String),
    Away(bool),
    Plan(bool),
    Setup(String, bool),
    Closed(String, bool),
    Reading(String, Reading),
    Withdrawn(String, bool),
    Answer(String, Option<String>),
    Approval(String, bool),
    Rule(String, Option<f64>),
    Tick(String, bool),
    Note(String, Option<String>),
}

fn put<T: Clone>(map: &mut BTreeMap<String, T>, key: &str, value: Option<T>) -> Option<T> {
    match value {
        Some(value) => map.insert(key.to_string(), value),
        None => map.remove(key),
    }
}

impl Room {
    pub(crate) fn named(name: &str) -> Self {
        Self { name: name.to_string(), ..Self::default() }
    }

    /// Makes these things so, as one change.
    pub(crate) fn change(&mut self, sets: Vec<Set>) {
        let back = sets.into_iter().map(|set| self.set(set)).collect();
        self.undo.push(back);
    }

    /// Takes the last change back; false where there is none.
    pub(crate) fn undo(&mut self) -> bool {
        let last = self.undo.pop();
        last.clone().into_iter().flatten().for_each(|set| drop(self.set(set)));
        last.is_some()
    }

    /// Makes one thing so and gives what would take it back. What was read or allowed once stays and is marked.
    fn set(&mut self, set: Set) -> Set {
        match set {
            Set::Name(name) => Set::Name(std::mem::replace(&mut self.name, name)),
            Set::Away(away) => Set::Away(std::mem::replace(&mut self.away, away)),
            Set::Plan(there) => Set::Plan(std::mem::replace(&mut self.plan, there)),
            Set::Setup(id, stands) => {
                let setup = self.setups.entry(id.clone()).or_default();
                Set::Setup(id, std::mem::replace(&mut setup.0, stands))
            }
            Set::Closed(id, closed) => {
                let setup = self.setups.entry(id.clone()).or_default();
                Set::Closed(id, std::mem::replace(&mut setup.1, closed))
            }
            Set::Reading(id, reading) => {
                self.readings.insert(id.clone(), reading);
                Set::Withdrawn(id, true)
            }
            Set::Withdrawn(id, withdrawn) => {
                let reading = self.readings.get_mut(&id).expect("a reading of the model");
                Set::Withdrawn(id, std::mem::replace(&mut reading.withdrawn, withdrawn))
            }
            Set::Answer(key, said) => Set::Answer(key.clone(), put(&mut self.answers, &key, said)),
            Set::Approval(id, counts) => {
                let before = self.approvals.insert(id.clone(), counts).unwrap_or(false);
                Set::Approval(id, before)
            }
            Set::Rule(key, value) => Set::Rule(key.clone(), put(&mut self.rules, &key, value)),
            Set::Tick(item, done) => {
                let before = if done { !self.ticks.insert(item.clone()) } else { self.ticks.remove(&item) };
                Set::Tick(item, before)
            }
            Set::Note(key, text) => Set::Note(key.clone(), put(&mut self.notes, &key, text)),
        }
    }

    pub(crate) fn said(&self) -> Said {
        let readings = self.readings.iter().map(|(id, one)| (id.clone(), one.clone())).collect();
        Said {
            name: self.name.clone(),
            points: if self.plan { 3 } else { 0 },
            setups: self.setups.clone(),
            readings,
            answers: self.answers.clone(),
            approvals: self.approvals.clone(),
            rules: self.rules.clone(),
            ticks: self.ticks.clone(),
            notes: self.notes.clone(),
        }
    }
}

/// What is compared.
#[derive(Debug, PartialEq)]
pub(crate) struct Said {
    name: String,
    points: usize,
    setups: BTreeMap<String, (bool, bool)>,
    readings: BTreeMap<String, Reading>,
    answers: BTreeMap<String, String>,
    approvals: BTreeMap<String, bool>,
    rules: BTreeMap<String, f64>,
    ticks: BTreeSet<String>,
    notes: BTreeMap<String, String>,
}

/// What a room of the program says.
pub(crate) fn said(file: &RoomFile) -> Said {
    let reading = |one: &app::forms::Reading| {
        let inches: f64 = one.entered.parse().expect("as it was typed");
        assert!((one.value - inches * 25.4).abs() < 1e-9, "the text and the value belong together");
        let sixteenths = (inches * 16.0).round() as u16;
        let (point, corrects) = (one.point.clone(), one.supersedes.clone());
        (one.id.clone(), Reading { point, sixteenths, corrects, withdrawn: one.withdrawn })
    };
    let note = |one: &app::forms::RecordEntry| match &one.what {
        EntryKind::Note(note) => (one.id.clone(), note.text.clone()),
        other => panic!("nobody put {other:?}"),
    };
    Said {
        name: file.room.name.clone(),
        points: file.plan.points.len(),
        setups: file.setups.iter().map(|one| (one.id.clone(), (!one.withdrawn, one.closing.is_some()))).collect(),
        readings: file.readings.iter().map(reading).collect(),
        answers: file.gate.iter().map(|one| (one.subject.clone(), one.answer.clone())).collect(),
        approvals: file.approvals.iter().map(|one| (one.id.clone(), !one.withdrawn)).collect(),
        rules: file.rules.changed.clone().into_iter().collect(),
        ticks: file.done.iter().cloned().collect(),
        notes: file.entries.iter().map(note).collect(),
    }
}
