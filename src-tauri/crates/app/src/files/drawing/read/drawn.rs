//! What a drawing holds, whatever kind of file it came in.

use judge::{Kind, Refusal};

/// What a drawing holds, in mm, y up.
#[derive(Default)]
pub(super) struct Drawn {
    pub(super) name: Option<String>,
    pub(super) inches: bool,
    pub(super) shapes: Vec<Shape>,
}

pub(super) struct Shape {
    pub(super) layer: String,
    pub(super) form: Form,
}

pub(super) enum Form {
    Way { places: Vec<(f64, f64)>, closed: bool },
    Spot((f64, f64)),
    Text((f64, f64), String),
}

pub(super) fn not_understood(message: &str) -> Refusal {
    Refusal::new(Kind::NotUnderstood, message).field("file")
}

/// Whether a layer is one of walls.
pub(super) fn is_wall(layer: &str) -> bool {
    layer.to_uppercase().contains("WALL")
}
