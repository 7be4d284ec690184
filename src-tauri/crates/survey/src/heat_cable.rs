//! What a heating cable's resistance should be.

use crate::units::{Ratio, Resistance};
use crate::verdict::Limits;

/// The band in which a cable may be read: its label, less and more by the label's own tolerance.
///
/// # Source
/// Makers give bands of their own, ±10 %, −5/+10 % and ±5 % among them (read in installation guides): so the band is
/// an input, and the one on the label counts.
///
/// ```
/// use survey::heat_cable::band;
/// use survey::units::{Ratio, Resistance};
///
/// // 120 V and 480 W: V²/P = 30 ohms, and 27 to 33 at ten in a hundred.
/// let band = band(Resistance::ohms(120.0 * 120.0 / 480.0), Ratio::of(0.1), Ratio::of(0.1));
/// assert!((band.lower.unwrap().to_ohms() - 27.0).abs() < 1e-9 && (band.upper.unwrap().to_ohms() - 33.0).abs() < 1e-9);
/// ```
pub fn band(label: Resistance, less: Ratio, more: Ratio) -> Limits<Resistance> {
    let (less, more) = (less.to_f64().clamp(0.0, 1.0), more.to_f64().max(0.0));
    Limits { lower: Some(label * (1.0 - less)), upper: Some(label * (1.0 + more)) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Estimate, Probability};
    use crate::verdict::{Decision, Verdict, conformance};

    #[test]
    fn a_reading_is_held_against_its_own_label() {
        let check = |ohms: f64, u: f64, want: Verdict| {
            let band = band(Resistance::ohms(30.0), Ratio::of(0.05), Ratio::of(0.10));
            let value = Estimate::new(Resistance::ohms(ohms), Resistance::ohms(u));
            let found = conformance(value, band, Probability::of(0.95), Decision::Guarded).unwrap();
            assert_eq!(found.verdict, want, "{ohms} ± {u}");
        };
        check(30.0, 0.3, Verdict::Within);
        check(28.5, 0.0, Verdict::Within);
        check(28.4, 0.0, Verdict::Out);
        check(28.6, 0.3, Verdict::TooCloseToCall);
        check(33.0, 0.0, Verdict::Within);
        check(36.0, 0.3, Verdict::Out);
    }
}
