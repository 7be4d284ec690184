//! What the sheets of a room are made from.

use crate::forms::{AlternativeView, FindingsView, HeightView, RoomFile};
use judge::words::Say;

/// Everything the sheets are made from.
pub(crate) struct Findable<'r> {
    pub(crate) file: &'r RoomFile,
    pub(crate) findings: FindingsView,
    /// The alternatives; none for a room without joists.
    pub(crate) height: Option<HeightView>,
    pub(crate) say: Say,
}

impl Findable<'_> {
    /// The alternative that is built to.
    pub(crate) fn chosen(&self) -> Option<&AlternativeView> {
        let height = self.height.as_ref()?;
        height.alternatives.iter().find(|alternative| Some(&alternative.name) == height.chosen.as_ref())
    }
}
