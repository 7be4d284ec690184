//! What stands on the structure on both sides of an entry, and where they meet.

use crate::units::{Estimate, Length};

/// One side of the entry: what carries it, and the layers on top from below up, each with its uncertainty.
#[derive(Debug, Clone, PartialEq)]
pub struct Side {
    /// The height of the top of the structure, up positive.
    pub structure: Estimate<Length>,
    pub layers: Vec<Estimate<Length>>,
}

impl Side {
    /// The height of the finished floor, up positive.
    pub fn finished(&self) -> Estimate<Length> {
        sum(self.structure, &thickness(&self.layers))
    }
}

/// The thickness of layers on one another: uncertainties of independent layers combine by squares.
///
/// # Source
/// Common practice; JCGM 100, 5.1.2 for the uncertainty (recalled, not read).
pub fn thickness(layers: &[Estimate<Length>]) -> Estimate<Length> {
    layers.iter().fold(Estimate::new(Length::ZERO, Length::ZERO), sum)
}

/// How far the wet side's finished floor stands above the dry side's at the entry, up positive; nothing if flush.
///
/// ```
/// use survey::build_up::{Side, step};
/// use survey::units::{Estimate, Length};
///
/// let mm = |value: f64| Estimate::new(Length::mm(value), Length::mm(0.5));
/// let wet = Side { structure: mm(-40.0), layers: vec![mm(18.0), mm(32.0), mm(9.5)] };
/// let dry = Side { structure: mm(0.0), layers: vec![mm(18.0)] };
/// let step = step(&wet, &dry);
/// assert!((step.value.to_mm() - 1.5).abs() < 1e-12);
/// assert!((step.u.to_mm() - 0.5 * 6.0_f64.sqrt()).abs() < 1e-12);
/// ```
pub fn step(wet: &Side, dry: &Side) -> Estimate<Length> {
    difference(wet.finished(), &dry.finished())
}

/// How far below a joist's top the cleats go that carry a recessed deck sheet, down positive.
///
/// ```
/// use survey::build_up::cleat_below;
/// use survey::units::{Estimate, Length};
///
/// let mm = |value: f64| Estimate::new(Length::mm(value), Length::ZERO);
/// assert_eq!(cleat_below(mm(0.0), mm(-40.0), mm(18.0)).value, Length::mm(58.0));
/// ```
pub fn cleat_below(joist: Estimate<Length>, deck: Estimate<Length>, sheet: Estimate<Length>) -> Estimate<Length> {
    difference(joist, &difference(deck, &sheet))
}

fn sum(one: Estimate<Length>, other: &Estimate<Length>) -> Estimate<Length> {
    Estimate::new(one.value + other.value, both(one.u, other.u))
}

fn difference(one: Estimate<Length>, other: &Estimate<Length>) -> Estimate<Length> {
    Estimate::new(one.value - other.value, both(one.u, other.u))
}

fn both(one: Length, other: Length) -> Length {
    Length::mm(one.to_mm().hypot(other.to_mm()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(value: f64) -> Estimate<Length> {
        Estimate::new(Length::mm(value), Length::mm(0.3))
    }

    #[test]
    fn floors_that_meet_have_no_step() {
        let dry = Side { structure: mm(2.0), layers: vec![mm(18.0), mm(6.0)] };
        let wet = Side { structure: mm(-29.5), layers: vec![mm(18.0), mm(25.0), mm(3.0), mm(9.5)] };
        assert!(step(&wet, &dry).value.abs().to_mm() < 1e-12);
        assert_eq!(thickness(&[]).value, Length::ZERO);
    }
}
