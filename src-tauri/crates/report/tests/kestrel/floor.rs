//! What was read, and its pictures.

use report::model::*;
use survey::PlanPosition;
use survey::units::Length;

/// Sixteenths of an inch below 44, down from the line; rows J1 to J7, columns 0 30 60 90 from the door wall.
pub(crate) const DOWN: [[i32; 4]; 7] =
    [[2, 3, 3, 2], [3, 4, 5, 3], [4, 4, 4, 4], [4, 0, -2, 3], [5, 7, 8, 6], [6, 14, 16, 8], [7, 8, 9, 8]];
pub(crate) const STATIONS: [f64; 4] = [0.0, 30.0, 60.0, 90.0];
const SPACING: f64 = 16.0;
/// J4 and J6 depart too far from their own chords to say where the rest lies.
const REST: [usize; 5] = [0, 1, 2, 4, 6];

pub(crate) fn inches(n: f64) -> Length {
    Length::mm(n * 25.4)
}

pub(crate) fn place(x: f64, y: f64) -> PlanPosition {
    PlanPosition { x: inches(x), y: inches(y) }
}

/// Sixteenths as a carpenter writes them: 9 is 9/16, 18 is 1-1/8.
pub(crate) fn figure(sixteenths: i32) -> String {
    let (whole, part) = (sixteenths / 16, sixteenths % 16);
    let shift = part.trailing_zeros().min(4);
    match (whole, part) {
        (_, 0) => whole.to_string(),
        (0, _) => format!("{}/{}", part >> shift, 16 >> shift),
        _ => format!("{whole}-{}/{}", part >> shift, 16 >> shift),
    }
}

fn height(joist: usize, station: usize) -> f64 {
    -f64::from(DOWN[joist][station]) / 16.0
}

fn mean(all: impl Iterator<Item = f64> + Clone) -> f64 {
    all.clone().sum::<f64>() / all.count() as f64
}

/// Slope of heights over places, both about their means.
fn slope(pairs: impl Iterator<Item = (f64, f64)> + Clone) -> f64 {
    let (x, z) = (mean(pairs.clone().map(|p| p.0)), mean(pairs.clone().map(|p| p.1)));
    let products = pairs.clone().map(|p| (p.0 - x) * (p.1 - z)).sum::<f64>();
    products / pairs.map(|p| (p.0 - x).powi(2)).sum::<f64>()
}

/// Departures in inches from the least-squares plane of the rest: on a full grid the two slopes do not mix.
fn departures() -> [[f64; 4]; 7] {
    let rest = REST.iter().flat_map(|&j| (0..4).map(move |s| (j as f64 * SPACING, STATIONS[s], height(j, s))));
    let a = slope(rest.clone().map(|(x, _, z)| (x, z)));
    let b = slope(rest.clone().map(|(_, y, z)| (y, z)));
    let c = mean(rest.map(|(x, y, z)| z - a * x - b * y));
    std::array::from_fn(|j| std::array::from_fn(|s| height(j, s) - a * j as f64 * SPACING - b * STATIONS[s] - c))
}

type Corner = [f64; 3];

/// The part of a polygon where `sign * (z - level)` is not negative.
fn clipped(polygon: &[Corner], level: f64, sign: f64) -> Vec<Corner> {
    let over = |p: &Corner| sign * (p[2] - level);
    let next = polygon.iter().cycle().skip(1);
    let mut kept = Vec::new();
    for (p, q) in polygon.iter().zip(next) {
        if over(p) >= 0.0 {
            kept.push(*p);
        }
        if over(p) * over(q) < 0.0 {
            let t = over(p) / (over(p) - over(q));
            kept.push([0, 1, 2].map(|i| p[i] + t * (q[i] - p[i])));
        }
    }
    kept
}

fn facets() -> Vec<[Corner; 3]> {
    let z = departures();
    let corner = |j: usize, s: usize| [j as f64 * SPACING, STATIONS[s], z[j][s]];
    let cells = (0..6).flat_map(|j| (0..3).map(move |s| (j, s)));
    cells
        .flat_map(|(j, s)| {
            let (near, far) = (corner(j, s), corner(j + 1, s + 1));
            [[near, corner(j + 1, s), far], [near, far, corner(j, s + 1)]]
        })
        .collect()
}

fn band(step: i32, facets: &[[Corner; 3]]) -> Band {
    let (from, to) = (f64::from(step) / 8.0, f64::from(step + 1) / 8.0);
    let part = |f: &[Corner; 3]| clipped(&clipped(f, from, 1.0), to, -1.0);
    let ring = |p: Vec<Corner>| p.iter().map(|c| place(c[0], c[1])).collect::<Vec<_>>();
    let (least, most, side) = if step < 0 { (-step - 1, -step, "low") } else { (step, step + 1, "high") };
    Band {
        from: inches(from),
        to: inches(to),
        figure: format!("{} to {} in {side}", figure(2 * least), figure(2 * most)),
        rings: facets.iter().map(part).filter(|p| p.len() > 2).map(ring).collect(),
    }
}

fn joist(j: usize) -> JoistLine {
    let x = j as f64 * SPACING;
    JoistLine { name: format!("J{}", j + 1), from: place(x, 0.0), to: place(x, 90.0) }
}

fn spot(side: Side, j: usize, amount: &str) -> Spot {
    let x = j as f64 * SPACING;
    Spot {
        side,
        at: place(x, 60.0),
        amount: amount.into(),
        name: format!("J{} at 60", j + 1),
        from_base: "60 in".into(),
        from_side: format!("{x} in"),
    }
}

pub(crate) fn map() -> Map {
    let facets = facets();
    Map {
        caption: "The joist tops as found, seen from above.".into(),
        reference: "High and low of the plane through J1, J2, J3, J5 and J7.".into(),
        outline: vec![place(0.0, 0.0), place(96.0, 0.0), place(96.0, 90.0), place(0.0, 90.0)],
        walls: Walls { base: "the door wall".into(), side: "the tub wall".into() },
        bands: (-5..4).map(|step| band(step, &facets)).collect(),
        ponds: vec![],
        joists: (0..7).map(joist).collect(),
        openings: vec![Opening { name: "doorway to the hall".into(), from: place(0.0, 0.0), to: place(32.0, 0.0) }],
        spots: vec![spot(Side::High, 3, "7/16 in"), spot(Side::Low, 5, "9/16 in")],
        straightedge: Some(Straightedge {
            sentence: "The bar across at 60 rests on J4 and J7 and shows 11/16 in at J6.".into(),
            from: place(48.0, 60.0),
            to: place(96.0, 60.0),
            supports: vec![place(48.0, 60.0), place(96.0, 60.0)],
            gap_at: place(80.0, 60.0),
        }),
        readings: (0..28).map(|i| place((i / 4) as f64 * SPACING, STATIONS[i % 4])).collect(),
    }
}

pub(crate) fn profiles() -> Profiles {
    let sentences = [
        "sags 1/16 in",
        "sags 1/8 in",
        "straight",
        "crowns 5/16 in at 60",
        "sags 5/32 in",
        "sags 17/32 in at 60",
        "sags 3/32 in",
    ];
    let point = |j: usize, s: usize| ProfilePoint {
        station: inches(STATIONS[s]),
        height: inches(height(j, s)),
        figure: reading(j, s),
        spot: (s == 2).then(|| [(3, Side::High), (5, Side::Low)].iter().find(|p| p.0 == j).map(|p| p.1)).flatten(),
    };
    Profiles {
        title: "Along the joists".into(),
        caption: "Down from the line in inches, at 0 30 60 90 from the door wall.".into(),
        joists: (0..7)
            .map(|j| Profile {
                name: format!("J{}", j + 1),
                sentence: sentences[j].into(),
                points: (0..4).map(|s| point(j, s)).collect(),
            })
            .collect(),
    }
}

fn reading(j: usize, s: usize) -> String {
    figure(44 * 16 + DOWN[j][s])
}

pub(crate) fn readings() -> Readings {
    let note =
        |j, s| ((j, s) == (0, 3)).then(|| "first typed 43-1/8, asked and corrected by the same person".to_owned());
    Readings {
        caption: "Down from the line in inches; columns are stations from the door wall. Bigger is lower.".into(),
        columns: STATIONS.iter().map(|s| s.to_string()).collect(),
        rows: (0..7)
            .map(|j| ReadingRow {
                name: format!("J{}", j + 1),
                cells: (0..4).map(|s| Cell { figure: reading(j, s), note: note(j, s) }).collect(),
            })
            .collect(),
    }
}
