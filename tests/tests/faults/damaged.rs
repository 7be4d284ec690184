//! Damaged rooms: kept aside, made anew from the last whole copy and from what the damaged file still says.

use crate::{NOW, files, furnished, open, open_at, refusal, truefall};
use app::forms::RoomFile;
use app::{App, Clock, Kind};
use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;
use serde_json::json;
use site_tests::write;
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

const PAGE: usize = 4096;

/// Ticks `count` things of a room, each an entry.
fn tick(app: &App, room: &str, day: &str, count: u32) {
    for n in 0..count {
        write(app, room, "tick-set", json!({"item": format!("{day} {n}"), "done": true})).expect("ticked");
    }
}

fn rooms(home: &Path) -> PathBuf {
    home.join("rooms.sqlite")
}

/// Two rooms with a copy of yesterday and 40 entries of today: what is there, and what the copy holds.
fn two_days() -> (TempDir, Vec<RoomFile>, Vec<RoomFile>) {
    let (home, app, kestrel) = furnished();
    app.look_over();
    let yesterday = files(&app);
    drop(app);
    let today = open_at(home.path(), "2031-04-03T07:31:05-05:00");
    tick(&today, &kestrel, "today", 40);
    let now = files(&today);
    drop(today);
    (home, now, yesterday)
}

fn recover(home: &Path) -> Result<app::forms::Recovered, app::Refusal> {
    App::recover(home, Clock::fixed(NOW, "recovered"))
}

fn journal(files: &[RoomFile]) -> usize {
    files.iter().map(|file| file.journal.as_ref().map_or(0, Vec::len)).sum()
}

/// Whether each room of `part` is here in `whole`, entry by entry from the first.
fn begins(whole: &[RoomFile], part: &[RoomFile]) -> bool {
    part.iter().all(|part| {
        let ours = whole.iter().find(|file| file.room.id == part.room.id).and_then(|file| file.journal.as_ref());
        ours.is_some_and(|ours| ours.starts_with(part.journal.as_deref().unwrap_or_default()))
    })
}

#[test]
fn the_program_says_what_to_do_and_does_it() {
    let (home, now, _) = two_days();
    let whole = fs::read(rooms(home.path())).expect("the rooms");
    assert_eq!(refusal(&truefall(home.path(), &["recover"]).output().expect("it runs")).0, "not-ready");
    let mut bytes = whole.clone();
    let table = bytes.windows(9).position(|part| part == b"fitted-in").unwrap_or(PAGE);
    bytes[table / PAGE * PAGE] ^= 0xff;
    fs::write(rooms(home.path()), &bytes).expect("spoiled");
    let (kind, sentence) = refusal(&truefall(home.path(), &["room", "list"]).output().expect("it runs"));
    assert!(kind == "damaged" && sentence.contains("truefall recover"), "{kind}: {sentence}");
    assert!(fs::read(rooms(home.path())).expect("the rooms") == bytes, "left as it is");
    let done = truefall(home.path(), &["recover"]).output().expect("it runs");
    let said = String::from_utf8_lossy(&done.stdout);
    assert!(done.status.success() && said.starts_with("2 rooms are here again.\n"), "{said}");
    let (_, aside) = said.trim_end().rsplit_once("kept as ").expect("where it is kept");
    assert!(fs::read(aside.trim_end_matches('.')).expect("kept aside") == bytes, "as it was found");
    assert!(begins(&now, &files(&open(home.path()))));
}

#[test]
fn whatever_page_is_damaged_the_copy_is_back_and_what_is_readable_beyond_it() {
    let (home, now, yesterday) = two_days();
    let whole = fs::read(rooms(home.path())).expect("the rooms");
    let mut seeded = ChaCha8Rng::seed_from_u64(7);
    let (mut recovered, mut all_back) = (0, 0);
    for turn in 0..site_tests::long(24, 400) {
        let mut bytes = whole.clone();
        let at = seeded.next_u64() as usize % bytes.len();
        let end = if turn % 2 == 0 { at + 1 } else { bytes.len().min(at + PAGE) };
        bytes[at..end].iter_mut().for_each(|byte| *byte = !*byte);
        fs::write(rooms(home.path()), &bytes).expect("spoiled");
        match recover(home.path()) {
            // Free space, or a row of a table that the journal makes anew.
            Err(refusal) => assert_eq!(refusal.kind, Kind::NotReady, "{at}: {refusal}"),
            Ok(done) => {
                assert!(fs::read(&done.aside).expect("kept aside") == bytes, "{at}: as it was found");
                let app = open(home.path());
                assert_eq!(app.store().check(), Ok(()), "{at}");
                let back = files(&app);
                assert!(begins(&back, &yesterday) && begins(&now, &back), "{at}: {done:?}");
                assert_eq!(journal(&back) - journal(&yesterday), done.later as usize, "{at}");
                recovered += 1;
                all_back += u32::from(back == now);
            }
        }
    }
    println!("{recovered} files recovered, {all_back} of them with every entry");
    assert!(all_back > 0 && recovered > all_back / 2);
}

#[test]
fn a_damaged_copy_is_passed_over_and_no_copy_is_no_end() {
    let (home, now, yesterday) = two_days();
    open_at(home.path(), "2031-04-03T07:31:05-05:00").look_over();
    let copies: Vec<_> = fs::read_dir(home.path().join("backups")).expect("copies").flatten().collect();
    assert_eq!(copies.len(), 2);
    let latest = copies.iter().map(fs::DirEntry::path).max().expect("a copy");
    fs::write(&latest, b"J1 44-1/8\n".repeat(800)).expect("spoiled");
    fs::write(rooms(home.path()), b"J1 44-1/8\n".repeat(800)).expect("spoiled");
    let done = recover(home.path()).expect("recovered");
    assert!(done.copy.as_ref().is_some_and(|name| !latest.ends_with(name)), "the older one");
    assert!(files(&open(home.path())) == yesterday && begins(&now, &yesterday));
    fs::remove_dir_all(home.path().join("backups")).expect("no copies");
    fs::write(rooms(home.path()), b"J1 44-1/8\n".repeat(800)).expect("spoiled");
    let again = recover(home.path()).expect("recovered");
    assert_eq!((&again.copy, again.rooms, again.later), (&None, 0, 0));
    assert!(
        again.aside != done.aside && [&again, &done].iter().all(|kept| Path::new(&kept.aside).exists()),
        "no kept file is overwritten"
    );
}

#[test]
fn without_a_copy_the_damaged_file_itself_is_read() {
    let (home, app, _) = furnished();
    let before = files(&app);
    drop(app);
    let mut bytes = fs::read(rooms(home.path())).expect("the rooms");
    // A page of some other table than the journal: the journal makes it anew.
    let file = rusqlite::Connection::open(rooms(home.path())).expect("the rooms");
    let page: u32 = file
        .query_row("SELECT rootpage FROM sqlite_schema WHERE name = 'readings'", [], |row| row.get(0))
        .expect("a table");
    drop(file);
    let page = page as usize;
    bytes[(page - 1) * PAGE..page * PAGE].fill(0xff);
    fs::write(rooms(home.path()), &bytes).expect("spoiled");
    let done = recover(home.path()).expect("recovered");
    assert_eq!((done.copy, done.left, done.later as usize), (None, 0, journal(&before)));
    assert!(files(&open(home.path())) == before, "every reading is back");
}
