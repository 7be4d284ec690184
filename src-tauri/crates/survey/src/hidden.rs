//! What can hide between readings.

use crate::units::{Length, Ratio};

/// How much of a wave can be missed by readings this far apart, as a share of its height above its mean, 0 to 1.
///
/// # Source
/// A crest midway between two readings: 1 − cos(π h / λ); from two readings a wave on, the whole of it (derived).
///
/// ```
/// use survey::hidden::missed;
/// use survey::units::Length;
///
/// let share = missed(Length::mm(300.0), Length::mm(2400.0)).to_f64();
/// assert!((share - 0.0761).abs() < 1e-4, "an eighth of a wave apart, readings miss 8 %");
/// ```
pub fn missed(spacing: Length, wave: Length) -> Ratio {
    let share = spacing.abs().ratio_to(wave).to_f64();
    let all = wave <= Length::ZERO || share >= 0.5;
    Ratio::of(if all { 1.0 } else { 1.0 - (std::f64::consts::PI * share).cos() })
}

/// The tallest bump that fits between two readings on a floor that never bends tighter than this radius.
///
/// # Source
/// The sagitta of an arc, spacing² / 8 radius (derived).
///
/// ```
/// use survey::hidden::on_a_line;
/// use survey::units::Length;
///
/// assert_eq!(on_a_line(Length::mm(600.0), Length::mm(45_000.0)).to_mm(), 1.0);
/// ```
pub fn on_a_line(spacing: Length, radius: Length) -> Length {
    spacing * spacing.abs().ratio_to(radius.abs()).to_f64() / 8.0
}

/// The tallest bump that fits into a square of four readings: twice that between two of them.
///
/// # Source
/// Both ways the floor may bend (derived).
pub fn in_a_square(spacing: Length, radius: Length) -> Length {
    on_a_line(spacing, radius) * 2.0
}

/// The radius of the largest circle on the plan without a reading: anything may hide in it if nothing is known of the
/// floor's bends.
///
/// # Source
/// Half the diagonal of a square of readings (geometry).
pub fn largest_unread(spacing: Length) -> Length {
    spacing / 2.0_f64.sqrt()
}

/// The shortest wave that readings this far apart still show to within 8 %.
///
/// # Source
/// Eight readings a wave: see [`missed`] (our own choice).
pub fn shortest_wave(spacing: Length) -> Length {
    spacing * 8.0
}

/// How far apart readings may be to show the waves that matter under a straightedge: a sixteenth of it.
///
/// # Source
/// Waves of half the straightedge's length fill its gap; eight readings a wave (our own choice).
///
/// ```
/// use survey::hidden::spacing_for;
/// use survey::units::Length;
///
/// assert_eq!(spacing_for(Length::inches(120.0)), Length::inches(7.5));
/// ```
pub fn spacing_for(straightedge: Length) -> Length {
    straightedge / 16.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_readings_miss() {
        let check = |share: f64, expected: f64| {
            let found = missed(Length::mm(1000.0 * share), Length::mm(1000.0)).to_f64();
            assert!((found - expected).abs() < 5e-4, "{share}: {found}");
        };
        check(0.125, 0.0761);
        check(0.25, 0.2929);
        check(0.5, 1.0);
        check(3.0, 1.0);
        check(0.0, 0.0);
        assert_eq!(missed(Length::mm(1.0), Length::ZERO), Ratio::of(1.0));
        assert_eq!(in_a_square(Length::mm(600.0), Length::mm(45_000.0)), Length::mm(2.0));
        assert!((largest_unread(Length::mm(300.0)).to_mm() - 212.132).abs() < 1e-3);
        assert_eq!(shortest_wave(Length::mm(300.0)), Length::mm(2400.0));
    }
}
