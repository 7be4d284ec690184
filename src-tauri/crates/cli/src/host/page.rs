//! The built screens: inside the program when it is shipped, from the checkout while it is developed.

use app::{Kind, Refusal};
use axum::http::{StatusCode, Uri, header};
use axum::response::{IntoResponse, Response};
use rust_embed::Embed;

#[derive(Embed)]
#[folder = "../../../ui/dist"]
#[allow_missing = true]
struct Screens;

/// A file of the screens; any other path is the page itself, which finds its own way.
pub(super) async fn page(uri: Uri) -> Response {
    let path = uri.path().trim_start_matches('/');
    let name = if path.is_empty() { "index.html" } else { path };
    match Screens::get(name) {
        Some(file) => ([(header::CONTENT_TYPE, kind(name))], file.data.into_owned()).into_response(),
        None if path.is_empty() => super::refused(StatusCode::SERVICE_UNAVAILABLE, &not_built()),
        None => super::refused(StatusCode::NOT_FOUND, &Refusal::not_found("page", path)),
    }
}

fn not_built() -> Refusal {
    Refusal::new(Kind::NotReady, "The screens have not been built. Run `cargo app`, which builds and serves them.")
}

fn kind(name: &str) -> &'static str {
    match name.rsplit('.').next().unwrap_or_default() {
        "html" => "text/html; charset=utf-8",
        "js" => "text/javascript; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "woff2" => "font/woff2",
        "json" => "application/json",
        "webmanifest" => "application/manifest+json",
        _ => "application/octet-stream",
    }
}
