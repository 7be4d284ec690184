//! Several sources of uncertainty as one.

use crate::normal;
use crate::units::{Length, Probability, Ratio};
use statrs::distribution::{ContinuousCDF, StudentsT};

/// Up to here the t quantile of the library holds nine digits; beyond, the first term of its series in 1/dof does.
const SERIES_FROM: f64 = 1e4;

/// How the values between two limits are thought to lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// Anywhere alike.
    Rectangular,
    /// Mostly near the middle.
    Triangular,
    /// Mostly near the ends.
    UShaped,
}

/// One source of uncertainty: its standard uncertainty, how strongly it acts, and how well it is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Component {
    pub u: Length,
    /// By how much the result changes for a unit of this source.
    pub sensitivity: Ratio,
    /// Degrees of freedom behind `u`; `None` where it is known exactly.
    pub dof: Option<Ratio>,
}

impl Component {
    /// A source known by its standard uncertainty.
    pub fn of(u: Length) -> Self {
        Self { u: u.abs(), sensitivity: Ratio::of(1.0), dof: None }
    }

    /// A source known to stay within ± `half_width`: a stated accuracy.
    pub fn within(half_width: Length, shape: Shape) -> Self {
        let divisor: f64 = match shape {
            Shape::Rectangular => 3.0,
            Shape::Triangular => 6.0,
            Shape::UShaped => 2.0,
        };
        Self::of(half_width / divisor.sqrt())
    }

    /// The rounding of a display or a rule to steps of `step`.
    pub fn of_resolution(step: Length) -> Self {
        Self::within(step / 2.0, Shape::Rectangular)
    }

    /// The same source estimated from readings with `dof` degrees of freedom.
    pub fn with_dof(self, dof: Ratio) -> Self {
        Self { dof: Some(dof), ..self }
    }

    /// The same source acting `sensitivity` times as strongly.
    pub fn times(self, sensitivity: Ratio) -> Self {
        Self { sensitivity, ..self }
    }
}

/// The uncertainty of a result from all its sources.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Combined {
    pub u: Length,
    /// Effective degrees of freedom; `None` where every source is known exactly.
    pub dof: Option<Ratio>,
}

/// The combined standard uncertainty of independent sources, as a length (k = 1), with its degrees of freedom.
///
/// What acts one way only (a known bias left uncorrected) is added outside this, never squared in.
///
/// # Source
/// JCGM 100:2008, 5.1.2 (root sum of squares) and G.4.1 (Welch–Satterthwaite) (recalled, not read).
///
/// ```
/// use survey::units::{Length, Ratio};
/// use survey::verdict::{Component, combined};
///
/// // A rule read to 1/16 in against a line that the maker states to ± 1.5 mm.
/// let sources = [Component::of_resolution(Length::inches(1.0 / 16.0)),
///     Component::within(Length::mm(1.5), survey::verdict::Shape::Rectangular)];
/// assert!((combined(&sources).u.to_mm() - 0.979).abs() < 1e-3);
/// ```
pub fn combined(components: &[Component]) -> Combined {
    let part = |c: &Component| c.u.to_mm() * c.sensitivity.to_f64();
    let square: f64 = components.iter().map(|c| part(c).powi(2)).sum();
    let spread: f64 = components.iter().filter_map(|c| c.dof.map(|dof| part(c).powi(4) / dof.to_f64())).sum();
    let dof = (spread > 0.0).then(|| Ratio::of(square * square / spread));
    Combined { u: Length::mm(square.sqrt()), dof }
}

impl Combined {
    /// The factor k that covers the share `p` of the values on both sides: from Student's t where the degrees of
    /// freedom (rounded down) are limited.
    ///
    /// # Source
    /// JCGM 100:2008, G.4.1 and table G.2 (recalled, not read).
    pub fn coverage_factor(&self, p: Probability) -> Ratio {
        let tail = (1.0 - p.to_f64()) / 2.0;
        let z = -normal::quantile(tail);
        let dof = self.dof.map_or(f64::INFINITY, |dof| dof.to_f64().floor().max(1.0));
        let exact = StudentsT::new(0.0, 1.0, dof).ok().filter(|_| dof <= SERIES_FROM);
        Ratio::of(exact.map_or_else(|| z + z * (z * z + 1.0) / (4.0 * dof), |t| -t.inverse_cdf(tail)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_combined_is_exactly_known() {
        assert_eq!(combined(&[]), Combined { u: Length::ZERO, dof: None });
        assert_eq!(combined(&[Component::of(Length::mm(3.0)), Component::of(Length::mm(4.0))]).u, Length::mm(5.0));
    }

    #[test]
    fn the_shapes_divide_the_half_width() {
        let check = |shape, u: f64| {
            assert!((Component::within(Length::mm(1.0), shape).u.to_mm() - u).abs() < 1e-12, "{shape:?}");
        };
        check(Shape::Rectangular, 0.577_350_269_189_625_8);
        check(Shape::Triangular, 0.408_248_290_463_863);
        check(Shape::UShaped, 0.707_106_781_186_547_5);
        assert!((Component::of_resolution(Length::mm(1.0)).u.to_mm() - 0.288_675_134_594_812_9).abs() < 1e-12);
    }

    #[test]
    fn many_degrees_of_freedom_are_the_normal_distribution() {
        let of_dof = |dof| Combined { u: Length::mm(1.0), dof }.coverage_factor(Probability::of(0.95)).to_f64();
        assert!((of_dof(None) - 1.959_963_984_540_054).abs() < 1e-12);
        // scipy.stats.t.ppf(0.975, 1e5)
        assert!((of_dof(Some(Ratio::of(1e5))) - 1.959_987_707_534_609_5).abs() < 1e-9);
        assert!(of_dof(Some(Ratio::of(0.0))) > 12.0, "less than one degree is held at one");
    }
}
