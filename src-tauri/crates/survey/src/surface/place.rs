//! Readings at one place, as one.

/// One place that was read: where, how high on average, and how often.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    pub(super) at: [f64; 2],
    pub(super) z: f64,
    pub(super) readings: f64,
}
