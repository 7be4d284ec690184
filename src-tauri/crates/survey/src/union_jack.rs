//! A floor walked over with a tilting foot along eight lines: its diagonals, its edges, and across its middle.

use crate::tilt_walk::heights;
use crate::units::{Angle, Length};
use std::fmt;

/// The tilts along eight lines, each from its first corner or middle to the other; an even number on each.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Tilts {
    /// North-west to south-east, north-east to south-west.
    pub diagonals: [Vec<Angle>; 2],
    /// North-east to north-west, north-east to south-east, north-west to south-west, south-east to south-west.
    pub edges: [Vec<Angle>; 4],
    /// East to west, north to south.
    pub middles: [Vec<Angle>; 2],
}

/// The heights of every station, up positive, over a plane that is level along both diagonals through the centre.
#[derive(Debug, Clone, PartialEq)]
pub struct UnionJack {
    pub diagonals: [Vec<Length>; 2],
    pub edges: [Vec<Length>; 4],
    pub middles: [Vec<Length>; 2],
    /// How much higher each line across the middle ends than the edges it meets: the check on all of it.
    pub closures: [Length; 2],
}

/// A line has no station in its middle: it needs an even number of tilts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NoMiddle;

impl fmt::Display for NoMiddle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("each line needs an even number of steps, so that one ends in its middle")
    }
}

impl std::error::Error for NoMiddle {}

/// The heights of a floor walked along eight lines, each joined to the others where they cross.
///
/// The diagonals are tilted until their ends are level and meet in the centre; the edges are hung between the corners
/// so found; the lines across the middle are laid parallel to the middles of the edges they meet, through the centre.
///
/// # Uncertainty
/// The closures show it; readings in a mesh, adjusted together, do better than eight lines.
///
/// # Errors
/// [`NoMiddle`] for a line with an odd number of steps, or none.
///
/// # Source
/// Moody 1955, the procedure as its published worksheet of a plate shows it (figures read in an open data repository).
///
/// ```
/// use survey::union_jack::{Tilts, union_jack};
/// use survey::units::{Angle, Length};
///
/// let level = |steps: usize| vec![Angle::degrees(0.2); steps];
/// let tilts = Tilts {
///     diagonals: [level(6), level(6)],
///     edges: [level(4), level(4), level(4), level(4)],
///     middles: [level(4), level(4)],
/// };
/// let flat = union_jack(Length::mm(600.0), &tilts)?;
/// assert!(flat.edges[0].iter().all(|height| height.abs().to_mm() < 1e-12));
/// assert!(flat.closures[0].abs().to_mm() < 1e-12);
/// # Ok::<(), survey::union_jack::NoMiddle>(())
/// ```
pub fn union_jack(foot: Length, tilts: &Tilts) -> Result<UnionJack, NoMiddle> {
    let hung = |line: &[Angle], from: Length, to: Length| between(&heights(foot, line), from, to);
    let [falling, rising] = &tilts.diagonals;
    let diagonals = [
        through_centre(hung(falling, Length::ZERO, Length::ZERO))?,
        through_centre(hung(rising, Length::ZERO, Length::ZERO))?,
    ];
    let (nw, ne) = (ends(&diagonals[0])[0], ends(&diagonals[1])[0]);
    let (se, sw) = (ends(&diagonals[0])[1], ends(&diagonals[1])[1]);
    let [north, east, west, south] = &tilts.edges;
    let edges = [hung(north, ne, nw), hung(east, ne, se), hung(west, nw, sw), hung(south, se, sw)];
    let mut middle_of = Vec::new();
    for edge in &edges {
        middle_of.push(middle(edge)?);
    }
    let [north, east, west, south] = [middle_of[0], middle_of[1], middle_of[2], middle_of[3]];
    let [across, down] = &tilts.middles;
    let middles = [through_centre(hung(across, east, west))?, through_centre(hung(down, north, south))?];
    let closures = [ends(&middles[0])[0] - east, ends(&middles[1])[0] - north];
    Ok(UnionJack { diagonals, edges, middles, closures })
}

/// The same line tilted and shifted so that it ends at two heights.
fn between(line: &[Length], from: Length, to: Length) -> Vec<Length> {
    let [first, last] = ends(line);
    let steps = line.len().saturating_sub(1).max(1) as f64;
    let lift = |k: usize| from - first + (to - from - (last - first)) * (k as f64 / steps);
    line.iter().enumerate().map(|(k, height)| *height + lift(k)).collect()
}

/// The same line shifted so that its middle is nothing.
fn through_centre(line: Vec<Length>) -> Result<Vec<Length>, NoMiddle> {
    let centre = middle(&line)?;
    Ok(line.into_iter().map(|height| height - centre).collect())
}

fn ends(line: &[Length]) -> [Length; 2] {
    [line.first(), line.last()].map(|end| end.copied().unwrap_or_default())
}

fn middle(line: &[Length]) -> Result<Length, NoMiddle> {
    let odd = line.len() % 2 == 1 && line.len() > 1;
    line.get(line.len() / 2).copied().filter(|_| odd).ok_or(NoMiddle)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_odd_walk_has_no_middle() {
        let steps = |count: usize| vec![Angle::degrees(0.1); count];
        let mut tilts = Tilts {
            diagonals: [steps(4), steps(4)],
            edges: [steps(2), steps(2), steps(2), steps(2)],
            middles: [steps(2), steps(2)],
        };
        assert!(union_jack(Length::mm(100.0), &tilts).is_ok());
        tilts.edges[2] = steps(3);
        assert_eq!(union_jack(Length::mm(100.0), &tilts), Err(NoMiddle));
        assert_eq!(union_jack(Length::mm(100.0), &Tilts::default()), Err(NoMiddle));
    }
}
