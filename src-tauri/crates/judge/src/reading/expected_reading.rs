//! What the readings around a place lead one to expect there, and how surely.

use survey::surface::{self, Between, Waves};
use survey::units::{Estimate, Length};
use survey::{PlanPosition, Point, plane};

/// So many readings, the nearest, speak for a place: what lies behind them is hidden by them.
const NEAREST: usize = 40;

/// The readings over their best plane, and the waves that they show on it: as high as they scatter, half as long again
/// as they lie apart. `None` where the readings span no plane.
pub fn over_plane(read: &[Point], sd: Length) -> Option<(plane::Plane, Vec<Point>, Waves)> {
    let plane = plane::best_fit(read).ok()?;
    let over: Vec<Point> = read
        .iter()
        .map(|point| Point { z: point.z - plane.height_at(PlanPosition { x: point.x, y: point.y }), ..*point })
        .collect();
    let freedom = over.len().saturating_sub(3).max(1) as f64;
    let scatter = (over.iter().map(|point| point.z.to_mm().powi(2)).sum::<f64>() / freedom).sqrt();
    let length = Length::mm(1.5 * spacing(read));
    Some((plane, over, Waves { height_sd: Length::mm(scatter.max(sd.to_mm())), length, reading_sd: sd }))
}

/// The height that a new reading at a place is expected to give, with the standard uncertainty of that reading: the
/// floor as kriging knows it between its readings, and the noise of one more. `None` where fewer than four readings,
/// or readings in one line, say nothing of it.
pub fn expected(read: &[Point], sd: Length, at: PlanPosition) -> Option<Estimate<Length>> {
    let away = |point: &Point| (point.x - at.x).to_mm().hypot((point.y - at.y).to_mm());
    let mut near = read.to_vec();
    near.sort_by(|a, b| away(a).total_cmp(&away(b)));
    near.truncate(NEAREST);
    if near.len() < 4 {
        return None;
    }
    let (plane, over, waves) = over_plane(&near, sd)?;
    let found = surface::heights(&over, &[at], Between::Kriging(waves), None).ok()?.value;
    let mean = found.mean.first().copied().flatten()?;
    let floor = found.sd?.first().copied()?;
    Some(Estimate::new(plane.height_at(at) + mean, Length::mm(floor.to_mm().hypot(sd.to_mm()))))
}

/// What readings in one line lead one to expect of a further one: their mean, as far as they scatter about it. `None`
/// for fewer than three.
pub fn expected_among(near: &[Length], sd: Length) -> Option<Estimate<Length>> {
    if near.len() < 3 {
        return None;
    }
    let n = near.len() as f64;
    let mean = near.iter().map(|near| near.to_mm()).sum::<f64>() / n;
    let scatter = (near.iter().map(|near| (near.to_mm() - mean).powi(2)).sum::<f64>() / (n - 1.0)).sqrt();
    Some(Estimate::new(Length::mm(mean), Length::mm(scatter.hypot(sd.to_mm()))))
}

/// About how far apart the readings lie: the root of the area each stands for.
pub fn spacing(read: &[Point]) -> f64 {
    let range = |of: fn(&Point) -> f64| {
        let all = read.iter().map(of);
        all.clone().fold(f64::NEG_INFINITY, f64::max) - all.fold(f64::INFINITY, f64::min)
    };
    let (wide, deep) = (range(|point| point.x.to_mm()), range(|point| point.y.to_mm()));
    let each = wide * deep / read.len().max(1) as f64;
    if each.is_finite() && each > 0.0 { each.sqrt() } else { 300.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn slope(except: (f64, f64)) -> Vec<Point> {
        let all = (0..5).flat_map(|i| (0..4).map(move |j| (300.0 * f64::from(i), 300.0 * f64::from(j))));
        all.filter(|&at| at != except).map(|(x, y)| Point::mm(x, y, 0.02 * x)).collect()
    }

    fn place(x: f64, y: f64) -> PlanPosition {
        PlanPosition { x: Length::mm(x), y: Length::mm(y) }
    }

    #[test]
    fn an_even_slope_goes_on_as_it_was() {
        let sd = Length::mm(0.8);
        for at in [(600.0, 300.0), (0.0, 0.0), (1200.0, 900.0)] {
            let found = expected(&slope(at), sd, place(at.0, at.1)).expect("a slope");
            assert!((found.value.to_mm() - 0.02 * at.0).abs() < 1e-6, "{at:?}: {found:?}");
            assert!(found.u > sd && found.u < sd * 2.0, "{at:?}: {found:?}");
        }
    }

    #[test]
    fn a_corner_is_known_worse_than_the_middle() {
        let mut floor = slope((600.0, 300.0));
        floor.retain(|point| point.x.to_mm() > 0.0 || point.y.to_mm() > 0.0);
        let u = |x, y| expected(&floor, Length::mm(0.8), place(x, y)).expect("a floor").u;
        assert!(u(0.0, 0.0) > u(600.0, 300.0));
    }

    #[test]
    fn too_few_readings_and_readings_in_one_line_say_nothing() {
        let line: Vec<Point> = (0..6).map(|i| Point::mm(0.0, 300.0 * f64::from(i), 1.0)).collect();
        assert_eq!(expected(&line, Length::mm(0.8), place(0.0, 450.0)), None);
        assert_eq!(expected(&slope((0.0, 0.0))[..3], Length::mm(0.8), place(0.0, 0.0)), None);
        assert_eq!(expected_among(&[Length::mm(1.0); 2], Length::mm(0.8)), None);
        let among = expected_among(&[1.0, 2.0, 3.0].map(Length::mm), Length::ZERO).expect("three readings");
        assert_eq!((among.value.to_mm(), among.u.to_mm()), (2.0, 1.0));
    }
}
