//! Readings along a line as a profile: sorted, one height for each place, straight between them.

use super::LinePoint;
use crate::straightedge::StraightedgeError;
use crate::units::Length;
use crate::{Problem, ProblemKind};

/// Places no farther apart than this, in mm, are one.
const ONE_PLACE: f64 = 1e-3;

/// A profile in mm, counted from its first place and the height there.
#[derive(Debug, Clone)]
pub(crate) struct Profile {
    /// Distinct places, rising.
    pub(crate) s: Vec<f64>,
    /// The height at each, the mean where several readings stand there.
    pub(crate) z: Vec<f64>,
    /// The input indices of the readings at each place.
    pub(crate) readings: Vec<Vec<usize>>,
    /// Where the first place lies on the input's own scale.
    pub(crate) start: f64,
}

/// The profile through readings, with `duplicate-point` for each place read at different heights.
pub(crate) fn profile(points: &[LinePoint]) -> Result<(Profile, Vec<Problem>), StraightedgeError> {
    let mut order: Vec<(usize, &LinePoint)> = points.iter().enumerate().collect();
    order.sort_by(|a, b| a.1.s.to_mm().total_cmp(&b.1.s.to_mm()));
    let Some((_, first)) = order.first() else { return Err(StraightedgeError::TooFewPoints) };
    if points.len() < 2 {
        return Err(StraightedgeError::TooFewPoints);
    }
    let (start, level) = (first.s.to_mm(), first.z.to_mm());
    let mut profile = Profile { s: Vec::new(), z: Vec::new(), readings: Vec::new(), start };
    let mut problems = Vec::new();
    for place in places(&order) {
        let count = place.len() as f64;
        profile.s.push(place.iter().map(|(_, point)| point.s.to_mm() - start).sum::<f64>() / count);
        profile.z.push(place.iter().map(|(_, point)| point.z.to_mm() - level).sum::<f64>() / count);
        profile.readings.push(place.iter().map(|(index, _)| *index).collect());
        problems.extend(differing(place));
    }
    if profile.s.len() < 2 { Err(StraightedgeError::CoincidentPoints) } else { Ok((profile, problems)) }
}

/// The sorted readings in runs that stand at one place: within 0.001 mm of the first of the run.
fn places<'o, 'p>(order: &'o [(usize, &'p LinePoint)]) -> Vec<&'o [(usize, &'p LinePoint)]> {
    let mut places = Vec::new();
    let mut rest = order;
    while let Some((_, first)) = rest.first() {
        let near = |point: &LinePoint| (point.s - first.s).at_most(Length::mm(ONE_PLACE));
        let (place, others) = rest.split_at(rest.iter().take_while(|(_, point)| near(point)).count().max(1));
        places.push(place);
        rest = others;
    }
    places
}

fn differing(place: &[(usize, &LinePoint)]) -> Option<Problem> {
    let heights = || place.iter().map(|(_, point)| point.z);
    let (low, high) = (heights().reduce(Length::min)?, heights().reduce(Length::max)?);
    let last = place.iter().map(|(index, _)| *index).max()?;
    (!high.at_most(low)).then(|| {
        let (s, apart) = (place.first().map_or(0.0, |(_, point)| point.s.to_mm()), (high - low).to_mm());
        let message = format!("Readings at {s:.0} mm along the line differ by {apart:.2} mm; their mean is used.");
        Problem::at(ProblemKind::DuplicatePoint, last, message)
    })
}

impl Profile {
    /// How long the profile is.
    pub(crate) fn total(&self) -> f64 {
        self.s.last().copied().unwrap_or(0.0)
    }

    /// The places and their shares that make the height at `s`: two neighbours, or one where `s` is a place.
    pub(crate) fn shares(&self, s: f64) -> [(usize, f64); 2] {
        let right = self.s.partition_point(|&place| place <= s).clamp(1, self.s.len() - 1);
        let share = ((s - self.s[right - 1]) / (self.s[right] - self.s[right - 1])).clamp(0.0, 1.0);
        [(right - 1, 1.0 - share), (right, share)]
    }
}

/// The height of a profile at `s`, on the piece that ends at place `right`.
#[inline]
pub(crate) fn height_before(s: &[f64], z: &[f64], right: usize, at: f64) -> f64 {
    let left = right - 1;
    z[left] + (z[right] - z[left]) * ((at - s[left]) / (s[right] - s[left]))
}
