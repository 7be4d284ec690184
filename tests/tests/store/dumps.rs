//! Every released form of the tables opens, comes up to date and reads back equal.

use crate::commands::{apply, tables};
use std::fs;
use std::path::{Path, PathBuf};
use store::{Chain, RoomId, Store, VERSION};
use tempfile::TempDir;

/// Every dump there is, oldest first.
fn dumps() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../fixtures/databases");
    let mut dumps: Vec<_> = fs::read_dir(folder).unwrap().map(|file| file.unwrap().path()).collect();
    dumps.sort();
    dumps
}

/// A file as an older Truefall left it.
fn restored(dump: &Path, folder: &TempDir) -> PathBuf {
    let path = folder.path().join("rooms.sqlite");
    let file = rusqlite::Connection::open(&path).unwrap();
    file.execute_batch(&fs::read_to_string(dump).unwrap()).unwrap();
    path
}

#[test]
fn every_released_form_has_a_dump() {
    let names: Vec<_> = dumps().iter().map(|path| path.file_name().unwrap().to_string_lossy().into_owned()).collect();
    let want: Vec<_> = (1..=VERSION).map(|version| format!("{version:04}.sql")).collect();
    assert_eq!(names, want);
}

#[test]
fn every_older_file_opens_and_its_replay_is_equal() {
    for dump in dumps() {
        let folder = TempDir::new().unwrap();
        let store = Store::open(restored(&dump, &folder)).unwrap();
        assert_eq!(store.check(), Ok(()), "{}", dump.display());
        let before = tables(&store);
        assert_ne!(before, "");
        store.rebuild(apply).unwrap();
        assert_eq!(tables(&store), before, "{}", dump.display());
    }
}

/// The figures were noted when the dump was made.
#[test]
fn the_first_form_reads_back_as_it_was_written() {
    let folder = TempDir::new().unwrap();
    let store = Store::open(restored(&dumps()[0], &folder)).unwrap();
    let room = RoomId::from("kestrel");
    let Ok(Chain::Fits(head)) = store.read(|read| read.verify(Some(&room))) else { panic!("the chain is broken") };
    assert_eq!(
        (head.seq, head.hash.to_string().as_str()),
        (38, "b8f8efae565a2090e2318d10c2f50629c490a023bbeedbaeba0acb8b412224bc")
    );
    let all = store.read(|read| read.readings().of_room(&room)).unwrap();
    let current = store.read(|read| read.readings().current_of_room(&room)).unwrap();
    assert_eq!((all.len(), current.len()), (29, 27));
    let corrected = all.iter().find(|reading| reading.supersedes.is_some()).unwrap();
    assert_eq!((corrected.point.as_str(), corrected.entered.as_str()), ("J1@90", "1120.5 mm"));
    assert_eq!(store.read(|read| read.undone(Some(&room))).unwrap(), ["r5".into()].into());
    let private = store::private_digest(b"sixteen of these", "12 Kestrel Lane");
    assert_eq!(store.read(|read| read.reveal(&private)).unwrap().as_deref(), Some("12 Kestrel Lane"));
}
