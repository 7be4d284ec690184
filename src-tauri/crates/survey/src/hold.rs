//! How much water a floor holds before it crosses the entry, with its drain stopped.

use crate::bed::Shape;
use crate::drainage::{Drain, FallLimits, FallRule, NoDrainage, drainage};
use crate::triangulation::Triangulation;
use crate::units::{Area, Duration, Length, Ratio, Slope, Volume};

/// What stands on a floor when its drain is stopped and water just begins to cross the entry.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hold {
    pub volume: Volume,
    /// The plan area under water.
    pub area: Area,
    pub deepest: Length,
}

impl Hold {
    /// How long it takes to fill at so many litres a minute; `None` for no flow.
    ///
    /// ```
    /// use survey::hold::Hold;
    /// use survey::units::{Area, Length, Ratio, Volume};
    /// let hold = Hold { volume: Volume::litres(20.0), area: Area::ZERO, deepest: Length::ZERO };
    /// assert_eq!(hold.lasts(Ratio::of(10.0)).map(|time| time.to_seconds()), Some(120.0));
    /// ```
    pub fn lasts(self, litres_a_minute: Ratio) -> Option<Duration> {
        let flow = litres_a_minute.to_f64();
        (flow > 0.0).then(|| Duration::seconds(self.volume.to_litres() / flow * 60.0))
    }
}

/// What a floor as read holds, given the readings that stand on the entry line.
///
/// The walls hold water, the drain takes none, and the entry is the only way out: every hollow behind it counts.
///
/// # Errors
/// As [`drainage`]: readings that are none, or a floor without any.
///
/// # Source
/// The standing water of the floor with the entry for its outlet (geometry).
///
/// ```
/// use survey::Point;
/// use survey::hold::holds;
/// use survey::triangulation::triangulate;
/// // A metre square that rises 20 mm to the entry: a wedge of 10 litres.
/// let floor = [(0.0, 0.0, 0.0), (1000.0, 0.0, 20.0), (1000.0, 1000.0, 20.0), (0.0, 1000.0, 0.0)];
/// let floor = triangulate(&floor.map(|(x, y, z)| Point::mm(x, y, z)), &[]).unwrap().value;
/// let held = holds(&floor, &[1, 2]).unwrap();
/// assert!((held.volume.to_litres() - 10.0).abs() < 1e-9);
/// ```
pub fn holds(surface: &Triangulation, entry: &[usize]) -> Result<Hold, NoDrainage> {
    let none = FallLimits { minimum: Slope::ZERO, maximum: Slope::ratio(1.0), rule: FallRule::Path };
    let found = drainage(surface, &Drain::Vertices(entry.to_vec()), &[], none)?.value;
    Ok(Hold { volume: found.total_volume, area: found.total_area, deepest: found.max_depth })
}

/// What a floor holds as it is designed: all that its level edge stands over the bed.
///
/// # Source
/// The rise over the whole area less what the bed takes: a third of it to a point, a half to a line (geometry).
///
/// ```
/// use survey::bed::Shape;
/// use survey::hold::designed;
/// use survey::units::{Area, Length};
/// let held = designed(Shape::ToALine, Area::mm2(1800.0 * 900.0), Length::mm(25.0));
/// assert!((held.volume.to_litres() - 20.25).abs() < 1e-9);
/// ```
pub fn designed(shape: Shape, area: Area, rise: Length) -> Hold {
    let rise = rise.max(Length::ZERO);
    let all = Volume::litres(area.to_mm2().max(0.0) * rise.to_mm() * 1e-6);
    Hold { volume: all - crate::bed::volume(shape, area, Length::ZERO, rise), area, deepest: rise }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::point::Point;
    use crate::triangulation::triangulate;

    #[test]
    fn the_lowest_place_of_the_entry_decides() {
        let floor = |low: f64| {
            let all = [
                (0.0, 0.0, 0.0),
                (1000.0, 0.0, 20.0),
                (1000.0, 500.0, low),
                (1000.0, 1000.0, 20.0),
                (0.0, 1000.0, 0.0),
            ];
            triangulate(&all.map(|(x, y, z)| Point::mm(x, y, z)), &[]).expect("a floor").value
        };
        let of = |low: f64| holds(&floor(low), &[1, 2, 3]).expect("an entry");
        assert!((of(20.0).deepest.to_mm() - 20.0).abs() < 1e-9);
        assert!((of(15.0).deepest.to_mm() - 15.0).abs() < 1e-9 && of(15.0).volume < of(20.0).volume);
        assert!(holds(&floor(20.0), &[]).is_err());
    }

    #[test]
    fn a_floor_without_rise_holds_nothing_and_no_flow_never_fills_it() {
        let none = designed(Shape::ToAPoint, Area::mm2(1e6), Length::mm(-3.0));
        assert_eq!(none.volume, Volume::ZERO);
        assert_eq!(none.lasts(Ratio::ZERO), None);
        let point = designed(Shape::ToAPoint, Area::mm2(1e6), Length::mm(30.0));
        assert!((point.volume.to_litres() - 10.0).abs() < 1e-9, "a third of thirty litres");
    }
}
