//! Backups, and the bare databases that the automatic ones are.

use crate::room_file::journaled;
use crate::said::{Heard, refused};
use crate::trial;
use app::{App, Clock, Refusal};
use std::path::Path;

fn open(folder: &Path) -> App {
    App::open(folder, Clock::fixed("2031-04-02T07:31:05-05:00", "backup")).expect("rooms")
}

#[test]
fn backups() {
    let folder = tempfile::tempdir().expect("a folder");
    let (there, here) = (folder.path().join("there"), folder.path().join("here"));
    let app = open(&there);
    app.import_bytes("i", &journaled(), None).expect("the room");
    let made = folder.path().join("made.truefall");
    app.backup(&made).expect("a backup");
    drop(app);
    let seeds = [&made, &there.join("rooms.sqlite")].map(|path| std::fs::read(path).expect("it is there"));
    let app = open(&here);
    site_tests::demo(&app, "rowan");
    let check = move |bytes: &[u8]| {
        let before = site_tests::files(&app);
        let path = folder.path().join("tried");
        std::fs::write(&path, bytes).expect("a file");
        let heard = match app.look_at_backup(&path) {
            Ok(look) => {
                let taken = taken(&path);
                taken.map_or_else(
                    |refusal| refused(&refusal, bytes),
                    |rooms| Heard::Read(format!("{rooms} {}", look.rooms.len())),
                )
            }
            Err(refusal) => {
                assert_eq!(app.restore(&path).map(drop), Err(refusal.clone()), "looking and taking agree");
                refused(&refusal, bytes)
            }
        };
        assert_eq!(site_tests::files(&app), before, "what is here stays");
        heard
    };
    trial::run("backup", 128, seeds.to_vec(), Box::new(check));
}

/// How many rooms a device that has none takes from a backup; each proves itself there. A byte that only the journal
/// tells to be wrong is noticed when it is followed, and no such room is kept.
fn taken(path: &Path) -> Result<usize, Refusal> {
    let folder = tempfile::tempdir().expect("a folder");
    let app = open(folder.path());
    let restored = app.restore(path);
    for room in app.rooms().expect("rooms").rooms {
        let text = app.export_room(&room.id).expect("a file").text;
        app::verify(text.as_bytes()).expect("its journal holds");
    }
    app.store().check().expect("the file of rooms is whole");
    restored.map(|all| all.taken.len() + all.left.len())
}
