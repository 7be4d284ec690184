//! Classes of concrete floors by their F-numbers.

use super::{Provenance, Rule};
use crate::units::Ratio;

/// What a class asks of a whole floor, and at least of every part of it.
#[derive(Debug, Clone, PartialEq)]
pub struct FNumberClass {
    pub rule: Rule,
    pub flatness: Ratio,
    pub levelness: Ratio,
}

impl FNumberClass {
    /// The least flatness and levelness of any part: three fifths of the whole's.
    pub fn least_of_a_part(&self) -> (Ratio, Ratio) {
        (self.flatness * 0.6, self.levelness * 0.6)
    }
}

/// The classes, the plainest first. A bathroom is far too small to be given one: an indication only.
///
/// # Source
/// ACI 117-10, table 4.8.5.1, read in a stored copy.
///
/// ```
/// use survey::rules::f_number_classes;
///
/// let conventional = &f_number_classes()[0];
/// assert_eq!((conventional.flatness.to_f64(), conventional.levelness.to_f64()), (20.0, 15.0));
/// assert_eq!(conventional.least_of_a_part().0.to_f64(), 12.0);
/// ```
pub fn f_number_classes() -> Vec<FNumberClass> {
    let class = |(name, flatness, levelness): (&str, f64, f64)| FNumberClass {
        rule: Rule::of(name, "ACI 117 table 4.8.5.1", "2010", Provenance::Read),
        flatness: Ratio::of(flatness),
        levelness: Ratio::of(levelness),
    };
    let classes = [
        ("conventional", 20.0, 15.0),
        ("moderately flat", 25.0, 20.0),
        ("flat", 35.0, 25.0),
        ("very flat", 45.0, 35.0),
        ("super flat", 60.0, 40.0),
    ];
    classes.map(class).into()
}
