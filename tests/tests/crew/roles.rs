//! What those who are in may do.

use app::forms::CrewRole;
use host::Limits;
use serde_json::{Value, json};
use site_tests::site::Site;

fn demo() -> (Site, String) {
    let site = Site::open(Limits::default());
    let room =
        site.home("demo", &json!({ "name": "kestrel", "id": "d1" }))["room"].as_str().expect("a room").to_string();
    (site, room)
}

fn rename(room: &str, id: &str, name: &str) -> Value {
    json!({ "id": id, "room": room, "command": "room-rename", "payload": json!({ "name": name }).to_string() })
}

fn head(site: &Site, room: &str) -> Value {
    site.home("room", &json!({ "room": room }))["head"].clone()
}

#[test]
fn a_reader_leaves_no_trace_whatever_is_asked() {
    let (site, room) = demo();
    let cookie = site.member("Ben", CrewRole::Read);
    let before = head(&site, &room);
    let bodies = [json!({}), json!({ "room": room }), rename(&room, "w1", "Mine now")];
    for name in app::REQUESTS {
        for body in &bodies {
            let told = site.of(&cookie, name, body);
            assert!(told.status < 500, "{name}: {told:?}");
        }
    }
    assert_eq!(head(&site, &room), before);
    assert!(site.view().open.is_some(), "nor did it close the door");
    assert_eq!(site.of(&cookie, "write", &bodies[2]).status, 403);
}

#[test]
fn a_writer_writes_under_its_own_name_and_takes_back_its_own_alone() {
    let (site, room) = demo();
    let (ana, ben) = (site.member("Ana", CrewRole::Write), site.member("Ben", CrewRole::Write));
    let mut forged = rename(&room, "w1", "Hall bath");
    forged["person"] = json!("Ben");
    assert_eq!(site.of(&ana, "write", &forged).status, 200);
    let entry = &site.home("history", &json!({ "room": room }))["entries"];
    assert_eq!(entry.as_array().expect("entries").last().expect("one")["person"], "Ana");
    assert_eq!(site.of(&ben, "undo", &json!({ "id": "u1", "room": room })).status, 403, "it was Ana's");
    assert_eq!(site.of(&ana, "undo", &json!({ "id": "u2", "room": room })).status, 200);
    for command in ["room-import", "room-archive"] {
        let write = json!({ "id": command, "room": room, "command": command, "payload": "{}" });
        assert_eq!(site.of(&ana, "write", &write).status, 403, "{command}");
    }
    for name in ["backup-make", "backups", "everything", "room-export", "demo", "crew-open", "crew-draw", "devices"] {
        assert_eq!(site.of(&ana, name, &json!({ "room": room })).status, 403, "{name}");
    }
}

#[test]
fn a_role_holds_from_the_next_request_on() {
    let (site, room) = demo();
    let cookie = site.member("Cai", CrewRole::Read);
    let id = site.view().members.last().expect("Cai").id.clone();
    let tries = [(None, 403), (Some("write"), 200), (Some("read"), 403)];
    for (at, (role, status)) in tries.into_iter().enumerate() {
        if let Some(role) = role {
            site.home("crew-change", &json!({ "member": id, "role": role }));
        }
        assert_eq!(site.of(&cookie, "write", &rename(&room, &format!("w{at}"), "Bath")).status, status);
    }
    let refused = site.app.dispatch("crew-change", &json!({ "member": id, "role": "home" }).to_string());
    assert!(refused.is_err(), "no phone becomes the home device");
}

#[test]
fn a_member_learns_nothing_that_lets_others_in() {
    let (site, _) = demo();
    let cookie = site.member("Ana", CrewRole::Write);
    let code = site.code(CrewRole::Write);
    let told = site.of(&cookie, "crew", &json!({})).body;
    assert!(told.contains("Ana") && !told.contains(&code) && !told.contains(&site.at), "{told}");
}

#[test]
fn the_name_in_the_journal_is_private_and_a_blacked_out_room_still_verifies() {
    let (site, room) = demo();
    let ana = site.member("Ana Example", CrewRole::Write);
    let given = json!({ "setup": "S1", "point": "J3@60", "sense": "down", "entered": "44-1/4", "value": 1123.95 });
    let mut reading = given;
    for (field, value) in [("reading", json!("n1")), ("sd_mm", json!(0.8)), ("source", json!("typed"))] {
        reading[field] = value;
    }
    let write = json!({ "id": "w1", "room": room, "command": "reading-add", "payload": reading.to_string() });
    let told = site.of(&ana, "write", &write);
    assert_eq!(told.status, 200, "{told:?}");
    let file =
        |black_out: bool| site.home("room-export", &json!({ "room": room, "black_out": black_out }))["text"].clone();
    assert!(file(false).as_str().expect("text").contains("Ana Example"));
    let blacked = file(true);
    assert!(!blacked.as_str().expect("text").contains("Ana Example"));
    let other = Site::open(Limits::default());
    let brought = other.home("room-import", &json!({ "id": "i1", "file": blacked }));
    assert!(brought["readings"].as_u64().is_some_and(|count| count > 28));
}
