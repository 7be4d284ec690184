//! A window with nothing in it: what a webview takes by itself, for `tests/peers/window.rs` to measure beside.

use tauri::{WebviewUrl, WebviewWindowBuilder};

fn main() {
    tauri::Builder::default()
        .setup(|program| {
            let nothing = WebviewUrl::External("about:blank".parse()?);
            WebviewWindowBuilder::new(program, "main", nothing).build()?;
            Ok(())
        })
        .run(tauri::generate_context!())
        .expect("the system can show a window");
}
