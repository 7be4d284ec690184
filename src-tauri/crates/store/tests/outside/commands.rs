//! A few commands and the one function that applies them, as an application over the store would have.

use serde_json::{Value, json};
use store::{
    Answer, Appended, Approval, Document, Entry, EntryId, Measured, Photograph, Reading, ReadingId, Recorded, Room,
    RoomId, Setup, SetupId, Sighting, Store, StoreError, Tick, Tx, Units,
};
use survey::units::Length;

pub(crate) const AT: &str = "2031-04-02T07:31:05-05:00";

/// Keeps an entry and applies it, in one transaction; a repeat is not applied.
pub(crate) fn write(store: &Store, entry: &Entry) -> Result<Appended, StoreError> {
    store.write(|tx| {
        let appended = tx.append(entry)?;
        if !appended.repeat {
            apply(tx, &Recorded { seq: appended.seq, entry: entry.clone(), hash: appended.hash })?;
        }
        Ok(appended)
    })
}

/// Takes over an entry as it stands and applies it, in one transaction.
pub(crate) fn take_over(store: &Store, recorded: &Recorded) -> Result<(), StoreError> {
    store.write(|tx| if tx.append_as_is(recorded)?.repeat { Ok(()) } else { apply(tx, recorded) })
}

pub(crate) fn entry(id: &str, room: &RoomId, command: &str, payload: &Value) -> Entry {
    Entry::new(id, AT, "phone", command, payload.to_string()).in_room(room)
}

pub(crate) fn room_new(id: &str, room: &RoomId) -> Entry {
    entry(id, room, "room-new", &json!({"name": "Hall bath", "units": "in", "created": AT}))
}

pub(crate) fn setup_open(id: &str, room: &RoomId, setup: &str) -> Entry {
    let opening = json!({"text": "44-1/4", "mm": 1123.95, "at": AT});
    let payload = json!({"setup": setup, "survey": "joists", "instrument": "line", "opening": opening});
    entry(id, room, "setup-open", &payload)
}

pub(crate) fn reading_add(
    id: &str,
    room: &RoomId,
    setup: &str,
    point: &str,
    mm: f64,
    supersedes: Option<&str>,
) -> Entry {
    let payload = json!({"reading": id, "setup": setup, "point": point, "sense": "down", "entered": format!("{mm} mm"),
        "value": mm, "source": "typed", "supersedes": supersedes});
    entry(id, room, "reading-add", &payload)
}

pub(crate) fn apply(tx: &Tx<'_>, recorded: &Recorded) -> Result<(), StoreError> {
    let Entry { command, payload, room, at, .. } = &recorded.entry;
    let given = Given(serde_json::from_slice(payload).map_err(|error| refused(&error.to_string()))?);
    let room = room.clone().ok_or_else(|| refused("no room"))?;
    match command.as_str() {
        "room-new" => tx.rooms().insert(&Room::new(room, &given.text("name"), Units::Inches, &given.text("created"))),
        "room-archive" => {
            let found = tx.rooms().get(&room)?.ok_or_else(|| refused("no such room"))?;
            tx.rooms().update(&Room { archived_at: given.any_text("at"), ..found })
        }
        "plan-set" if given.0["plan"].is_null() => tx.documents().remove(Some(&room), "plan"),
        "plan-set" => {
            let body = given.0["plan"].to_string();
            tx.documents().put(&Document { room: Some(room), name: "plan".into(), body })
        }
        "setup-open" => tx.setups().insert(&setup(room, &given, at)),
        "setup-close" => tx.setups().close(&room, &given.text("setup").into(), at, given.sighting("closing").as_ref()),
        "reading-add" => tx.readings().insert(&reading(room, &given, at)),
        "readings-withdraw" => given.list("readings").iter().try_for_each(|id| {
            tx.readings().set_withdrawn(&room, &ReadingId::from(id.as_str()), given.flag("withdrawn"))
        }),
        "gate-set" => tx.answers().put(&answer(room, &given, at)),
        "gate-clear" => tx.answers().remove(&room, &given.text("question"), &given.text("subject")),
        "approval-add" => tx.approvals().insert(&approval(room, &given)),
        "approval-withdraw" => {
            tx.approvals().set_withdrawn(&room, &given.text("approval").into(), given.flag("withdrawn"))
        }
        "tick-set" => tx.ticks().put(&Tick { room, item: given.text("item"), done: given.flag("done") }),
        "photograph-add" => tx.photographs().insert(&Photograph {
            room,
            sha256: given.text("sha256"),
            name: "J6.jpg".into(),
            taken_at: None,
            note: given.any_text("note"),
        }),
        "photograph-remove" => tx.photographs().remove(&room, &given.text("sha256")),
        _ => Err(refused("no such command")),
    }
}

fn refused(why: &str) -> StoreError {
    StoreError::Refused { why: why.into() }
}

/// The payload of a command.
struct Given(Value);

impl Given {
    fn any_text(&self, field: &str) -> Option<String> {
        self.0[field].as_str().map(str::to_owned)
    }

    fn text(&self, field: &str) -> String {
        self.any_text(field).unwrap_or_default()
    }

    fn flag(&self, field: &str) -> bool {
        self.0[field].as_bool().unwrap_or_default()
    }

    fn length(&self, field: &str) -> Length {
        Length::mm(self.0[field].as_f64().unwrap_or_default())
    }

    fn list(&self, field: &str) -> Vec<String> {
        self.0[field].as_array().into_iter().flatten().filter_map(Value::as_str).map(str::to_owned).collect()
    }

    fn sighting(&self, field: &str) -> Option<Sighting> {
        let sighted = Given(self.0[field].clone());
        sighted.any_text("text").map(|entered| Sighting { entered, value: sighted.length("mm") })
    }
}

fn setup(room: RoomId, given: &Given, at: &str) -> Setup {
    Setup {
        room,
        id: given.text("setup").into(),
        survey: given.text("survey"),
        instrument: given.text("instrument"),
        method: "tape".into(),
        sd: None,
        benchmark: None,
        benchmark_height: None,
        opened_at: at.into(),
        opening: given.sighting("opening"),
        closed_at: None,
        closing: None,
        withdrawn: false,
    }
}

fn reading(room: RoomId, given: &Given, at: &str) -> Reading {
    Reading {
        room,
        id: given.text("reading").into(),
        setup: given.any_text("setup").map(SetupId::from),
        point: given.text("point"),
        measured: Measured::Down(given.length("value")),
        entered: given.text("entered"),
        edge: None,
        source: given.text("source"),
        raw: None,
        profile: None,
        at: at.into(),
        by: None,
        sd: None,
        note: given.any_text("note"),
        supersedes: given.any_text("supersedes").map(ReadingId::from),
        withdrawn: false,
    }
}

fn answer(room: RoomId, given: &Given, at: &str) -> Answer {
    Answer {
        room,
        question: given.text("question"),
        subject: given.text("subject"),
        answer: given.text("answer"),
        note: given.any_text("note"),
        at: at.into(),
        by: None,
    }
}

fn approval(room: RoomId, given: &Given) -> Approval {
    Approval {
        room,
        id: given.text("approval").into(),
        joist: given.text("joist"),
        depth: given.length("depth"),
        from: given.length("from"),
        to: given.length("to"),
        by: given.text("by"),
        date: given.text("date"),
        reference: given.text("reference"),
        withdrawn: false,
    }
}

/// The ids of the readings of a room, in order.
pub(crate) fn reading_ids(store: &Store, room: &RoomId) -> Vec<String> {
    let readings = store.read(|read| read.readings().of_room(room)).unwrap();
    readings.iter().map(|reading| reading.id.to_string()).collect()
}

/// The ids of the entries of a room, in order.
pub(crate) fn entry_ids(store: &Store, room: &RoomId) -> Vec<EntryId> {
    let history = store.read(|read| read.history(Some(room))).unwrap();
    history.into_iter().map(|recorded| recorded.entry.id).collect()
}

/// The tables as they stand.
pub(crate) fn tables(store: &Store) -> String {
    store.read(|read| read.tables_as_text()).unwrap()
}

/// A room with a plan, joist readings, corrections, a withdrawn one, an approval, answers, ticks and a photograph,
/// and a private text.
pub(crate) fn furnish(store: &Store, room: &RoomId) {
    let plan = json!({"plan": {"outline": [[0, 0], [1524, 0], [1524, 2286], [0, 2286]], "base_wall": "door wall"}});
    let mut entries = vec![room_new("e-room", room), entry("e-plan", room, "plan-set", &plan)];
    entries.push(setup_open("e-setup", room, "s1"));
    for number in 0..28 {
        let point = format!("J{}@{}", number / 4 + 1, 30 * (number % 4));
        let mm = 1120.5 + 1.5 * f64::from(number % 5);
        entries.push(reading_add(&format!("r{number}"), room, "s1", &point, mm, None));
    }
    entries.push(reading_add("r28", room, "s1", "J1@90", 1120.5, Some("r3")));
    let withdraw = |withdrawn: bool| json!({"readings": ["r5"], "withdrawn": withdrawn});
    let undoing = entry("e-undo", room, "readings-withdraw", &withdraw(true));
    let undoing = undoing.with_inverse("readings-withdraw", withdraw(false).to_string());
    entries.push(Entry { undoes: Some("r5".into()), ..undoing });
    let closing = json!({"setup": "s1", "closing": {"text": "44-5/16", "mm": 1125.5375, "at": AT}});
    entries.push(entry("e-close", room, "setup-close", &closing));
    let notch = json!({"question": "notch", "subject": "J6", "answer": "not-looked-at", "note": null});
    entries.push(entry("e-gate", room, "gate-set", &notch));
    let approval = json!({"approval": "a1", "joist": "J4", "depth": 3.175, "from": 762, "to": 1829,
        "by": "the engineer", "date": "2031-04-03", "reference": "letter 7"});
    entries.push(entry("e-approval", room, "approval-add", &approval));
    entries.push(entry("e-tick", room, "tick-set", &json!({"item": "J2 strip", "done": true})));
    entries.push(entry("e-photo", room, "photograph-add", &json!({"sha256": "0f".repeat(32), "note": "under J6"})));
    for entry in &entries {
        write(store, entry).unwrap();
    }
    store.write(|tx| tx.keep_private(b"sixteen of these", "12 Kestrel Lane")).unwrap();
}
