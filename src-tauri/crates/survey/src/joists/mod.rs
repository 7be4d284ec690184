//! The joists as read: which one is crowned, sagged, twisted, out of level, and where to look underneath.

mod departure;
mod profile;
mod rest;
mod sag;
mod shape;
mod sharp_drop;

pub use departure::Departure;
pub(crate) use profile::{Profile, Stretch};
pub use sag::Sag;
pub(crate) use sag::is_sagging;
pub use shape::{Shape, shapes};
pub use sharp_drop::SharpDrop;

use crate::guard::{Approval, Member};
use crate::units::Length;
use crate::{Problem, ProblemKind};
use std::fmt;

/// Joists by stations: every joist is read at the same places along its length.
#[derive(Debug, Clone, PartialEq)]
pub struct Grid {
    /// How far each station lies from the door wall, the nearest first.
    pub stations: Vec<Length>,
    pub joists: Vec<Joist>,
    /// The standard uncertainty of one reading.
    pub u: Length,
}

/// One joist: its tops by station, and what is known of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Joist {
    pub id: String,
    /// Where it lies across the room.
    pub x: Length,
    /// The height of its top at each station; `None` where it was not read.
    pub tops: Vec<Option<Length>>,
    /// The height of its other top edge, where both edges were read; the higher edge counts. May be empty.
    pub other_edge: Vec<Option<Length>>,
    pub member: Member,
    /// Whether somebody looked and found it sound; `None` if nobody has.
    pub sound: Option<bool>,
    pub approval: Option<Approval>,
}

/// The grid cannot be computed with.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Misfit {
    NoJoists,
    NoStations,
    /// No joist was read anywhere.
    NothingRead,
    /// Station `at` is not farther from the door wall than the one before it.
    StationsNotAscending {
        at: usize,
    },
    /// A joist has more or fewer tops than there are stations.
    TopsDoNotMatch {
        joist: usize,
    },
}

impl fmt::Display for Misfit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoJoists => f.write_str("There is no joist."),
            Self::NoStations => f.write_str("There is no station."),
            Self::NothingRead => f.write_str("No joist has a reading."),
            Self::StationsNotAscending { at } => {
                write!(f, "Station {at} must lie farther from the door wall than the one before it.")
            }
            Self::TopsDoNotMatch { joist } => {
                write!(f, "Joist {joist} needs one top for each station; where it was not read the top is empty.")
            }
        }
    }
}

impl std::error::Error for Misfit {}

impl Joist {
    /// The height that carries the sheet at a station: the higher of the edges read there.
    pub(crate) fn top(&self, station: usize) -> Option<Length> {
        let edge = |edges: &[Option<Length>]| edges.get(station).copied().flatten();
        match (edge(&self.tops), edge(&self.other_edge)) {
            (Some(one), Some(other)) => Some(one.max(other)),
            (one, other) => one.or(other),
        }
    }
}

impl Grid {
    /// Whether it can be computed with.
    ///
    /// # Errors
    /// [`Misfit`] naming what does not fit, counted from 0.
    pub fn check(&self) -> Result<(), Misfit> {
        if self.joists.is_empty() {
            return Err(Misfit::NoJoists);
        }
        if self.stations.is_empty() {
            return Err(Misfit::NoStations);
        }
        let descends = |pair: &[Length]| !matches!(pair, [near, far] if far > near);
        if let Some(at) = self.stations.windows(2).position(descends) {
            return Err(Misfit::StationsNotAscending { at: at + 1 });
        }
        let count = self.stations.len();
        let fits = |edges: &[Option<Length>]| edges.len() == count;
        let unfit = |joist: &Joist| !(fits(&joist.tops) && (joist.other_edge.is_empty() || fits(&joist.other_edge)));
        if let Some(joist) = self.joists.iter().position(unfit) {
            return Err(Misfit::TopsDoNotMatch { joist });
        }
        let read = self.joists.iter().any(|joist| (0..count).any(|station| joist.top(station).is_some()));
        if read { Ok(()) } else { Err(Misfit::NothingRead) }
    }

    pub(crate) fn profile(&self, joist: &Joist) -> Profile {
        let read = self.stations.iter().enumerate();
        Profile::new(read.filter_map(|(k, y)| joist.top(k).map(|z| (y.to_mm(), z.to_mm()))).collect())
    }

    /// One problem for each top that was not read.
    pub(crate) fn missing(&self) -> Vec<Problem> {
        let all = self.joists.iter().enumerate().flat_map(|(j, joist)| {
            let unread = (0..self.stations.len()).filter(|&k| joist.top(k).is_none());
            unread.map(move |k| (format!("joists[{j}].tops[{k}]"), &joist.id, k))
        });
        let says = |(at, id, k)| {
            Problem::at(
                ProblemKind::MissingReading,
                at,
                format!("{id} was not read at station {k}; it is left out there."),
            )
        };
        all.map(says).collect()
    }
}

#[cfg(test)]
pub(crate) mod example {
    //! Small grids for tests, in inches.

    use super::*;
    use crate::guard::MemberKind;

    /// A sound sawn 2x10 of 138 in clear span that begins 24 in behind the door wall.
    pub(crate) fn joist(id: &str, x: f64, tops: &[f64]) -> Joist {
        Joist {
            id: id.into(),
            x: Length::inches(x),
            tops: tops.iter().map(|&z| Some(Length::inches(z))).collect(),
            other_edge: Vec::new(),
            member: Member {
                kind: MemberKind::Sawn,
                depth: Length::inches(9.25),
                span: Length::inches(138.0),
                first_bearing: Length::inches(-24.0),
            },
            sound: Some(true),
            approval: None,
        }
    }

    /// Joists 16 in apart with the given tops, at stations 30 in apart.
    pub(crate) fn grid(tops: &[&[f64]]) -> Grid {
        let stations = (0..tops.first().map_or(0, |tops| tops.len())).map(|k| Length::inches(30.0 * k as f64));
        let joists = tops.iter().enumerate().map(|(j, tops)| joist(&format!("J{}", j + 1), 16.0 * j as f64, tops));
        Grid { stations: stations.collect(), joists: joists.collect(), u: Length::inches(1.0 / 32.0) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_cannot_be_computed_with() {
        let good = example::grid(&[&[0.0, 0.0], &[0.0, 0.0]]);
        assert_eq!(good.check(), Ok(()));
        let check = |change: fn(&mut Grid), misfit| {
            let mut grid = good.clone();
            change(&mut grid);
            assert_eq!(grid.check(), Err(misfit));
        };
        check(|grid| grid.joists.clear(), Misfit::NoJoists);
        check(|grid| grid.stations.clear(), Misfit::NoStations);
        check(|grid| grid.stations = vec![Length::ZERO; 2], Misfit::StationsNotAscending { at: 1 });
        check(|grid| grid.joists[1].tops.truncate(1), Misfit::TopsDoNotMatch { joist: 1 });
        check(|grid| grid.joists[0].other_edge = vec![None], Misfit::TopsDoNotMatch { joist: 0 });
        check(|grid| grid.joists.iter_mut().for_each(|joist| joist.tops = vec![None; 2]), Misfit::NothingRead);
    }

    #[test]
    fn the_higher_edge_counts_and_unread_tops_are_named() {
        let mut grid = example::grid(&[&[0.0, 1.0]]);
        grid.joists[0].other_edge = vec![Some(Length::inches(0.5)), Some(Length::inches(0.5))];
        assert_eq!(grid.joists[0].top(0), Some(Length::inches(0.5)));
        assert_eq!(grid.joists[0].top(1), Some(Length::inches(1.0)));
        grid.joists[0].other_edge = vec![None, None];
        grid.joists[0].tops[1] = None;
        let missing = grid.missing();
        assert_eq!(missing.len(), 1);
        assert_eq!(missing[0].at.as_deref(), Some("joists[0].tops[1]"));
    }
}
