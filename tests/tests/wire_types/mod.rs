//! The TypeScript of the screens and the JSON Schema of the room file are those of the wire types.
//!
//! `UPDATE=1 cargo test -p site-tests --test together wire_types` writes them again.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use app::Refusal;
use app::forms::{Changes, Commands, CrewJoin, Requests, RoomFile};
use ts_rs::{Config, TS};

fn top() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("the checkout").to_owned()
}

fn types_in(folder: &Path) -> BTreeMap<String, String> {
    let Ok(entries) = fs::read_dir(folder) else { return BTreeMap::new() };
    let files = entries.filter_map(Result::ok).filter(|entry| entry.path().extension().is_some_and(|e| e == "ts"));
    files
        .map(|file| (file.file_name().to_string_lossy().into_owned(), fs::read_to_string(file.path()).expect("text")))
        .collect()
}

fn update() -> bool {
    std::env::var_os("UPDATE").is_some()
}

#[test]
fn the_types_of_the_screens_are_current() {
    let fresh = tempfile::tempdir().expect("a folder");
    let config = Config::new().with_out_dir(fresh.path());
    Requests::export_all(&config).expect("requests");
    Commands::export_all(&config).expect("commands");
    Changes::export_all(&config).expect("changes");
    Refusal::export_all(&config).expect("refusal");
    CrewJoin::export_all(&config).expect("joining");
    RoomFile::export_all(&config).expect("room file");
    let (made, kept) = (types_in(fresh.path()), top().join("ui/src/bridge/generated"));
    if update() {
        let _ = fs::remove_dir_all(&kept);
        fs::create_dir_all(&kept).expect("the folder of the types");
        made.iter().for_each(|(name, text)| fs::write(kept.join(name), text).expect(name));
    }
    assert!(made.len() > 40, "only {} types were made", made.len());
    assert!(made == types_in(&kept), "run UPDATE=1 cargo test -p site-tests --test together wire_types");
}

#[test]
fn the_schema_of_the_room_file_is_current() {
    let made = serde_json::to_string_pretty(&schemars::schema_for!(RoomFile)).expect("a schema") + "\n";
    let kept = top().join("fixtures/schema/room.schema.json");
    if update() {
        fs::create_dir_all(kept.parent().expect("a folder")).expect("the folder of the schema");
        fs::write(&kept, &made).expect("the schema");
    }
    assert_eq!(
        made,
        fs::read_to_string(&kept).unwrap_or_default(),
        "run UPDATE=1 cargo test -p site-tests --test together wire_types"
    );
}
