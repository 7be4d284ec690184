//! The window: the only code that names tauri. One command carries every request to the core and one event tells the
//! screens what changed; what a request means is not known here.

mod rooms;

use rooms::Rooms;
use std::path::PathBuf;
use tauri::{App, AppHandle, Emitter, Manager, State, WebviewUrl, WebviewWindowBuilder};

/// Opens the window and stays until it is closed.
#[cfg_attr(mobile, tauri::mobile_entry_point)]
pub fn run() {
    with_the_phones_own(tauri::Builder::default())
        .setup(|program| Ok(open(program)?))
        .invoke_handler(tauri::generate_handler![dispatch])
        .run(tauri::generate_context!())
        .expect("the system can show a window");
}

/// What a phone has of its own: a sheet to open and save files by, and a motor.
#[cfg(mobile)]
fn with_the_phones_own(program: tauri::Builder<tauri::Wry>) -> tauri::Builder<tauri::Wry> {
    let program = program.plugin(tauri_plugin_dialog::init()).plugin(tauri_plugin_fs::init());
    program.plugin(tauri_plugin_haptics::init())
}

#[cfg(not(mobile))]
fn with_the_phones_own(program: tauri::Builder<tauri::Wry>) -> tauri::Builder<tauri::Wry> {
    program
}

/// The one window, on the page that the command line names (`#/rooms/…`), else on the list of rooms.
fn open(program: &mut App) -> tauri::Result<()> {
    program.manage(Rooms::in_folder(folder(program)?, telling(program.handle().clone())));
    let mut window = program.config().app.windows[0].clone();
    if let Some(page) = std::env::args().nth(1).filter(|word| word.starts_with("#/")) {
        window.url = WebviewUrl::App(format!("index.html{page}").into());
    }
    WebviewWindowBuilder::from_config(program, &window)?.build().map(drop)
}

/// Where the rooms are kept: `TRUEFALL_HOME`, or the same place in the user's data as from the command line.
fn folder(program: &App) -> tauri::Result<PathBuf> {
    match std::env::var_os("TRUEFALL_HOME").filter(|home| !home.is_empty()) {
        Some(home) => Ok(home.into()),
        None if cfg!(mobile) => program.path().app_data_dir(),
        None => Ok(program.path().data_dir()?.join("truefall")),
    }
}

fn telling(program: AppHandle) -> impl Fn(&str) + Send + Sync + 'static {
    move |changes| {
        // A window that is closing no longer listens.
        let _ = program.emit_str("changes", changes.to_owned());
    }
}

/// Answers one request of the screens with JSON, or refuses it with the JSON of a refusal.
#[tauri::command(async)]
fn dispatch(rooms: State<'_, Rooms>, name: &str, payload: &str) -> Result<String, String> {
    rooms.dispatch(name, payload)
}
