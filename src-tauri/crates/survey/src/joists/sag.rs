//! How far a joist hangs below its own ends.

use super::Profile;
use crate::guard::Member;
use crate::units::{Estimate, Length, Ratio, Slope};

/// The sag of one joist between its first and last readings: what is judged is what was read, over the length read.
///
/// # Source
/// Common practice: a sag of more than a 240th of its length goes to an engineer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sag {
    /// The largest drop of a reading below the chord of the first and last readings; not below 0.
    pub drop: Estimate<Length>,
    /// Where it is, from the door wall.
    pub station: Length,
    /// From the first reading to the last.
    pub over: Length,
    /// The drop is one part in so many of `over`; `None` without a drop.
    pub one_in: Option<Ratio>,
    /// The drop of the parabola through it over the whole clear span: an indication, since the ends were not read.
    pub over_span: Length,
}

impl Sag {
    pub(super) fn of(profile: &Profile, member: &Member, u: Length) -> Option<Self> {
        let over = over(profile)?;
        let (place, drop, weight) = largest_drop(profile)?;
        let widen = if over > 0.0 { (member.span.to_mm() / over).max(1.0).powi(2) } else { 1.0 };
        Some(Self {
            drop: Estimate::new(Length::mm(drop), u * weight),
            station: Length::mm(place),
            over: Length::mm(over),
            one_in: (drop > 0.0).then(|| Ratio::of(over / drop)),
            over_span: Length::mm(drop * widen),
        })
    }

    /// The sag of one part in `ratio` of the length that was read.
    pub fn one_part_in(&self, ratio: Ratio) -> Length {
        Slope::one_in(ratio.to_f64()).times(self.over)
    }
}

/// Whether the largest drop, less two standard uncertainties `u` of a reading, exceeds one part in `ratio` of the
/// distance between the first and last readings.
pub(crate) fn is_sagging(profile: &Profile, u: Length, ratio: Ratio) -> bool {
    let (Some(over), Some((_, drop, _))) = (over(profile), largest_drop(profile)) else { return false };
    let sag = Length::mm(drop - 2.0 * u.to_mm()).over(Length::mm(over));
    !sag.at_most(Slope::one_in(ratio.to_f64()))
}

fn over(profile: &Profile) -> Option<f64> {
    profile.ends().map(|[first, last]| last.0 - first.0)
}

/// Where the profile lies lowest below its chord, by how much (0 if nowhere), and the drop's uncertainty in readings.
fn largest_drop(profile: &Profile) -> Option<(f64, f64, f64)> {
    let [first, last] = profile.ends()?;
    let chord = profile.chord();
    let drops = profile.points().iter().zip(&chord).map(|(&(y, z), chord)| (y, (chord - z).max(0.0)));
    let (place, drop) = drops.reduce(|most, next| if next.1 > most.1 { next } else { most })?;
    Some((place, drop, weight(first.0, last.0, place)))
}

/// The root of the sum of squares of what the three readings count in a departure from the chord at `place`.
pub(super) fn weight(first: f64, last: f64, place: f64) -> f64 {
    let share = if last > first { (place - first) / (last - first) } else { 0.0 };
    if share <= 0.0 || share >= 1.0 { 0.0 } else { (1.0 + share.powi(2) + (1.0 - share).powi(2)).sqrt() }
}

#[cfg(test)]
mod tests {
    use super::super::example::grid;
    use super::*;

    fn sag(tops: &[f64]) -> Sag {
        let grid = grid(&[tops]);
        Sag::of(&grid.profile(&grid.joists[0]), &grid.joists[0].member, grid.u).unwrap()
    }

    fn sagging(tops: &[f64], ratio: f64) -> bool {
        let grid = grid(&[tops]);
        is_sagging(&grid.profile(&grid.joists[0]), grid.u, Ratio::of(ratio))
    }

    #[test]
    fn a_hanging_joist() {
        let sag = sag(&[0.0, -0.5, -0.625, -0.125]);
        assert!((sag.drop.value.to_inches() - 13.0 / 24.0).abs() < 1e-12);
        assert!((sag.drop.u.to_inches() - (1.0f64 + 1.0 / 9.0 + 4.0 / 9.0).sqrt() / 32.0).abs() < 1e-12);
        assert_eq!(sag.station, Length::inches(60.0));
        assert!((sag.one_in.unwrap().to_f64() - 90.0 * 24.0 / 13.0).abs() < 1e-9);
        assert!((sag.one_part_in(Ratio::of(240.0)).to_inches() - 0.375).abs() < 1e-12);
        assert!((sag.over_span.to_inches() - 13.0 / 24.0 * (138.0f64 / 90.0).powi(2)).abs() < 1e-12);
    }

    #[test]
    fn a_crowned_joist_does_not_sag() {
        let sag = sag(&[0.0, 0.25, 0.375, 0.0625]);
        assert_eq!((sag.drop.value, sag.one_in), (Length::ZERO, None));
        assert!(!sagging(&[0.0, 0.25, 0.375, 0.0625], 360.0));
    }

    #[test]
    fn the_limit_counts_as_not_exceeded() {
        // Two readings' uncertainty is 1/16; 1/4 + 1/16 over 90 in is 1/360 exactly.
        assert!(!sagging(&[0.0, -0.3125, -0.3125, 0.0], 360.0));
        assert!(sagging(&[0.0, -0.3126, -0.3125, 0.0], 360.0));
        assert!(!sagging(&[0.0], 360.0) && !sagging(&[0.0, -5.0], 360.0));
    }
}
