//! The thinnest slab between two parallel planes that holds every reading.

use crate::Point;
use crate::plane::{self, Plane, PlaneError};
use crate::units::{Length, Slope};
use nalgebra::{Matrix4, Vector4};

/// Violations below this share of the largest residual are rounding.
const ROUNDING: f64 = 1e-13;
/// After this many exchanges without gain the first candidate is taken instead of the largest, so that none repeats.
const PATIENCE: usize = 8;

/// The minimum zone of a set of readings.
#[derive(Debug, Clone, PartialEq)]
pub struct FlatnessZone {
    /// The smallest vertical distance between two parallel planes that hold all readings.
    pub minimum_zone: Length,
    /// The range of the residuals from the least-squares plane, never less.
    pub least_squares_range: Length,
    /// The plane midway, its height given at the centroid of the readings.
    pub plane: Plane,
    /// The readings that touch the upper plane and hold it, by index: with those below three and one, or two and two.
    pub above: Vec<usize>,
    pub below: Vec<usize>,
}

/// The minimum zone of readings: the smallest vertical distance between two parallel planes holding all, as a length.
///
/// # Units
/// Millimetres, measured vertically.
///
/// # Uncertainty
/// None stated: the zone of noisy readings is wider than the floor's own.
///
/// # Errors
/// As [`plane::best_fit`].
///
/// # Source
/// Minimum zone reference plane, ISO 12781-1 (recalled, not read). Solved as the dual linear program by exchange of
/// contacts (simplex), with the smallest index after a stall (Bland 1977; recalled, not read).
///
/// ```
/// use survey::{Point, flatness_zone::flatness_zone};
///
/// // A low dome: the least-squares plane shows 12/11, the thinnest slab is 1.
/// let dome = [(0.0, 0.0, 0.0), (4.0, 0.0, 0.0), (0.0, 4.0, 0.0), (1.0, 1.0, 1.0)].map(|(x, y, z)| Point::mm(x, y, z));
/// let zone = flatness_zone(&dome)?;
/// assert!((zone.minimum_zone.to_mm() - 1.0).abs() < 1e-12);
/// assert!((zone.least_squares_range.to_mm() - 12.0 / 11.0).abs() < 1e-12);
/// # Ok::<(), survey::plane::PlaneError>(())
/// ```
pub fn flatness_zone(points: &[Point]) -> Result<FlatnessZone, PlaneError> {
    let fitted = plane::centred(points)?;
    let residuals = || fitted.residuals.iter().copied();
    let range = residuals().fold(f64::MIN, f64::max) - residuals().fold(f64::MAX, f64::min);
    let slab = Slab::thinnest(&fitted.unit, &fitted.residuals);
    let [lift, q, r, half] = slab.plane;
    let [slope_x, slope_y] = fitted.slopes_of([q, r]);
    let base = fitted.plane;
    Ok(FlatnessZone {
        minimum_zone: Length::mm((2.0 * half).min(range)),
        least_squares_range: Length::mm(range),
        plane: Plane {
            at: base.at,
            height: base.height + Length::mm(lift),
            slope_x: base.slope_x + Slope::ratio(slope_x),
            slope_y: base.slope_y + Slope::ratio(slope_y),
        },
        above: slab.touching(1.0),
        below: slab.touching(-1.0),
    })
}

/// One side of the slab held by one reading: +1 from above, −1 from below.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Contact {
    reading: usize,
    side: f64,
}

/// A slab by its four contacts, in the orthonormal coordinates of the layout.
struct Slab {
    contacts: [Contact; 4],
    /// How strongly each contact holds: not negative, together 1.
    holds: Vector4<f64>,
    /// Height at the centroid, slopes along the two coordinates, half the thickness.
    plane: [f64; 4],
}

impl Slab {
    /// Exchanges contacts until no reading sticks out.
    fn thinnest(unit: &[[f64; 2]], z: &[f64]) -> Self {
        let slack = ROUNDING * z.iter().fold(0.0, |most: f64, z| most.max(z.abs()));
        let mut slab = Self::first(unit, z);
        let mut stalled = 0;
        // Each exchange thickens the slab or is one of a stall that ends: far fewer than this.
        for _ in 0..50 * z.len().max(20) {
            let Some(next) = slab.sticking_out(unit, z, slack, stalled > PATIENCE) else { break };
            let Some(exchanged) = slab.exchanged(next, unit, z, stalled > PATIENCE) else { break };
            stalled = if exchanged.plane[3] > slab.plane[3] + slack { 0 } else { stalled + 1 };
            slab = exchanged;
        }
        slab
    }

    /// No thickness yet: a plane through three readings that span the plan, one of them held from both sides.
    fn first(unit: &[[f64; 2]], z: &[f64]) -> Self {
        let farthest = |score: &dyn Fn(&[f64; 2]) -> f64| {
            let best = unit.iter().enumerate().max_by(|a, b| score(a.1).total_cmp(&score(b.1)));
            best.map_or(0, |(index, _)| index)
        };
        let i = farthest(&|p| p[0]);
        let j = farthest(&|p| (p[0] - unit[i][0]).hypot(p[1] - unit[i][1]));
        let k = farthest(&|p| area(unit[i], unit[j], *p).abs());
        let contacts = [(i, 1.0), (i, -1.0), (j, 1.0), (k, 1.0)].map(|(reading, side)| Contact { reading, side });
        Self::of(contacts, unit, z).unwrap_or(Self { contacts, holds: Vector4::zeros(), plane: [0.0; 4] })
    }

    fn of(contacts: [Contact; 4], unit: &[[f64; 2]], z: &[f64]) -> Option<Self> {
        let columns = matrix(&contacts, unit);
        let lu = columns.lu();
        let holds = lu.solve(&Vector4::new(0.0, 0.0, 0.0, 1.0))?;
        let heights = Vector4::from_iterator(contacts.iter().map(|contact| contact.side * z[contact.reading]));
        let plane = columns.transpose().lu().solve(&heights)?;
        Some(Self { contacts, holds, plane: plane.into() })
    }

    /// The reading that sticks out most, or the first that does.
    fn sticking_out(&self, unit: &[[f64; 2]], z: &[f64], slack: f64, first: bool) -> Option<Contact> {
        let [a, b, c, half] = self.plane;
        let mut most = (slack, None);
        for (reading, (p, z)) in unit.iter().zip(z).enumerate() {
            let off = z - a - b * p[0] - c * p[1];
            if off.abs() - half > most.0 {
                most = (off.abs() - half, Some(Contact { reading, side: off.signum() }));
                if first {
                    break;
                }
            }
        }
        most.1
    }

    /// The slab with a new contact in place of the one that lets go first.
    fn exchanged(&self, next: Contact, unit: &[[f64; 2]], z: &[f64], first: bool) -> Option<Self> {
        let column = column(&next, unit);
        let pull = matrix(&self.contacts, unit).lu().solve(&column)?;
        let ratio = |place: usize| self.holds[place].max(0.0) / pull[place];
        let mut loose: Vec<usize> = (0..4).filter(|&place| pull[place] > 1e-12).collect();
        let order = |place: usize| if first { (self.contacts[place].reading as f64, 0.0) } else { (-pull[place], 0.0) };
        loose.sort_by(|&a, &b| ratio(a).total_cmp(&ratio(b)).then(order(a).0.total_cmp(&order(b).0)));
        let mut contacts = self.contacts;
        contacts[*loose.first()?] = next;
        Self::of(contacts, unit, z)
    }

    /// The readings that hold one side.
    fn touching(&self, side: f64) -> Vec<usize> {
        let holding = self.contacts.iter().zip(self.holds.iter());
        let mut all: Vec<usize> = holding
            .filter(|(contact, hold)| contact.side == side && **hold > 1e-12)
            .map(|(contact, _)| contact.reading)
            .collect();
        all.sort_unstable();
        all.dedup();
        all
    }
}

fn column(contact: &Contact, unit: &[[f64; 2]]) -> Vector4<f64> {
    let [q, r] = unit[contact.reading];
    Vector4::new(contact.side, contact.side * q, contact.side * r, 1.0)
}

fn matrix(contacts: &[Contact; 4], unit: &[[f64; 2]]) -> Matrix4<f64> {
    Matrix4::from_columns(&contacts.map(|contact| column(&contact, unit)))
}

fn area(a: [f64; 2], b: [f64; 2], c: [f64; 2]) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The largest vertical distance that three and one, or two and two, readings force apart.
    fn brute(points: &[Point]) -> f64 {
        let mm = |p: &Point| [p.x.to_mm(), p.y.to_mm(), p.z.to_mm()];
        let all: Vec<[f64; 3]> = points.iter().map(mm).collect();
        let n = all.len();
        let mut most: f64 = 0.0;
        for i in 0..n {
            for j in i + 1..n {
                for k in j + 1..n {
                    for l in k + 1..n {
                        most = most.max(forced([all[i], all[j], all[k], all[l]]));
                    }
                }
            }
        }
        most
    }

    /// Four places depend on each other with weights that sum to nothing; what the heights do not share is forced apart.
    fn forced(p: [[f64; 3]; 4]) -> f64 {
        let flat = |i: usize| [p[i][0], p[i][1]];
        let weights = [
            area(flat(1), flat(2), flat(3)),
            -area(flat(0), flat(2), flat(3)),
            area(flat(0), flat(1), flat(3)),
            -area(flat(0), flat(1), flat(2)),
        ];
        let total: f64 = weights.iter().map(|w| w.abs()).sum();
        let apart: f64 = weights.iter().zip(p).map(|(w, p)| w * p[2]).sum();
        if total > 1e-9 { 2.0 * apart.abs() / total } else { 0.0 }
    }

    fn spread(points: &[Point], plane: &Plane) -> f64 {
        let off = points.iter().map(|p| (p.z - plane.height_at(crate::PlanPosition { x: p.x, y: p.y })).to_mm());
        let (low, high) = off.fold((f64::MAX, f64::MIN), |(low, high), off| (low.min(off), high.max(off)));
        high - low
    }

    #[test]
    fn three_readings_have_none_and_a_line_is_refused() {
        let p = Point::mm;
        let zone = flatness_zone(&[p(0.0, 0.0, 5.0), p(9.0, 0.0, 1.0), p(0.0, 9.0, 2.0)]).expect("a plane");
        assert!(zone.minimum_zone.to_mm() < 1e-12);
        let line = [p(0.0, 0.0, 5.0), p(9.0, 0.0, 1.0), p(18.0, 0.0, 2.0)];
        assert_eq!(flatness_zone(&line), Err(PlaneError::CollinearPoints));
    }

    #[test]
    fn a_flat_floor_on_a_map_has_none() {
        let floor: Vec<Point> = (0..30)
            .map(|i| (f64::from(i % 6) * 256.0, f64::from(i / 6) * 256.0))
            .map(|(x, y)| Point::mm(4.5e9 + x, 4.5e9 + y, x / 64.0))
            .collect();
        assert!(flatness_zone(&floor).expect("a plane").minimum_zone.to_mm() < 1e-12);
    }

    fn floor() -> impl Strategy<Value = Vec<Point>> {
        // Heights and places on a coarse grid: ties and collinear places everywhere.
        proptest::collection::vec((0..5i32, 0..4i32, -6..6i32), 4..14)
            .prop_map(|all| all.iter().map(|&(x, y, z)| Point::mm(f64::from(x), f64::from(y), f64::from(z))).collect())
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(512))]

        #[test]
        fn it_is_what_four_readings_force(floor in floor()) {
            if let Ok(zone) = flatness_zone(&floor) {
                let (found, forced) = (zone.minimum_zone.to_mm(), brute(&floor));
                // Two readings at one place force their difference apart as well.
                let apart = |a: &Point, b: &Point| if (a.x, a.y) == (b.x, b.y) { (a.z - b.z).abs().to_mm() } else { 0.0 };
                let forced = floor.iter().flat_map(|a| floor.iter().map(move |b| apart(a, b))).fold(forced, f64::max);
                prop_assert!((found - forced).abs() < 1e-9, "{found} {forced}");
                prop_assert!((spread(&floor, &zone.plane) - found).abs() < 1e-9);
                prop_assert!(found <= zone.least_squares_range.to_mm());
            }
        }

        #[test]
        fn tilt_and_order_change_nothing(floor in floor(), a in -0.5..0.5f64, b in -0.5..0.5f64) {
            if let Ok(zone) = flatness_zone(&floor) {
                let tilted: Vec<Point> =
                    floor.iter().rev().map(|p| Point { z: p.z + p.x * a + p.y * b, ..*p }).collect();
                let tilted = flatness_zone(&tilted).expect("a plane");
                prop_assert!((tilted.minimum_zone - zone.minimum_zone).abs().to_mm() < 1e-9);
                prop_assert!((tilted.least_squares_range - zone.least_squares_range).abs().to_mm() < 1e-9);
            }
        }

        #[test]
        fn nothing_panics(values in proptest::collection::vec(proptest::num::f64::ANY, 0..40)) {
            let points: Vec<Point> = values.chunks_exact(3).map(|c| Point::mm(c[0], c[1], c[2])).collect();
            let _ = flatness_zone(&points);
        }
    }
}
