fn main() {
    let own = tauri_build::AppManifest::new().commands(&["dispatch"]);
    tauri_build::try_build(tauri_build::Attributes::new().app_manifest(own)).expect("the window's settings hold");
}
