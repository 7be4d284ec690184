//! A full disk, a folder that may not be written, a folder that goes away.

use crate::{files, furnished, open, refusal, truefall};
use std::fs;
use std::path::Path;
use std::process::{Command, Output};
use tempfile::TempDir;

/// Runs `script` with a disk of 3 MiB mounted on `$1`, in a name space of its own.
fn on_a_small_disk(script: &str, mount: &Path, home: &Path) -> Option<Output> {
    let unshare = |script: &str| {
        let mut command = Command::new("unshare");
        command.args(["--user", "--map-root-user", "--mount", "sh", "-euc", script, "sh"]).arg(mount).arg(home);
        command.arg(site_tests::truefall().get_program()).env("TRUEFALL_HOME", mount).output().ok()
    };
    let mounted = "mount -t tmpfs -o size=3m none \"$1\"";
    unshare(mounted).filter(|tried| tried.status.success())?;
    unshare(&format!("{mounted}\ncp -r \"$2\"/. \"$1\"\n{script}"))
}

/// Runs `script` where no file may grow beyond 512 KiB: a stand-in where nothing may be mounted.
fn with_small_files(script: &str, mount: &Path, home: &Path) -> Output {
    let script = format!("cp -r \"$2\"/. \"$1\"\ntrap '' XFSZ\nulimit -f 1024\n{script}");
    let mut command = Command::new("sh");
    command.args(["-euc", &script, "sh"]).arg(mount).arg(home).arg(site_tests::truefall().get_program());
    command.env("TRUEFALL_HOME", mount).output().expect("a shell")
}

#[test]
fn a_full_disk_refuses_the_next_change_and_keeps_what_was_there() {
    let (home, app, kestrel) = furnished();
    let before = app.export_room(&kestrel).expect("a room file").text;
    drop(app);
    let list = home.path().join("readings.csv");
    let setup = files(&open(home.path())).into_iter().find(|file| file.room.id == kestrel).expect("the room").setups;
    let row = |n: u32| format!("P{n},{n},{n},down,44,{},,,,{}\n", setup[0].id, "so wet that it ran ".repeat(20));
    let head = "point,x_mm,y_mm,sense,reading_in,setup,time,by,sd_mm,note\n".to_owned();
    fs::write(&list, head + &(0..4000).map(row).collect::<String>()).expect("a list");
    // The import is refused; then the room is written out as it stands, and the backup has no room either.
    let script = format!(
        "\"$3\" readings import \"$2/readings.csv\" --room '{kestrel}' 2>&1 || echo \"status $?\"
         \"$3\" room export '{kestrel}'"
    );
    let mount = TempDir::new().expect("a folder");
    let (output, kinds) = match on_a_small_disk(&script, mount.path(), home.path()) {
        Some(output) => (output, ["full"].as_slice()),
        None => (with_small_files(&script, mount.path(), home.path()), ["full", "io"].as_slice()),
    };
    let said = String::from_utf8_lossy(&output.stdout);
    let (first, rest) = said.split_once('\n').expect("a refusal");
    let refused: serde_json::Value = serde_json::from_str(first).unwrap_or_else(|_| panic!("{first}"));
    assert!(kinds.iter().any(|kind| refused["error"]["kind"] == *kind), "{first}");
    let room = rest.strip_prefix("status 2\n").unwrap_or_else(|| panic!("refused by its status: {rest:.200}"));
    assert!(room == before, "the room is as it was, and can be taken out");
}

#[test]
fn a_folder_that_goes_away_acknowledges_nothing_it_does_not_keep() {
    let (home, app, kestrel) = furnished();
    let folder = home.path().join("gone");
    let backup = app.backup(home.path()).expect("a backup");
    let there = open(&folder);
    there.restore(Path::new(&backup.path)).expect("rooms");
    fs::remove_dir_all(&folder).expect("removed");
    let payload = serde_json::json!({"item": "J2 strip", "done": true});
    let tried = site_tests::write(&there, &kestrel, "tick-set", payload);
    let refusal = tried.expect_err("nothing is there to keep it in");
    assert!(refusal.message.ends_with('.'), "{refusal}");
    assert!(there.look_at_backup(Path::new(&backup.path)).is_err() || !folder.join("rooms.sqlite").exists());
}

#[test]
fn a_folder_that_cannot_be_made_is_named() {
    let home = TempDir::new().expect("a folder");
    fs::write(home.path().join("file"), "a file where a folder should be").expect("written");
    for verb in [["room", "list"].as_slice(), &["recover"], &["backup"]] {
        let (kind, sentence) = refusal(&truefall(&home.path().join("file"), verb).output().expect("it runs"));
        assert!(["io", "not-ready"].contains(&kind.as_str()), "{verb:?} {kind}: {sentence}");
    }
}

/// A folder that may only be read; where nothing may be mounted, one of the kernel's own, in which nobody writes.
#[test]
fn a_folder_that_may_only_be_read_is_named_and_left_as_it_is() {
    let (home, app, kestrel) = furnished();
    drop(app);
    let script = format!(
        "mount -o remount,ro \"$1\"
         for verb in 'room list' 'findings {kestrel}' 'room export {kestrel}' recover \"backup $1\"; do
             \"$3\" $verb 2>&1 || echo \"status $?\"
         done
         cmp \"$1/rooms.sqlite\" \"$2/rooms.sqlite\" && echo the same"
    );
    let mount = TempDir::new().expect("a folder");
    let Some(output) = on_a_small_disk(&script, mount.path(), home.path()) else {
        let (kind, sentence) = refusal(&truefall(Path::new("/sys"), &["room", "list"]).output().expect("it runs"));
        assert!(["io", "read-only"].contains(&kind.as_str()) && sentence.ends_with('.'), "{kind}: {sentence}");
        return;
    };
    let said = String::from_utf8_lossy(&output.stdout);
    let lines: Vec<&str> = said.lines().collect();
    assert_eq!((lines.len(), lines.last()), (11, Some(&"the same")), "{said}");
    for answer in lines[..10].chunks(2) {
        let refused: serde_json::Value = serde_json::from_str(answer[0]).unwrap_or_else(|_| panic!("{said}"));
        assert_eq!((refused["error"]["kind"].as_str(), answer[1]), (Some("read-only"), "status 2"), "{said}");
    }
}
