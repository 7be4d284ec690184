//! Phones that lost the link and come back in any order, with anything sent twice: the room is the same.

use app::forms::{CrewRole, PrivateText, RoomFile, Write};
use app::{App, Clock};
use proptest::prelude::*;
use proptest::sample::Index;
use serde_json::json;

/// One thing a phone does while it is away; indices choose among its own readings and the points.
#[derive(Debug, Clone)]
enum Deed {
    Read { point: Index, sixteenths: u16, corrects: Option<Index> },
    TakeBack(Index),
    Tick(Index),
}

fn deed() -> impl Strategy<Value = Deed> {
    let read = (any::<Index>(), 700u16..712, proptest::option::of(any::<Index>()));
    prop_oneof![
        4 => read.prop_map(|(point, sixteenths, corrects)| Deed::Read { point, sixteenths, corrects }),
        1 => any::<Index>().prop_map(Deed::TakeBack),
        1 => any::<Index>().prop_map(Deed::Tick),
    ]
}

const POINTS: [&str; 4] = ["J1@0", "J3@60", "J4@60", "J7@90"];

/// The commands of one phone in their order.
fn queue(phone: usize, deeds: &[Deed]) -> Vec<(&'static str, String)> {
    let mut own: Vec<(String, &str)> = Vec::new();
    let mut commands = Vec::new();
    for (at, deed) in deeds.iter().enumerate() {
        match deed {
            Deed::Read { point, sixteenths, corrects } => {
                let id = format!("p{phone}-{at}");
                let before = corrects.filter(|_| !own.is_empty()).map(|index| index.get(&own).clone());
                let point = before.as_ref().map_or(*point.get(&POINTS), |(_, point)| point);
                let value = f64::from(*sixteenths) / 16.0;
                let mut payload =
                    json!({ "reading": id, "setup": "S1", "point": point, "sense": "down", "sd_mm": 0.8 });
                payload["entered"] = json!(format!("{value}"));
                payload["value"] = json!(value * 25.4);
                payload["source"] = json!("typed");
                payload["supersedes"] = json!(before.map(|(id, _)| id));
                own.push((id, point));
                commands.push(("reading-add", payload.to_string()));
            }
            Deed::TakeBack(index) if !own.is_empty() => {
                let payload = json!({ "readings": [index.get(&own).0], "withdrawn": true });
                commands.push(("readings-withdraw", payload.to_string()));
            }
            Deed::TakeBack(_) => {}
            Deed::Tick(index) => {
                let item = format!("phone {phone} item {}", index.index(3));
                commands.push(("tick-set", json!({ "item": item, "done": true }).to_string()));
            }
        }
    }
    commands
}

/// The room after the queues came in as `order` says: each number takes the next of that phone's queue, and sends it
/// once more than the number beside it.
fn merged(queues: &[Vec<(&'static str, String)>], order: &[(Index, u8)]) -> (RoomFile, u32) {
    let app = App::in_memory(Clock::fixed("2026-03-02T08:15:00Z", "merge")).expect("rooms");
    let demo = app.dispatch("demo", r#"{"name":"kestrel","id":"d1"}"#).expect("the demo room");
    let room =
        serde_json::from_str::<serde_json::Value>(&demo).expect("JSON")["room"].as_str().expect("id").to_string();
    let mut next = vec![0; queues.len()];
    let mut last = 0;
    for (who, again) in order.iter().cycle() {
        let left: Vec<usize> = (0..queues.len()).filter(|phone| next[*phone] < queues[*phone].len()).collect();
        if left.is_empty() {
            break;
        }
        let phone = *who.get(&left);
        let (command, payload) = &queues[phone][next[phone]];
        let id = format!("c{phone}-{}", next[phone]);
        for time in 0..=*again {
            let person = PrivateText { salt: format!("{phone:032x}"), value: format!("phone {phone}") };
            let (command, payload) = ((*command).to_string(), payload.clone());
            let (id, at) = (id.clone(), Some("2026-03-02T09:00:00Z".to_string()));
            let write = Write { id, room: room.clone(), command, payload, at, person: None, private: Vec::new() };
            let written = app.write_for(&person, write).expect("taken");
            assert_eq!(written.repeat, time > 0, "what is sent twice is kept once");
            last = written.seq.max(last);
        }
        next[phone] += 1;
    }
    app.rebuild().expect("the tables are those of the journal");
    let mut file = app.room_state(&room).expect("the room");
    file.readings.sort_by(|a, b| a.id.cmp(&b.id));
    file.done.sort();
    (file, last)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn any_order_of_arrival_gives_the_same_room(
        phones in proptest::collection::vec(proptest::collection::vec(deed(), 0..9), 1..4),
        one in proptest::collection::vec((any::<Index>(), 0u8..3), 1..24),
        other in proptest::collection::vec((any::<Index>(), 0u8..3), 1..24),
    ) {
        let queues: Vec<_> = phones.iter().enumerate().map(|(phone, deeds)| queue(phone, deeds)).collect();
        let ((first, seq), (second, again)) = (merged(&queues, &one), merged(&queues, &other));
        prop_assert_eq!(first, second);
        prop_assert_eq!(seq, again);
        let commands: usize = queues.iter().map(Vec::len).sum();
        prop_assert!(commands == 0 || seq as usize >= commands, "every command has its place in the journal");
    }
}

#[test]
fn the_same_id_with_another_payload_is_refused() {
    let site = site_tests::site::Site::open(host::Limits::default());
    let cookie = site.member("Ana", CrewRole::Write);
    let new = |name: &str| {
        let payload = json!({ "name": name, "units": "in", "created": "2026-03-02T08:15:00Z" }).to_string();
        site.of(&cookie, "write", &json!({ "id": "w1", "room": "r1", "command": "room-new", "payload": payload }))
    };
    assert_eq!(new("Bath").status, 200);
    assert!(new("Bath").body.contains("\"repeat\":true"));
    let other = new("Kitchen");
    assert_eq!((other.status, other.body.contains("id-reused")), (422, true));
}
