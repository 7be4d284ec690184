//! The two-peg check of a level: does its line stay level as it runs away?

use crate::units::{Estimate, Length, Slope};

/// One look at both marks: the reading at each, bigger is lower.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sights {
    pub near: Length,
    pub far: Length,
}

/// The tilt of a level's line, positive where it rises as it runs away from the instrument.
///
/// First the level stands in the middle between two marks, where a tilt cancels; then on their line beside the near
/// one or beyond it, so that its sights differ by `apart`.
///
/// # Units
/// A slope, mm per mm; readings and distance are lengths.
///
/// # Uncertainty
/// Four readings of standard deviation `reading_sd` over `apart`; that of the distance is left out.
///
/// # Source
/// Two-peg test of the surveying textbooks; checked against a published exercise (level in the middle: 1.476 m and
/// 1.432 m; beyond the second peg: 1.556 m and 1.472 m, 40 m apart; 0.001 m per m).
///
/// ```
/// use survey::two_peg::{Sights, tilt};
/// use survey::units::Length;
/// let metres = |m: f64| Length::mm(1000.0 * m);
/// let middle = Sights { near: metres(1.432), far: metres(1.476) };
/// let beside = Sights { near: metres(1.472), far: metres(1.556) };
/// let found = tilt(middle, beside, metres(40.0), Length::mm(1.0));
/// assert!((found.value.to_ratio() - 0.001).abs() < 1e-12);
/// assert!((found.u.to_ratio() - 2.0 / 40e3).abs() < 1e-15);
/// ```
pub fn tilt(middle: Sights, beside: Sights, apart: Length, reading_sd: Length) -> Estimate<Slope> {
    let fall = |sights: Sights| sights.far - sights.near;
    let rise = fall(beside) - fall(middle);
    Estimate::new(rise.over(apart), (reading_sd * 2.0).over(apart))
}

/// How far the line stands from level at a reach: positive is too high there, so readings are too large.
///
/// ```
/// use survey::two_peg::error_at;
/// use survey::units::{Estimate, Length, Slope};
/// let error = error_at(Estimate::new(Slope::ratio(0.001), Slope::ratio(0.0002)), Length::mm(3000.0));
/// assert!((error.value.to_mm() - 3.0).abs() < 1e-12 && (error.u.to_mm() - 0.6).abs() < 1e-12);
/// ```
pub fn error_at(tilt: Estimate<Slope>, reach: Length) -> Estimate<Length> {
    Estimate::new(tilt.value.times(reach), tilt.u.times(reach))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_line_that_falls_away_is_negative() {
        // A published exercise: true difference 0.630 m, read 0.615 m with the sights 25 m apart: 0.060 m in 100 m.
        let metres = |m: f64| Length::mm(1000.0 * m);
        let middle = Sights { near: metres(2.0), far: metres(2.630) };
        let beside = Sights { near: metres(2.232), far: metres(2.847) };
        let found = tilt(middle, beside, metres(25.0), Length::mm(1.0));
        assert!((found.value.to_ratio() * 100.0 + 0.060).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn the_height_of_the_marks_and_of_the_level_does_not_matter(
            a in 0.0..3000.0f64, b in 0.0..3000.0f64, up in -500.0..500.0f64, slope in -0.01..0.01f64,
        ) {
            let apart = 6000.0;
            let sights = |line: f64, near: f64, far: f64| Sights {
                near: Length::mm(line - a + slope * near), far: Length::mm(line - b + slope * far),
            };
            let found = tilt(sights(3000.0, 3000.0, 3000.0), sights(3000.0 + up, 0.0, apart), Length::mm(apart), Length::mm(0.5));
            prop_assert!((found.value.to_ratio() - slope).abs() < 1e-9);
        }
    }
}
