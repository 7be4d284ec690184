//! The text of a request: so long, in so long a time, or not at all.

use crate::refused;
use app::{Kind, Refusal};
use axum::body::to_bytes;
use axum::extract::Request;
use axum::http::{StatusCode, header};
use axum::response::Response;
use std::time::Duration;
use tokio::time::timeout;

/// The body of a request as text.
///
/// # Errors
/// The answer to a body that is too large, too slow, or not text.
pub(crate) async fn text(request: Request, most: usize, within: Duration) -> Result<String, Response> {
    let told = request.headers().get(header::CONTENT_LENGTH).and_then(|length| length.to_str().ok()?.parse().ok());
    if told.is_some_and(|told: usize| told > most) {
        return Err(too_large(most));
    }
    match timeout(within, to_bytes(request.into_body(), most)).await {
        Err(_) => Err(refused(StatusCode::REQUEST_TIMEOUT, &Refusal::new(Kind::TooOften, "That took too long."))),
        Ok(Err(_)) => Err(too_large(most)),
        Ok(Ok(bytes)) => String::from_utf8(bytes.into())
            .map_err(|_| refused(StatusCode::BAD_REQUEST, &Refusal::new(Kind::NotJson, "The request is not text."))),
    }
}

fn too_large(most: usize) -> Response {
    let most = if most < 1 << 20 { format!("{} KiB", most >> 10) } else { format!("{} MiB", most >> 20) };
    let message = format!("The request is larger than {most}. Use the command line at home for it.");
    refused(StatusCode::PAYLOAD_TOO_LARGE, &Refusal::new(Kind::OutOfRange, message))
}
