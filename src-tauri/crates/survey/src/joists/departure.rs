//! How far a joist departs from the chord of its own ends.

use super::{Profile, sag};
use crate::units::{Estimate, Length};

/// How far one reading of a joist departs from the chord of its first and last readings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Departure {
    /// Up is positive: a crown; a sag is negative.
    pub value: Estimate<Length>,
    /// Where it was read, from the door wall.
    pub station: Length,
}

/// The largest departure of a joist from its own chord; `None` with fewer than three readings.
pub(super) fn departure(profile: &Profile, u: Length) -> Option<Departure> {
    let [first, .., last] = profile.points() else { return None };
    let chord = profile.chord();
    let inner = profile.points().iter().zip(&chord).skip(1).take(chord.len().saturating_sub(2));
    let departures = inner.map(|(&(y, z), chord)| (y, z - chord));
    let (place, value) = departures.reduce(|most, next| if next.1.abs() > most.1.abs() { next } else { most })?;
    let u = u * sag::weight(first.0, last.0, place);
    Some(Departure { value: Estimate::new(Length::mm(value), u), station: Length::mm(place) })
}
