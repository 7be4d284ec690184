//! A device that nobody knows, taught by what its display shows.
//!
//! While a person plays with it, everything it sends is listened to. Then some readings, unlike each other, are typed
//! as the display shows them. What every typed value leaves standing of all ways to read a number out of the bytes is
//! put together into classes that read alike; the reading on which the classes differ most is asked for next. One class
//! is not enough: a last reading is told to the person first, and only if the display shows that is the way accepted.
//! Nothing is ever written to the instrument.
//!
//! # Uncertainty
//! On simulated devices, 600 of each kind, drawn from the units searched (the best case; `tests.rs` makes the figures
//! and asserts them): see [`Teaching`].

mod classes;
mod ear;
mod hypothesis;
mod sample;
mod unit;
mod way;

pub use ear::{Ear, Overheard};
pub use sample::Sample;
pub use unit::{Display, DisplayUnit};

use crate::decode::Kind;
use crate::profile::Profile;
use crate::reading::Quantity;
use classes::{classes, told_apart};
use hypothesis::{Hypothesis, all};

/// The most free samples that are kept; later ones are left out.
const MOST_FREE: usize = 400;

/// One taught reading: the message, and what the display showed.
#[derive(Debug, Clone, PartialEq)]
pub struct Example {
    pub payload: Vec<u8>,
    pub shown: Quantity,
}

/// What is to be done next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Next {
    /// Another reading is to be typed, unlike those before.
    Show,
    /// One way is left: the next reading is told before the display is looked at.
    Check,
    /// No way of reading the bytes gives what was typed.
    NothingFits,
}

/// What became of a typed reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shown {
    Taken,
    /// Too much like one before: it would tell nothing.
    TooAlike,
    /// Nothing was sent.
    NothingSent,
}

/// One device being taught.
///
/// Measured over 600 simulated devices of each kind by `tests.rs` (seeded; readings picked by the program): see the
/// figures asserted there.
#[derive(Debug, Clone)]
pub struct Teaching {
    display: Display,
    free: Vec<Sample>,
    taught: Vec<(Sample, f64)>,
    left: Vec<Hypothesis>,
}

impl Teaching {
    /// Begins with what was heard while a person played with the device, in the order in which it came.
    pub fn new(display: Display, mut free: Vec<Sample>) -> Self {
        free.truncate(MOST_FREE);
        let left = all(display, &free);
        Self { display, free, taught: Vec::new(), left }
    }

    /// How many readings must be typed at least: three, and four for a display that shows tenths of a degree.
    pub fn least(&self) -> usize {
        if self.display.is_coarse_angle() { 4 } else { 3 }
    }

    pub fn typed(&self) -> usize {
        self.taught.len()
    }

    /// Takes a reading as the display shows it, in its unit.
    pub fn show(&mut self, sample: Sample, shown: f64) -> Shown {
        if sample.is_empty() {
            return Shown::NothingSent;
        }
        if self.taught.iter().any(|(_, before)| self.display.is_alike(*before, shown)) {
            return Shown::TooAlike;
        }
        let fits = |one: &Hypothesis| one.shows(&sample, shown, self.display);
        self.left.retain(fits);
        self.taught.push((sample, shown));
        Shown::Taken
    }

    pub fn next(&self) -> Next {
        if self.left.is_empty() && !self.taught.is_empty() {
            return Next::NothingFits;
        }
        let enough = self.taught.len() >= self.least() && self.classes().len() == 1;
        if enough { Next::Check } else { Next::Show }
    }

    /// How many ways that read differently are left.
    pub fn ways(&self) -> usize {
        self.classes().len()
    }

    /// Which of these samples tells the ways that are left apart best; none where none tells any apart.
    pub fn best_of(&self, samples: &[Sample]) -> Option<usize> {
        let parts = samples.iter().map(|sample| told_apart(&self.left, sample, self.display));
        let (best, parts) = parts.enumerate().max_by_key(|(at, parts)| (*parts, std::cmp::Reverse(*at)))?;
        (parts > 1).then_some(best)
    }

    /// What the display should show for this sample, in its unit and to its step: to be told before it is looked at.
    pub fn guess(&self, sample: &Sample) -> Option<f64> {
        let value = self.classes().first()?.first()?.value(sample)?;
        Some(self.display.rounded(value))
    }

    /// The profile, after the last check agreed. `accuracy` is the stated one, as ±.
    pub fn profile(&self, name: &str, accuracy: Quantity) -> Option<(Profile, Vec<Example>)> {
        let classes = self.classes();
        let class = classes.first()?;
        let best = class.first()?;
        let profile = way::profile(best, class, self.display, &self.free, name, accuracy)?;
        let example = |(sample, shown): &(Sample, f64)| {
            let payload = sample.get(&best.characteristic)?.clone();
            Some(Example { payload, shown: self.display.quantity(*shown) })
        };
        Some((profile, self.taught.iter().filter_map(example).collect()))
    }

    /// What is measured.
    pub fn kind(&self) -> Kind {
        self.display.unit.kind()
    }

    fn classes(&self) -> Vec<Vec<&Hypothesis>> {
        let seen: Vec<&Sample> = self.free.iter().chain(self.taught.iter().map(|(sample, _)| sample)).collect();
        classes(&self.left, &seen, self.display)
    }
}

#[cfg(test)]
mod trial;

#[cfg(test)]
mod tests;
