//! Backups: what one holds comes back equal, what is altered is refused, and a kill at any moment loses nothing.

use app::forms::Here;
use app::{App, Clock, Kind};
use serde_json::json;
use site_tests::{demo, files, truefall, write};
use std::fs;
use std::hint;
use std::path::{Path, PathBuf};
use std::process::Stdio;
use tempfile::TempDir;

fn open(folder: &Path) -> App {
    open_at(folder, "2031-04-02T07:31:05-05:00")
}

fn open_at(folder: &Path, now: &str) -> App {
    App::open(folder, Clock::fixed(now, &folder.display().to_string())).expect("the rooms open")
}

/// A folder with two demo rooms, one of them changed since, and a photograph; and the name of the other.
fn furnished() -> (TempDir, App, String) {
    let folder = TempDir::new().expect("a folder");
    let app = open(folder.path());
    let kestrel = demo(&app, "kestrel");
    let banksia = demo(&app, "banksia");
    write(&app, &banksia, "tick-set", json!({"item": "J2 strip", "done": true})).expect("ticked");
    fs::create_dir(folder.path().join("photographs")).expect("a folder");
    // FIPS 180-4, the digest of "abc" (recalled).
    let digest = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
    fs::write(folder.path().join("photographs").join(digest), "abc").expect("a photograph");
    (folder, app, kestrel)
}

fn backup(app: &App, folder: &Path) -> PathBuf {
    PathBuf::from(app.backup(folder).expect("a backup").path)
}

#[test]
fn a_backup_moves_everything_to_another_device() {
    let (folder, here, _) = furnished();
    let away = TempDir::new().expect("a folder");
    let file = backup(&here, away.path());
    assert_eq!(file.file_name().and_then(|name| name.to_str()), Some("truefall-20310402-073105.truefall"));
    assert_eq!(fs::read_dir(away.path()).expect("a folder").count(), 1, "nothing else is left there");
    assert_eq!(here.backup(away.path()).expect_err("the name is taken").kind, Kind::AlreadyThere);

    let home = TempDir::new().expect("a folder");
    let there = open(home.path());
    let look = there.look_at_backup(&file).expect("a look");
    assert_eq!((look.rooms.len(), look.photographs), (2, 1));
    assert!(look.rooms.iter().all(|room| room.here == Here::No) && there.rooms().expect("rooms").rooms.is_empty());
    let restored = there.restore(&file).expect("restored");
    assert_eq!((restored.taken.len(), restored.left.len()), (2, 0));
    assert_eq!(files(&there), files(&here));
    let photographs = |folder: &Path| {
        let files = fs::read_dir(folder.join("photographs")).expect("a folder");
        files.map(|file| fs::read(file.expect("a file").path()).expect("bytes")).collect::<Vec<_>>()
    };
    assert_eq!(photographs(home.path()), photographs(folder.path()));
    let left: Vec<_> = fs::read_dir(home.path()).expect("a folder").flatten().map(|file| file.file_name()).collect();
    assert!(!left.iter().any(|name| name.to_string_lossy().ends_with(".part")), "{left:?}");
    assert_eq!(there.restore(&file).expect("again").left.len(), 2, "the same again changes nothing");
}

#[test]
fn what_is_here_is_never_replaced() {
    let (_folder, here, kestrel) = furnished();
    let away = TempDir::new().expect("a folder");
    let file = backup(&here, away.path());
    let tick = |app: &App, room: &str, item: &str| {
        write(app, room, "tick-set", json!({"item": item, "done": true})).expect("ticked");
    };
    tick(&here, &kestrel, "later");
    let before = files(&here);
    let stands = |app: &App, file: &Path| {
        let rooms = app.look_at_backup(file).expect("a look").rooms;
        rooms.into_iter().find(|room| room.id == kestrel).map(|room| room.here)
    };
    assert_eq!(stands(&here, &file), Some(Here::Ahead));
    assert!(here.restore(&file).expect("nothing to take").taken.is_empty());
    assert_eq!(files(&here), before);
    let later = backup(&here, &away.path().join("later.truefall"));
    let home = TempDir::new().expect("a folder");
    let there = open(home.path());
    there.restore(&file).expect("restored");
    assert_eq!(stands(&there, &later), Some(Here::Behind));
    there.restore(&later).expect("continued");
    assert_eq!(files(&there), files(&here));
    tick(&there, &kestrel, "mine");
    tick(&here, &kestrel, "yours");
    let apart = backup(&here, &away.path().join("apart.truefall"));
    assert_eq!(stands(&there, &apart), Some(Here::Differs));
    let mine = files(&there);
    assert_eq!(there.restore(&apart).expect("left").taken.len(), 0);
    assert_eq!(files(&there), mine);
}

#[test]
fn an_altered_backup_is_refused_and_nothing_is_taken() {
    let (_folder, here, _) = furnished();
    let away = TempDir::new().expect("a folder");
    let file = backup(&here, away.path());
    let whole = fs::read(&file).expect("bytes");
    let home = TempDir::new().expect("a folder");
    let there = open(home.path());
    let check = |what: &str, bytes: &[u8], kinds: &[Kind]| {
        let path = away.path().join("altered");
        fs::write(&path, bytes).expect("written");
        let refusal = there.restore(&path).expect_err(what);
        assert!(
            kinds.contains(&refusal.kind) && refusal.message.ends_with('.'),
            "{what}: {:?} {refusal}",
            refusal.kind
        );
        assert!(there.rooms().expect("rooms").rooms.is_empty(), "{what}");
    };
    for step in 0..60 {
        let mut bytes = whole.clone();
        let at = (whole.len() - 1) * step / 59;
        bytes[at] ^= 0x11;
        let path = away.path().join("altered");
        fs::write(&path, &bytes).expect("written");
        if there.look_at_backup(&path).is_ok() {
            // What is no part of any file inside, such as a date in the ZIP's own list, may change.
            assert_eq!(there.look_at_backup(&path).expect("a look").rooms.len(), 2, "{at}");
        }
    }
    check("cut off", &whole[..whole.len() / 2], &[Kind::NotOurs]);
    check("empty", b"", &[Kind::NotOurs]);
    check("a photograph", b"\xff\xd8\xff\xe0", &[Kind::NotOurs]);
    let rooms = whole.windows(15).position(|part| part == b"SQLite format 3").expect("the rooms");
    let mut bytes = whole.clone();
    bytes[rooms + 5000] ^= 1;
    check("a byte of the rooms", &bytes, &[Kind::Damaged]);
    let list = whole.windows(24).position(|part| part == b"f20015ad  photographs/ba").expect("the list");
    let mut bytes = whole;
    bytes[list] = b'0';
    check("a byte of the list", &bytes, &[Kind::Damaged, Kind::NotOurs]);
}

#[test]
fn a_copy_is_made_each_day_that_something_changed() {
    let folder = TempDir::new().expect("a folder");
    let day = |day: u32| open_at(folder.path(), &format!("2031-04-{day:02}T07:31:05-05:00"));
    let names = || day(1).backups().expect("copies").copies.into_iter().map(|copy| copy.at).collect::<Vec<_>>();
    day(1).look_over();
    assert!(names().is_empty(), "nothing to keep yet");
    let room = demo(&day(1), "kestrel");
    day(1).look_over();
    day(1).look_over();
    day(2).look_over();
    assert_eq!(names(), ["2031-04-01T07:31:05"], "once a day, and only where something changed");
    for n in 2..=12 {
        write(&day(n), &room, "tick-set", json!({"item": format!("day {n}"), "done": true})).expect("ticked");
        day(n).look_over();
    }
    let kept = names();
    assert_eq!((kept.len(), kept[0].as_str(), kept[7].as_str()), (8, "2031-04-12T07:31:05", "2031-04-05T07:31:05"));
    let app = day(12);
    let copies = app.backups().expect("copies");
    let path = Path::new(copies.folder.as_deref().expect("a folder")).join(&copies.copies[7].name);
    let look = app.look_at_backup(&path).expect("a look");
    assert_eq!((look.rooms[0].here, look.rooms[0].entries), (Here::Ahead, 5));
}

#[test]
fn damaged_rooms_are_set_aside_and_restored() {
    let (folder, here, _) = furnished();
    let before = files(&here);
    let away = TempDir::new().expect("a folder");
    let file = backup(&here, away.path());
    drop(here);
    let rooms = folder.path().join("rooms.sqlite");
    let mut bytes = fs::read(&rooms).expect("bytes");
    bytes[4096..20_000].fill(0);
    fs::write(&rooms, &bytes).expect("spoiled");
    let output =
        truefall().args(["restore", file.to_str().expect("a path")]).env("TRUEFALL_HOME", folder.path()).output();
    let output = output.expect("the program ends");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    assert_eq!(files(&open(folder.path())), before);
    let aside = fs::read_dir(folder.path()).expect("a folder").flatten().map(|file| file.path());
    let aside = aside
        .into_iter()
        .find(|path| path.to_string_lossy().contains("rooms.damaged-") && !path.to_string_lossy().contains("sqlite-"));
    assert!(fs::read(aside.expect("set aside")).expect("bytes") == bytes, "as it was found");
}

/// Runs the program and kills it after a while that grows with `turn`.
fn killed(arguments: &[&str], home: &Path, turn: usize) {
    let mut child = truefall()
        .args(arguments)
        .env("TRUEFALL_HOME", home)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("the program starts");
    (0..turn * 500_000).for_each(|_| hint::spin_loop());
    child.kill().expect("killed");
    child.wait().expect("ended");
}

#[test]
fn a_kill_leaves_no_half_backup_and_no_half_record() {
    let (folder, app, kestrel) = furnished();
    drop(app);
    let away = TempDir::new().expect("a folder");
    for turn in 0..8 {
        let (file, pdf) = (away.path().join(format!("{turn}.truefall")), away.path().join(format!("{turn}.pdf")));
        killed(&["backup", file.to_str().expect("a path")], folder.path(), turn);
        killed(&["record", &kestrel, "-o", pdf.to_str().expect("a path")], folder.path(), turn * 6);
        let there = open(TempDir::new().expect("a folder").path());
        assert!(!file.exists() || there.look_at_backup(&file).is_ok_and(|look| look.rooms.len() == 2), "{turn}");
        assert!(!pdf.exists() || app::verify(&fs::read(&pdf).expect("bytes")).is_ok(), "{turn}");
    }
    assert_eq!(open(folder.path()).store().check(), Ok(()));
}

#[test]
fn a_kill_while_restoring_or_importing_leaves_every_room_whole_or_absent() {
    let (_folder, here, kestrel) = furnished();
    let away = TempDir::new().expect("a folder");
    let file = backup(&here, away.path());
    let export = away.path().join("room.json");
    fs::write(&export, here.export_room(&kestrel).expect("a file").text).expect("written");
    let whole = files(&here);
    for turn in 0..8 {
        let home = TempDir::new().expect("a folder");
        killed(&["restore", file.to_str().expect("a path")], home.path(), turn);
        killed(&["room", "import", export.to_str().expect("a path")], home.path(), turn);
        let there = open(home.path());
        assert_eq!(there.store().check(), Ok(()));
        assert!(files(&there).iter().all(|file| whole.contains(file)), "{turn}");
        there.restore(&file).expect("it goes on from there");
        assert_eq!(files(&there), whole);
    }
}
