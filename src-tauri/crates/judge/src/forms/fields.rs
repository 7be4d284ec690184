//! The fields that forms share: points with missing heights, positive numbers, places.

use crate::forms::refusal::Refusal;
use schemars::JsonSchema;
use serde::Deserialize;
use survey::units::{Length, Probability};
use survey::{PlanPosition, Point, Problem, ProblemKind};

/// Points as they come, in mm; a height of `null` is a missing reading.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(transparent)]
pub struct WirePoints(pub Vec<(f64, f64, Option<f64>)>);

/// The points that were read, and where each stood in the input.
#[derive(Debug, Clone)]
pub struct Kept<T> {
    pub items: Vec<T>,
    /// The input index of each kept item.
    pub index: Vec<usize>,
    /// How many items the input held.
    pub total: usize,
    /// One `missing-reading` for each that was left out.
    pub problems: Vec<Problem>,
}

impl WirePoints {
    /// The points with a height, as quantities.
    ///
    /// # Errors
    /// `not-finite` naming the coordinate.
    pub fn kept(&self, field: &str) -> Result<Kept<Point>, Refusal> {
        keep(self.0.iter().enumerate().map(|(i, &(x, y, z))| {
            let Some(z) = z else { return Ok(None) };
            Ok(Some(Point {
                x: length(&format!("{field}[{i}][0]"), x)?,
                y: length(&format!("{field}[{i}][1]"), y)?,
                z: length(&format!("{field}[{i}][2]"), z)?,
            }))
        }))
    }
}

/// Keeps what is there, and notes the index of what is not.
///
/// # Errors
/// The first refusal among the items.
pub fn keep<T>(items: impl Iterator<Item = Result<Option<T>, Refusal>>) -> Result<Kept<T>, Refusal> {
    let mut kept = Kept { items: Vec::new(), index: Vec::new(), total: 0, problems: Vec::new() };
    for (i, item) in items.enumerate() {
        kept.total += 1;
        match item? {
            Some(item) => {
                kept.items.push(item);
                kept.index.push(i);
            }
            None => kept.problems.push(missing(i)),
        }
    }
    Ok(kept)
}

fn missing(index: usize) -> Problem {
    Problem::at(ProblemKind::MissingReading, index, format!("Reading {index} has no height and was left out."))
}

impl<T> Kept<T> {
    /// One value for each input item, `null` where the reading was left out.
    pub fn spread<U: Clone>(&self, values: impl IntoIterator<Item = U>) -> Vec<Option<U>> {
        let mut all = vec![None; self.total];
        for (&at, value) in self.index.iter().zip(values) {
            if let Some(place) = all.get_mut(at) {
                *place = Some(value);
            }
        }
        all
    }

    /// The input index of the kept item `k`.
    pub fn input_index(&self, k: usize) -> usize {
        self.index.get(k).copied().unwrap_or(k)
    }

    /// Where the input item `i` stands among the kept ones.
    pub fn kept_index(&self, i: usize) -> Option<usize> {
        self.index.binary_search(&i).ok()
    }
}

/// A length in mm.
///
/// # Errors
/// `not-finite` naming the field.
pub fn length(field: &str, mm: f64) -> Result<Length, Refusal> {
    Length::try_mm(mm).map_err(|_| Refusal::not_finite(field))
}

/// A length in mm that is more than nothing, such as a straightedge or a standard deviation.
///
/// # Errors
/// `not-finite`, or `out-of-range` where it is zero or negative.
pub fn positive(field: &str, mm: f64) -> Result<Length, Refusal> {
    let length = length(field, mm)?;
    if mm > 0.0 { Ok(length) } else { Err(Refusal::out_of_range(field, "more than zero")) }
}

/// A length in mm that is not negative.
///
/// # Errors
/// `not-finite`, or `out-of-range` where it is negative.
pub fn not_negative(field: &str, mm: f64) -> Result<Length, Refusal> {
    let length = length(field, mm)?;
    if mm >= 0.0 { Ok(length) } else { Err(Refusal::out_of_range(field, "zero or more")) }
}

/// A probability strictly between 0 and 1, such as a significance or a confidence.
///
/// # Errors
/// `not-finite`, or `out-of-range`.
pub fn inner_probability(field: &str, value: f64) -> Result<Probability, Refusal> {
    if !value.is_finite() {
        return Err(Refusal::not_finite(field));
    }
    match Probability::try_of(value) {
        Ok(p) if value > 0.0 && value < 1.0 => Ok(p),
        _ => Err(Refusal::out_of_range(field, "between 0 and 1")),
    }
}

/// A plan position in mm.
///
/// # Errors
/// `not-finite` naming the coordinate.
pub fn position(field: &str, at: (f64, f64)) -> Result<PlanPosition, Refusal> {
    Ok(PlanPosition { x: length(&format!("{field}[0]"), at.0)?, y: length(&format!("{field}[1]"), at.1)? })
}

/// Plan positions in mm.
///
/// # Errors
/// `not-finite` naming the coordinate.
pub fn positions(field: &str, all: &[(f64, f64)]) -> Result<Vec<PlanPosition>, Refusal> {
    all.iter().enumerate().map(|(i, &at)| position(&format!("{field}[{i}]"), at)).collect()
}
