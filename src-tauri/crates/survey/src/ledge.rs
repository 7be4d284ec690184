//! The pitch of a bench, a sill, a shelf or a curb, and the opening of a niche.

use crate::units::{Angle, Estimate, Length, Slope};

/// The pitch of a ledge toward the room, positive where water runs off its front, from readings at its back and front.
///
/// `None` for a ledge without depth.
///
/// # Units
/// Heights, up positive; the depth from the back reading to the front one.
///
/// # Uncertainty
/// √2 that of one reading, over the depth.
///
/// # Source
/// JCGM 100, 5.1.2 (recalled, not read).
///
/// ```
/// use survey::ledge::pitch;
/// use survey::units::Length;
/// // A quarter of an inch over a bench of 12 in is a quarter in a foot.
/// let found = pitch(Length::inches(0.25), Length::ZERO, Length::inches(12.0), Length::inches(1.0 / 64.0)).unwrap();
/// assert!((found.value.to_inches_per_foot() - 0.25).abs() < 1e-12);
/// ```
pub fn pitch(back: Length, front: Length, depth: Length, reading_sd: Length) -> Option<Estimate<Slope>> {
    (depth > Length::ZERO)
        .then(|| Estimate::new((back - front).over(depth), (reading_sd.abs() * 2f64.sqrt()).over(depth)))
}

/// The pitch from a level's own angle, positive where water runs off the front.
///
/// # Uncertainty
/// The slope of the angle's own uncertainty, which near level is the same everywhere.
///
/// ```
/// use survey::ledge::pitch_of_tilt;
/// use survey::units::Angle;
/// let found = pitch_of_tilt(Angle::degrees(1.2), Angle::degrees(0.05));
/// assert!((found.value.to_inches_per_foot() - 0.2514).abs() < 1e-4);
/// ```
pub fn pitch_of_tilt(tilt: Angle, sd: Angle) -> Estimate<Slope> {
    Estimate::new(tilt.to_slope(), sd.abs().to_slope())
}

/// An opening in a wall: from where to where.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Opening {
    pub from: Length,
    pub to: Length,
}

/// The rough opening of a niche: its unit with clearance all round, centred on a line.
///
/// # Source
/// Common practice; the unit's own sheet gives the clearance.
///
/// ```
/// use survey::ledge::niche;
/// use survey::units::Length;
/// let found = niche(Length::inches(12.0), Length::inches(0.25), Length::inches(30.0));
/// assert_eq!((found.from, found.to), (Length::inches(23.75), Length::inches(36.25)));
/// ```
pub fn niche(unit: Length, clearance: Length, centre: Length) -> Opening {
    let half = (unit + clearance * 2.0) / 2.0;
    Opening { from: centre - half, to: centre + half }
}

/// The centre, nearest to the wanted one, at which a finished opening begins at a joint of the tiles beside it.
///
/// `first` is the first piece of the row with the joint at the wall before it; joints follow every tile and joint.
/// The wanted centre itself where tiles are no size.
///
/// # Source
/// Common practice: a cut at one side of a niche only, or none.
///
/// ```
/// use survey::ledge::on_the_module;
/// use survey::units::Length;
/// let mm = Length::mm;
/// // Joints at 150, 453, 756 …: a niche of 300 wanted centred at 640 begins at 456, after the joint at 453.
/// assert_eq!(on_the_module(mm(640.0), mm(300.0), mm(150.0), mm(300.0), mm(3.0)), mm(606.0));
/// ```
pub fn on_the_module(centre: Length, opening: Length, first: Length, tile: Length, joint: Length) -> Length {
    let module = (tile + joint).to_mm();
    if module <= 0.0 {
        return centre;
    }
    let begins = (centre - opening / 2.0 - first - joint).to_mm();
    let at = (begins / module).round() * module;
    first + joint + Length::mm(at) + opening / 2.0
}

/// How far a thinner tile is built out so that its face comes flush with its neighbour's, positive outward.
///
/// Each is a tile on its bed.
///
/// ```
/// use survey::ledge::build_out;
/// use survey::units::Length;
/// let mm = Length::mm;
/// assert_eq!(build_out((mm(10.0), mm(3.0)), (mm(6.5), mm(2.0))), mm(4.5));
/// ```
pub fn build_out(neighbour: (Length, Length), thinner: (Length, Length)) -> Length {
    neighbour.0 + neighbour.1 - thinner.0 - thinner.1
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_ledge_that_falls_to_the_wall_has_a_pitch_below_nothing() {
        let mm = Length::mm;
        assert!(pitch(mm(0.0), mm(3.0), mm(300.0), mm(0.5)).is_some_and(|found| found.value < Slope::ZERO));
        assert_eq!(pitch(mm(0.0), mm(3.0), mm(0.0), mm(0.5)), None);
        assert!(pitch_of_tilt(Angle::degrees(-0.3), Angle::degrees(0.1)).value < Slope::ZERO);
        assert_eq!(on_the_module(mm(40.0), mm(10.0), mm(0.0), mm(0.0), mm(0.0)), mm(40.0));
    }

    proptest! {
        #[test]
        fn no_niche_moves_by_more_than_half_a_tile(centre in 200.0f64..2000.0, first in 20.0f64..300.0) {
            let mm = Length::mm;
            let found = on_the_module(mm(centre), mm(300.0), mm(first), mm(300.0), mm(3.0));
            prop_assert!((found - mm(centre)).abs().to_mm() <= 151.5 + 1e-9);
            let begins = (found.to_mm() - 150.0 - first - 3.0) / 303.0;
            prop_assert!((begins - begins.round()).abs() < 1e-9);
        }
    }
}
