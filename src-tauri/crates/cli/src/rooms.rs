//! The verbs that work on kept rooms.

use crate::arguments::{ReadingsVerb, RoomVerb};
use crate::print::print;
use app::forms::{Contents, CsvAsk, ExportAsk, RecordAsk, RoomFile, RoomNew, Units, Write};
use app::{App, Clock, Kind, Refusal};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// The rooms in the folder asked for, in `TRUEFALL_HOME`, or in the user's own data folder.
pub(crate) fn open(home: Option<PathBuf>) -> Result<App, Refusal> {
    App::open(&folder(home)?, Clock::from_environment())
}

/// The folder itself.
///
/// # Errors
/// `io` where none is named and the user has none.
pub(crate) fn folder(home: Option<PathBuf>) -> Result<PathBuf, Refusal> {
    let folder = home.or_else(|| std::env::var_os("TRUEFALL_HOME").map(PathBuf::from)).or_else(data_folder);
    folder.ok_or_else(|| {
        Refusal::new(Kind::Io, "There is no folder to keep rooms in. Name one with --home or TRUEFALL_HOME.")
    })
}

fn data_folder() -> Option<PathBuf> {
    let set = |name: &str| std::env::var_os(name).filter(|value| !value.is_empty()).map(PathBuf::from);
    let local = || set("HOME").map(|home| home.join(".local/share"));
    set("XDG_DATA_HOME").or_else(|| set("APPDATA")).or_else(local).map(|data| data.join("truefall"))
}

/// The state of a room by its id or name, or of a room file.
pub(crate) fn state(home: Option<PathBuf>, room: &str) -> Result<RoomFile, Refusal> {
    if Path::new(room).is_file() {
        let app = App::in_memory(Clock::from_environment())?;
        let imported = app.import_bytes(&app.new_id(), &read_bytes(Path::new(room))?, None)?;
        return app.room_state(&imported.room);
    }
    let app = open(home)?;
    let id = find(&app, room)?;
    app.room_state(&id)
}

/// The id of a room that is named by its id, its name, or the beginning of its name.
fn find(app: &App, room: &str) -> Result<String, Refusal> {
    let rooms = app.rooms()?.rooms;
    if let Some(same) = rooms.iter().find(|card| card.id == room) {
        return Ok(same.id.clone());
    }
    let asked = room.to_lowercase();
    let begun: Vec<_> = rooms.iter().filter(|card| card.name.to_lowercase().starts_with(&asked)).collect();
    let same: Vec<_> = begun.iter().copied().filter(|card| card.name.to_lowercase() == asked).collect();
    let (named, how) = if same.is_empty() { (begun, "begin with") } else { (same, "are named") };
    match named.as_slice() {
        [one] => Ok(one.id.clone()),
        [] => Err(Refusal::not_found("room", room).field("room")),
        many => {
            let ids: Vec<&str> = many.iter().map(|card| card.id.as_str()).collect();
            let message = format!("{} rooms {how} {room:?}. Name one by its id: {}.", many.len(), ids.join(", "));
            Err(Refusal::new(Kind::Ambiguous, message).field("room"))
        }
    }
}

/// The text of a file.
fn read(path: &Path) -> Result<String, Refusal> {
    fs::read_to_string(path).map_err(|error| {
        Refusal::new(Kind::Io, format!("{} could not be read: {error}.", path.display())).field("file")
    })
}

fn read_bytes(path: &Path) -> Result<Vec<u8>, Refusal> {
    fs::read(path).map_err(|error| {
        Refusal::new(Kind::Io, format!("{} could not be read: {error}.", path.display())).field("file")
    })
}

/// Says what a record or a room file proves.
pub(crate) fn verify(path: &Path, as_json: bool) -> Result<ExitCode, Refusal> {
    let proved = app::verify(&read_bytes(path)?)?;
    if as_json {
        print(&(app::json::write(&proved)? + "\n"));
        return Ok(ExitCode::SUCCESS);
    }
    print(&format!("{}: all {} entries fit.\n", proved.room, proved.entries));
    if let (Some(first), Some(last)) = (&proved.first, &proved.last) {
        print(&format!("  from {first} to {last}\n"));
    }
    print(&format!("  head {}\n", proved.head));
    let covered = proved.files.iter().filter(|name| !proved.not_covered.contains(name));
    covered.for_each(|name| print(&format!("  as written: {name}\n")));
    if let Some(from) = &proved.copy_of {
        print(&format!("  begun as a copy of room {} at head {}\n", from.room, from.head));
    }
    proved.not_covered.iter().for_each(|name| print(&not_covered(name)));
    Ok(ExitCode::SUCCESS)
}

fn not_covered(name: &str) -> String {
    match name {
        "pages" => "  not covered: the pages that are seen; what is proved are the files inside\n".to_string(),
        _ => format!("  not covered: what {name} shows; it is only as its list of digests says\n"),
    }
}

pub(crate) fn room(app: &App, verb: RoomVerb) -> Result<ExitCode, Refusal> {
    match verb {
        RoomVerb::New(new) => print(&(new_room(app, new.name, &new.units)? + "\n")),
        RoomVerb::List => app.rooms()?.rooms.iter().for_each(|card| {
            print(&format!("{}\t{}\t{} of {} points read\n", card.id, card.name, card.read, card.points));
        }),
        RoomVerb::Show { room } => print(&(app::json::write(&app.room(&find(app, &room)?)?)? + "\n")),
        RoomVerb::Import { file, as_second } => {
            let id = app.new_id();
            let as_room = as_second.then(|| format!("room-{id}"));
            let imported = app.import_bytes(&id, &read_bytes(&file)?, as_room)?;
            print(&(imported.room + "\n"));
        }
        RoomVerb::Export { room, output, black_out } => {
            export(app, ExportAsk { room: find(app, &room)?, black_out }, output.as_deref())?;
        }
    }
    Ok(ExitCode::SUCCESS)
}

fn new_room(app: &App, name: String, units: &str) -> Result<String, Refusal> {
    let room = format!("room-{}", app.new_id());
    let units = if units == "mm" { Units::Mm } else { Units::In };
    let payload = app::json::write(&RoomNew { name, units, place: None, created: app.now() })?;
    app.write(&Write {
        id: app.new_id(),
        room: room.clone(),
        command: "room-new".to_string(),
        payload,
        at: None,
        person: None,
        private: Vec::new(),
    })?;
    Ok(room)
}

pub(crate) fn readings(app: &App, verb: ReadingsVerb) -> Result<ExitCode, Refusal> {
    let ReadingsVerb::Import { file, room } = verb;
    let ask = CsvAsk { id: app.new_id(), room: find(app, &room)?, csv: read(&file)? };
    print(&format!("{} readings\n", app.import_readings(&ask)?.readings));
    Ok(ExitCode::SUCCESS)
}

/// Writes a room in the form that the file's ending names.
fn export(app: &App, ask: ExportAsk, output: Option<&Path>) -> Result<(), Refusal> {
    let Some(path) = output else {
        print(&app.export_file(&ask)?.text);
        return Ok(());
    };
    let ending = path.extension().map_or("json".to_string(), |ending| ending.to_string_lossy().to_lowercase());
    let bytes = match ending.as_str() {
        "json" => app.export_file(&ask)?.text.into_bytes(),
        "csv" | "dxf" | "svg" | "ics" => app.drawing_of(&ask, &ending)?.text.into_bytes(),
        "zip" => app.everything_bytes(&ask)?,
        _ => {
            let message = format!(
                "A room is not written as .{ending}. Let the file end in .json, .csv, .dxf, .svg, .ics or .zip; `record` \
                 writes a .pdf."
            );
            return Err(Refusal::new(Kind::OutOfRange, message).field("--output"));
        }
    };
    app::write_whole(path, &bytes)
}

pub(crate) fn record(
    app: &App,
    room: &str,
    output: &Path,
    (contents, black_out): (&str, bool),
) -> Result<ExitCode, Refusal> {
    let contents: Contents =
        app::json::read(&format!("{contents:?}")).map_err(|refusal| refusal.field("--contents"))?;
    app.record_to(&RecordAsk { room: find(app, room)?, contents: Some(contents), black_out }, output)?;
    print(&format!("{}\n", output.display()));
    Ok(ExitCode::SUCCESS)
}
