//! The shape of every joist.

use super::departure::{Departure, departure};
use super::{Grid, Joist, Misfit, Profile, Sag, SharpDrop, is_sagging, rest, sharp_drop};
use crate::Analysis;
use crate::units::{Estimate, Length, Ratio};

/// The shape of one joist.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    pub id: String,
    /// The largest departure from its own chord; `None` with fewer than three readings.
    pub crown_or_sag: Option<Departure>,
    /// The last reading less the first: positive where it climbs away from the door wall.
    pub out_of_level: Option<Estimate<Length>>,
    /// The other edge less the first at each station where both were read.
    pub twist: Vec<Option<Length>>,
    /// The height over the plane that most of the joists share, at each station.
    pub of_the_rest: Vec<Option<Length>>,
    /// Whether it hangs over its own ends beyond the ratio.
    pub sagging: bool,
    /// `None` with fewer than three readings.
    pub sag: Option<Sag>,
    /// Where to look underneath for a notch, a split or a cut.
    pub sharp_drops: Vec<SharpDrop>,
}

/// Crown or sag, level, twist and standing of every joist, in the order of the grid; up is positive.
///
/// A joist is sagging where its largest drop below its own chord, less two standard uncertainties, exceeds one part in
/// `sag_ratio` of the distance between its first and last readings. The plane of the rest is the least-squares plane
/// of the joists that depart from their own chord by at most `straight`; with fewer than two of them, of all.
///
/// # Uncertainty
/// Propagated from the uncertainty of one reading, readings being independent.
///
/// # Problems reported
/// `missing-reading` for each top that was not read; `no-shared-plane` where the readings span none.
///
/// # Errors
/// [`Misfit`] where the tops do not fit the stations or nothing was read.
///
/// # Source
/// Common practice: a joist is judged by the string stretched over its own ends, then against its neighbours.
///
/// ```
/// use survey::guard::{Member, MemberKind};
/// use survey::joists::{Grid, Joist, shapes};
/// use survey::units::{Length, Ratio};
///
/// let inches = Length::inches;
/// let (depth, span, first_bearing) = (inches(9.25), inches(138.0), inches(-24.0));
/// let member = Member { kind: MemberKind::Sawn, depth, span, first_bearing };
/// // Down from the line 44-1/4, 44, 43-7/8, 44-3/16: a crown of 1/3 in, 60 in from the door wall.
/// let tops = [44.25, 44.0, 43.875, 44.1875].map(|down| Some(inches(-down))).to_vec();
/// let (id, x) = ("J4".to_string(), inches(48.0));
/// let joist = Joist { id, x, tops, other_edge: vec![], member, sound: Some(true), approval: None };
/// let stations = [0.0, 30.0, 60.0, 90.0].map(inches).to_vec();
/// let grid = Grid { stations, joists: vec![joist], u: inches(1.0 / 32.0) };
/// let shapes = shapes(&grid, Ratio::of(360.0), Length::mm(6.35))?;
/// let crown = shapes.value[0].crown_or_sag.unwrap();
/// assert!((crown.value.value.to_inches() - 1.0 / 3.0).abs() < 1e-12);
/// assert_eq!(crown.station, inches(60.0));
/// # Ok::<(), survey::joists::Misfit>(())
/// ```
pub fn shapes(grid: &Grid, sag_ratio: Ratio, straight: Length) -> Result<Analysis<Vec<Shape>>, Misfit> {
    grid.check()?;
    let profiles: Vec<Profile> = grid.joists.iter().map(|joist| grid.profile(joist)).collect();
    let own: Vec<Option<Departure>> = profiles.iter().map(|profile| departure(profile, grid.u)).collect();
    let rest = rest::of_the_rest(grid, &own, straight);
    let each = grid.joists.iter().zip(profiles).zip(own).zip(rest.value);
    let shape = |(((joist, profile), crown_or_sag), of_the_rest): (((&Joist, Profile), _), _)| Shape {
        id: joist.id.clone(),
        crown_or_sag,
        out_of_level: out_of_level(&profile, grid.u),
        twist: twist(joist),
        of_the_rest,
        sagging: is_sagging(&profile, grid.u, sag_ratio),
        sag: crown_or_sag.and_then(|_| Sag::of(&profile, &joist.member, grid.u)),
        sharp_drops: sharp_drop::sharp_drops(&profile, grid.u),
    };
    let problems = grid.missing().into_iter().chain(rest.problems).collect();
    Ok(Analysis { value: each.map(shape).collect(), problems })
}

fn out_of_level(profile: &Profile, u: Length) -> Option<Estimate<Length>> {
    let [first, last] = profile.ends()?;
    Some(Estimate::new(Length::mm(last.1 - first.1), u * 2f64.sqrt()))
}

fn twist(joist: &Joist) -> Vec<Option<Length>> {
    let other = joist.other_edge.iter().copied().chain(std::iter::repeat(None));
    joist.tops.iter().zip(other).map(|(one, other)| Some(other? - (*one)?)).collect()
}

#[cfg(test)]
mod tests {
    use super::super::example::grid;
    use super::*;
    use crate::ProblemKind;
    use proptest::prelude::*;

    fn shapes_of(grid: &Grid) -> Vec<Shape> {
        shapes(grid, Ratio::of(360.0), Length::mm(6.35)).unwrap().value
    }

    fn near(found: Length, inches: f64) {
        assert!((found.to_inches() - inches).abs() < 1e-9, "{} {inches}", found.to_inches());
    }

    #[test]
    fn crown_level_and_twist() {
        let mut grid = grid(&[&[0.0, 0.25, 0.5, 0.1], &[0.0, 0.0, 0.0, 0.0], &[0.0, 0.0, 0.0, 0.0]]);
        grid.joists[0].other_edge = vec![None, Some(Length::inches(0.125)), None, Some(Length::inches(0.1))];
        let shapes = shapes_of(&grid);
        let crown = shapes[0].crown_or_sag.unwrap();
        near(crown.value.value, 0.5 - 0.2 / 3.0);
        near(crown.value.u, (1.0 + 1.0 / 9.0 + 4.0 / 9.0_f64).sqrt() / 32.0);
        near(shapes[0].out_of_level.unwrap().value, 0.1);
        near(shapes[0].out_of_level.unwrap().u, 2f64.sqrt() / 32.0);
        assert_eq!(shapes[0].twist, [None, Some(Length::inches(-0.125)), None, Some(Length::ZERO)]);
        near(shapes[0].of_the_rest[2].unwrap(), 0.5);
        assert_eq!(shapes[1].crown_or_sag.unwrap().value.value, Length::ZERO);
        assert!(!shapes[0].sagging && shapes[0].sharp_drops.is_empty());
    }

    #[test]
    fn the_plane_of_the_rest_leaves_the_odd_joist_out() {
        let level: &[f64] = &[0.0, 0.0, 0.0, 0.0];
        let odd: &[f64] = &[0.0, -0.5, -0.5, 0.0];
        let shapes_with_one = shapes_of(&grid(&[level, odd, level]));
        near(shapes_with_one[1].of_the_rest[1].unwrap(), -0.5);
        near(shapes_with_one[0].of_the_rest[1].unwrap(), 0.0);
        // With one straight joist only, the plane is of all readings.
        let shapes_with_two = shapes_of(&grid(&[odd, odd, level]));
        assert!(shapes_with_two[2].of_the_rest[0].unwrap() > Length::ZERO);
    }

    #[test]
    fn too_little_to_say() {
        let mut grid = grid(&[&[0.0, 0.25, 0.1]]);
        grid.joists[0].tops[1] = None;
        let found = shapes(&grid, Ratio::of(360.0), Length::mm(6.35)).unwrap();
        assert_eq!(found.value[0].crown_or_sag, None);
        assert_eq!(found.value[0].of_the_rest, [None; 3]);
        let kinds: Vec<_> = found.problems.iter().map(|problem| problem.kind).collect();
        assert_eq!(kinds, [ProblemKind::MissingReading, ProblemKind::NoSharedPlane]);
    }

    proptest! {
        #[test]
        fn shift_and_tilt_leave_the_shape_alone(
            tops in proptest::collection::vec(-10.0..10.0f64, 5), shift in -50.0..50.0f64, tilt in -0.01..0.01f64,
        ) {
            let before = grid(&[&tops]);
            let tilted: Vec<f64> = tops.iter().enumerate().map(|(k, z)| z + shift + tilt * 30.0 * k as f64).collect();
            let after = grid(&[&tilted]);
            let crown = |grid: &Grid| shapes_of(grid)[0].crown_or_sag.unwrap().value.value.to_mm();
            prop_assert!((crown(&before) - crown(&after)).abs() < 1e-9);
        }
    }
}
