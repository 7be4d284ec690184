//! Files and folders that may not be written, as someone without the rights to override that.
#![cfg(unix)]

use crate::commands::furnish;
use std::env;
use std::fs::{self, Permissions};
use std::os::unix::fs::{MetadataExt, PermissionsExt};
use std::os::unix::process::CommandExt;
use std::path::Path;
use std::process::Command;
use std::time::Duration;
use store::{RoomId, Store};
use tempfile::TempDir;

const PATH: &str = "TRUEFALL_TEST_PATH";
const NOBODY: u32 = 65534;

#[test]
#[ignore = "a child, run by the test below"]
fn child_that_opens() {
    let path = env::var_os(PATH).expect("run as a child");
    match Store::open_within(path, Duration::ZERO) {
        Ok(_) => println!("kind: opened"),
        Err(error) => println!("kind: {}", error.kind()),
    }
}

/// The kind with which a path is refused to someone who is not root.
fn kind(folder: &Path, path: &Path) -> String {
    let program = folder.join("program");
    fs::copy(env::current_exe().unwrap(), &program).unwrap();
    let mut command = Command::new(program);
    command.args(["--exact", "permissions::child_that_opens", "--ignored", "--nocapture"]).env(PATH, path);
    if fs::metadata(folder).unwrap().uid() == 0 {
        command.uid(NOBODY).gid(NOBODY);
    }
    let said = String::from_utf8(command.current_dir(folder).output().unwrap().stdout).unwrap();
    let kind = said.lines().find_map(|line| line.split_once("kind: ")).unwrap_or_else(|| panic!("{said}")).1;
    kind.to_owned()
}

#[test]
fn what_may_not_be_written_is_read_only_and_left_alone() {
    let check = |what: &str, file: Option<u32>, rooms: u32, want: &str| {
        let folder = TempDir::new().unwrap();
        fs::set_permissions(folder.path(), Permissions::from_mode(0o755)).unwrap();
        let place = folder.path().join("rooms");
        fs::create_dir(&place).unwrap();
        let path = place.join("rooms.sqlite");
        if let Some(mode) = file {
            furnish(&Store::open(&path).unwrap(), &RoomId::from("kestrel"));
            fs::set_permissions(&path, Permissions::from_mode(mode)).unwrap();
        }
        fs::set_permissions(&place, Permissions::from_mode(rooms)).unwrap();
        let before = fs::read(&path).ok();
        assert_eq!(kind(folder.path(), &path), want, "{what}");
        assert!(fs::read(&path).ok() == before || want == "opened", "{what}: the file was written to");
        fs::set_permissions(&place, Permissions::from_mode(0o755)).unwrap();
    };
    check("all may be written", Some(0o666), 0o777, "opened");
    check("the file may only be read", Some(0o444), 0o777, "read-only");
    check("the folder may only be read", Some(0o666), 0o555, "read-only");
    check("neither may be written", Some(0o444), 0o555, "read-only");
    check("nothing is there yet", None, 0o555, "read-only");
    check("the file may not even be read", Some(0o000), 0o777, "io");
}
