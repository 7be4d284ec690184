//! How much it takes to fill a floor up to a level or a plane.

use crate::point::PlanPosition;
use crate::prism::prism;
use crate::triangulation::Triangulation;
use crate::units::{Area, Length, Mass, Ratio, Slope, Volume};

/// What is filled up to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FillTo {
    Level(Length),
    /// The plane of this height at a plan position, rising by the slopes toward x and y.
    Plane {
        height: Length,
        slope_x: Slope,
        slope_y: Slope,
        at: PlanPosition,
    },
}

impl FillTo {
    fn height_at(self, [x, y]: [f64; 2]) -> f64 {
        match self {
            Self::Level(level) => level.to_mm(),
            Self::Plane { height, slope_x, slope_y, at } => {
                height.to_mm() + slope_x.to_ratio() * (x - at.x.to_mm()) + slope_y.to_ratio() * (y - at.y.to_mm())
            }
        }
    }
}

/// How well the heights are known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FillNoise {
    /// The standard deviation of one reading.
    pub reading_sd: Length,
    /// The standard deviation of the level itself, common to the whole floor.
    pub level_sd: Length,
}

/// The volume between a floor and what it is filled to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fill {
    /// The plan area that is filled.
    pub area: Area,
    pub volume: Volume,
    /// `None` without noise, and where a reading stands above the fill: its edge then moves with the noise.
    pub u_volume: Option<Volume>,
}

impl Fill {
    /// The whole bags to order, each yielding `per_bag`, with a share of waste on top; `None` for bags without yield.
    ///
    /// ```
    /// use survey::fill::Fill;
    /// use survey::units::{Area, Ratio, Volume};
    /// let fill = Fill { area: Area::mm2(1e6), volume: Volume::litres(40.0), u_volume: None };
    /// assert_eq!(fill.bags(Volume::litres(14.0), Ratio::of(0.05)), Some(3), "42 litres are three bags, not four");
    /// ```
    pub fn bags(&self, per_bag: Volume, waste: Ratio) -> Option<u64> {
        let bags = self.volume.to_litres() * (1.0 + waste.to_f64()) / per_bag.to_litres();
        // A last digit of rounding is not another bag.
        (per_bag > Volume::ZERO && bags >= 0.0).then(|| (bags - 1e-9).ceil().max(0.0) as u64)
    }

    /// The mass of the fill at a density in kg per litre.
    pub fn mass(&self, kg_per_litre: Ratio) -> Mass {
        Mass::kg(self.volume.to_litres() * kg_per_litre.to_f64())
    }
}

/// The volume above a floor and below a level or plane, exact on its facets.
///
/// # Units
/// Heights positive upward, areas on the plan, volumes in litres inside.
///
/// # Uncertainty
/// `u_volume`² = Σ (wᵢ σᵢ)² + (area · level sd)², wᵢ a third of the area of the facets at a vertex; a mean of several
/// readings at one place has the standard deviation of a mean. The floor between readings is taken as the facets
/// have it.
///
/// # Source
/// Clipped prisms over triangles (common practice); law of propagation of uncertainty, JCGM 100, 5.1.2 (recalled,
/// not read).
///
/// ```
/// use survey::Point;
/// use survey::fill::{FillTo, fill};
/// use survey::triangulation::triangulate;
/// use survey::units::Length;
/// let floor = [(0.0, 0.0), (1000.0, 0.0), (0.0, 1000.0), (1000.0, 1000.0)].map(|(x, y)| Point::mm(x, y, 0.0));
/// let floor = triangulate(&floor, &[]).unwrap().value;
/// assert_eq!(fill(&floor, FillTo::Level(Length::mm(6.0)), None).volume.to_litres(), 6.0);
/// ```
pub fn fill(surface: &Triangulation, to: FillTo, noise: Option<FillNoise>) -> Fill {
    let mesh = &surface.mesh;
    let above: Vec<f64> = mesh.xy.iter().zip(&mesh.z).map(|(&xy, z)| to.height_at(xy) - z).collect();
    let pieces = (0..mesh.triangles.len()).map(|t| prism(mesh.area(t), mesh.triangles[t].map(|corner| above[corner])));
    let (area, volume) = pieces.fold((0.0, 0.0), |(area, volume), piece| (area + piece.0, volume + piece.1));
    let covered =
        (0..above.len()).all(|vertex| !mesh.is_corner(vertex) || Length::mm(above[vertex]).at_least(Length::ZERO));
    let u_volume = noise.filter(|_| covered).map(|noise| u_volume(surface, noise));
    Fill { area: Area::mm2(area), volume: Volume::litres(volume * 1e-6), u_volume }
}

fn u_volume(surface: &Triangulation, noise: FillNoise) -> Volume {
    let mesh = &surface.mesh;
    let mut share = vec![0.0; mesh.xy.len()];
    let mut whole = 0.0;
    for triangle in 0..mesh.triangles.len() {
        whole += mesh.area(triangle);
        mesh.triangles[triangle].into_iter().for_each(|corner| share[corner] += mesh.area(triangle) / 3.0);
    }
    let readings = share.iter().zip(&surface.readings_at).map(|(w, &count)| w * w / count.max(1) as f64).sum::<f64>();
    let (reading, level) = (noise.reading_sd.to_mm() * readings.sqrt(), noise.level_sd.to_mm() * whole);
    Volume::litres(reading.hypot(level) * 1e-6)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::point::Point;
    use crate::triangulation::triangulate;
    use proptest::prelude::*;

    fn floor(z: &[f64]) -> Triangulation {
        let place = |i: usize| ((i % 4) as f64 * 300.0, (i / 4) as f64 * 300.0);
        let points: Vec<Point> = z.iter().enumerate().map(|(i, &z)| Point::mm(place(i).0, place(i).1, z)).collect();
        triangulate(&points, &[]).expect("a grid").value
    }

    #[test]
    fn a_slope_is_filled_to_its_level_line() {
        // z = x/100 up to 9 mm, filled to 4.5: a wedge 450 × 600 under half of 4.5.
        let slope: Vec<f64> = (0..12).map(|i| f64::from(i % 4) * 3.0).collect();
        let found = fill(&floor(&slope), FillTo::Level(Length::mm(4.5)), None);
        assert!((found.area.to_mm2() - 450.0 * 600.0).abs() < 1e-9);
        assert!((found.volume.to_litres() - 450.0 * 600.0 * 2.25e-6).abs() < 1e-12);
    }

    #[test]
    fn the_uncertainty_is_that_of_a_weighted_sum() {
        let noise = FillNoise { reading_sd: Length::mm(0.5), level_sd: Length::mm(0.2) };
        let of = |level: f64| fill(&floor(&[0.0; 12]), FillTo::Level(Length::mm(level)), Some(noise)).u_volume;
        // Facets of 45,000 mm² in a 3 × 2 grid of squares cut from their lower left corner.
        let facets = [2.0, 3.0, 3.0, 1.0, 3.0, 6.0, 6.0, 3.0, 1.0, 3.0, 3.0, 2.0];
        let sum: f64 = facets.iter().map(|n| (n * 15_000.0_f64).powi(2)).sum();
        let expected = ((0.25 * sum) + (0.2 * 540_000.0_f64).powi(2)).sqrt() * 1e-6;
        let found = of(0.0).map_or(0.0, Volume::to_litres);
        assert!((found - expected).abs() < 1e-12, "{found} is not {expected}");
        assert_eq!(of(-0.1), None, "readings stand above the fill");
    }

    #[test]
    fn bags_need_a_yield() {
        let none = fill(&floor(&[0.0; 12]), FillTo::Level(Length::mm(-1.0)), None);
        assert_eq!((none.area, none.volume), (Area::ZERO, Volume::ZERO));
        assert_eq!(none.bags(Volume::litres(10.0), Ratio::of(0.05)), Some(0));
        assert_eq!(none.bags(Volume::ZERO, Ratio::of(0.05)), None);
    }

    proptest! {
        #[test]
        fn a_plane_added_to_floor_and_fill_changes_nothing(
            z in prop::collection::vec(-5.0f64..5.0, 12), level in -6.0f64..6.0, sx in -0.05f64..0.05, sy in -0.05f64..0.05,
        ) {
            let tilted: Vec<f64> = z.iter().enumerate()
                .map(|(i, z)| z + sx * (i % 4) as f64 * 300.0 + sy * (i / 4) as f64 * 300.0).collect();
            let at = PlanPosition { x: Length::ZERO, y: Length::ZERO };
            let plane = FillTo::Plane {
                height: Length::mm(level), slope_x: Slope::ratio(sx), slope_y: Slope::ratio(sy), at,
            };
            let (level, tilted) = (fill(&floor(&z), FillTo::Level(Length::mm(level)), None), fill(&floor(&tilted), plane, None));
            prop_assert!((level.volume.to_litres() - tilted.volume.to_litres()).abs() < 1e-9);
            prop_assert!((level.area.to_mm2() - tilted.area.to_mm2()).abs() < 1e-3);
        }

        #[test]
        fn between_two_levels_the_volume_is_their_difference(z in prop::collection::vec(-5.0f64..5.0, 12)) {
            let volume = |level: f64| fill(&floor(&z), FillTo::Level(Length::mm(level)), None).volume.to_litres();
            prop_assert!((volume(7.0) - volume(6.0) - 0.54).abs() < 1e-12);
            prop_assert!(volume(1.0) >= volume(0.5));
        }
    }
}
