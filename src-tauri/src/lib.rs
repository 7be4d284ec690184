//! The window: the only code that names tauri. One command carries every request to the core and one event tells the
//! screens what changed; what a request means is not known here.

mod rooms;

use rooms::Rooms;
use std::path::PathBuf;
use tauri::{App, AppHandle, Emitter, Manager, State, WebviewUrl, WebviewWindowBuilder};

/// Opens the window and stays until it is closed.
#[cfg_attr(mobile, tauri::mobile_entry_point)]
pub fn run() {
    tauri::Builder::default()
        .setup(|program| Ok(open(program)?))
        .invoke_handler(tauri::generate_handler![dispatch])
        .run(tauri::generate_context!())
        .expect("the system can show a window");
}

/// The one window, on the rooms of this machine, or on the demo room that the command line names.
fn open(program: &mut App) -> tauri::Result<()> {
    let rooms = Rooms::in_folder(folder(program)?, telling(program.handle().clone()));
    let mut page = program.config().app.windows[0].clone();
    if let Some(fragment) = std::env::args().nth(1).and_then(|demo| rooms.demo(&demo)) {
        page.url = WebviewUrl::App(format!("index.html{fragment}").into());
    }
    program.manage(rooms);
    WebviewWindowBuilder::from_config(program, &page)?.build().map(drop)
}

/// Where the rooms are kept: `TRUEFALL_HOME`, or where the system keeps the data of a program.
fn folder(program: &App) -> tauri::Result<PathBuf> {
    match std::env::var_os("TRUEFALL_HOME").filter(|home| !home.is_empty()) {
        Some(home) => Ok(home.into()),
        None => program.path().app_data_dir(),
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
