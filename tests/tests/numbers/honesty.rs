//! Verdicts keep their word, by simulation: true floors with known faults, read with noise again and again.

use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use rand_distr::{Distribution, StandardNormal};
use survey::blunders::blunders;
use survey::drainage::{FallLimits, FallRule};
use survey::fall_run::{FallRun, fall_run, judge_runs};
use survey::straightedge::{Definition, line};
use survey::straightedge_surface::{self, GapNoise};
use survey::triangulation::triangulate;
use survey::units::{Length, Probability, Slope};
use survey::verdict::{Decision, Verdict};
use survey::{Point, level_net};

const SD: f64 = 0.5;

struct Noise(ChaCha8Rng);

impl Noise {
    fn seeded(seed: u64) -> Self {
        Self(ChaCha8Rng::seed_from_u64(seed))
    }

    fn next(&mut self) -> f64 {
        let standard: f64 = StandardNormal.sample(&mut self.0);
        SD * standard
    }

    fn share(&mut self, draws: u32, mut wrong: impl FnMut(&mut Self) -> bool) -> f64 {
        f64::from((0..draws).filter(|_| wrong(self)).count() as u32) / f64::from(draws)
    }
}

/// Five per cent, and three standard errors of a share of so many draws.
fn five_per_cent(draws: u32) -> f64 {
    0.05 + 3.0 * (0.05 * 0.95 / f64::from(draws)).sqrt()
}

fn tolerance(limit: f64) -> line::Tolerance {
    let (limit, reading_sd) = (Length::mm(limit), Length::mm(SD));
    line::Tolerance { limit, reading_sd, bar_sd: Length::ZERO, decision: Decision::Guarded }
}

/// The verdict on a line whose true heights were read once, every 300 mm.
fn said(truth: &[f64], length: f64, definition: Definition, limit: f64, noise: &mut Noise) -> Verdict {
    let read = truth.iter().enumerate().map(|(k, z)| line::LinePoint::mm(k as f64 * 300.0, z + noise.next()));
    let points: Vec<line::LinePoint> = read.collect();
    line::judge(&points, Length::mm(length), definition, tolerance(limit)).expect("a line").value.verdict
}

/// The gap of the true heights themselves.
fn truly(truth: &[f64], length: f64, definition: Definition) -> f64 {
    let points: Vec<line::LinePoint> =
        truth.iter().enumerate().map(|(k, z)| line::LinePoint::mm(k as f64 * 300.0, *z)).collect();
    line::gap(&points, Length::mm(length), definition).expect("a line").value.gap.to_mm().abs()
}

#[test]
fn every_definition_on_a_line_keeps_its_word() {
    const DRAWS: u32 = 600;
    let mut noise = Noise::seeded(7);
    let waves = |deep: f64| (0..11).map(|k| deep * (f64::from(k) * 0.9).sin()).collect::<Vec<f64>>();
    let dip = |deep: f64| (0..11).map(|k| if k == 4 { -deep } else { 0.0 }).collect::<Vec<f64>>();
    let hump = |high: f64| (0..11).map(|k| if k == 6 { high } else { 0.0 }).collect::<Vec<f64>>();
    for definition in [Definition::Supported, Definition::Resting, Definition::EndSupported] {
        for (what, truth) in [("waves", waves(2.0)), ("dip", dip(3.0)), ("hump", hump(3.0))] {
            for length in [900.0, 3000.0] {
                // The limit is the true gap itself: either way to decide is wrong.
                let limit = truly(&truth, length, definition);
                let within = noise.share(DRAWS, |n| said(&truth, length, definition, limit, n) == Verdict::Within);
                assert!(within <= five_per_cent(DRAWS), "{definition:?} {what} {length}: within {within}");
                let out = noise.share(DRAWS, |n| said(&truth, length, definition, limit, n) == Verdict::Out);
                assert!(out <= five_per_cent(DRAWS), "{definition:?} {what} {length}: out {out}");
            }
        }
    }
}

/// A room of readings 400 mm apart.
fn floor(truth: impl Fn(f64, f64) -> f64, noise: &mut Noise) -> Vec<Point> {
    let place = |k: usize| ((k % 6) as f64 * 400.0, (k / 6) as f64 * 400.0);
    (0..30).map(place).map(|(x, y)| Point::mm(x, y, truth(x, y) + noise.next())).collect()
}

fn room_said(points: &[Point], limit: f64) -> Verdict {
    let surface = triangulate(points, &[]).expect("a grid").value;
    let noise = GapNoise { reading_sd: Length::mm(SD), bar_sd: Length::ZERO };
    straightedge_surface::judge(&surface, Length::mm(1600.0), Length::mm(limit), noise, Decision::Guarded).verdict
}

#[test]
fn a_whole_room_keeps_its_word() {
    const DRAWS: u32 = 60;
    let mut noise = Noise::seeded(3);
    // A perfect floor against limits that its raw gap exceeds nearly always.
    for limit in [0.0, 1.0] {
        let out = noise.share(DRAWS, |n| room_said(&floor(|_, _| 0.0, n), limit) == Verdict::Out);
        assert!(out <= five_per_cent(DRAWS), "a perfect floor against {limit}: out {out}");
    }
    // A dip in the middle that stands at the limit.
    let dip = |x: f64, y: f64| if x == 800.0 && y == 800.0 { -3.175 } else { 0.0 };
    let within = noise.share(DRAWS, |n| room_said(&floor(dip, n), 3.175) == Verdict::Within);
    assert!(within <= five_per_cent(DRAWS), "a dip at the limit: within {within}");
    let deep = |x: f64, y: f64| 3.0 * dip(x, y);
    assert!(noise.share(DRAWS, |n| room_said(&floor(deep, n), 3.175) == Verdict::Out) > 0.95, "a deep dip is found");
}

#[test]
fn falls_over_runs_keep_their_word() {
    const DRAWS: u32 = 1000;
    let mut noise = Noise::seeded(5);
    let limits = FallLimits { minimum: Slope::one_in(80.0), maximum: Slope::one_in(50.0), rule: FallRule::Path };
    // Six runs of 600 mm: one just at the least fall, the others in the middle.
    let runs = |first: f64, n: &mut Noise| -> Vec<FallRun> {
        let run = |fall: f64| {
            let (lower, upper) = (Point::mm(0.0, 0.0, n.next()), Point::mm(600.0, 0.0, 600.0 * fall + n.next()));
            fall_run(lower, upper, Length::mm(SD)).expect("a run")
        };
        std::iter::once(first).chain([0.016; 5]).map(run).collect()
    };
    let mut share = |fall: f64, wrong: Verdict| {
        noise.share(DRAWS, |n| judge_runs(&runs(fall, n), limits, Decision::Guarded).verdict == wrong)
    };
    let (within, out) = (share(0.0125, Verdict::Within), share(0.0125, Verdict::Out));
    assert!(within <= five_per_cent(DRAWS) && out <= five_per_cent(DRAWS), "at the least: {within} {out}");
    let (within, out) = (share(0.02, Verdict::Within), share(0.02, Verdict::Out));
    assert!(within <= five_per_cent(DRAWS) && out <= five_per_cent(DRAWS), "at the greatest: {within} {out}");
    assert!(share(-0.01, Verdict::Out) > 0.99, "a run that falls backward is found");
}

/// One blunder of 5 to 40 standard deviations in each floor is taken out 99 times in 100, and a good reading beside it
/// one time in 100 at most. (At 5 alone the data can show it less often: see `smallest_detectable`.)
#[test]
fn blunders_are_caught_and_good_readings_are_not() {
    const DRAWS: u32 = 3000;
    let mut noise = Noise::seeded(11);
    let (mut missed, mut alarms) = (0, 0);
    for draw in 0..DRAWS as usize {
        let mut points = floor(|x, y| 0.004 * x - 0.002 * y, &mut noise);
        let wild = draw * 7 % points.len();
        let size = SD * (5.0 + 35.0 * (draw as f64 * 0.618_034).fract());
        points[wild].z += Length::mm(if draw % 2 == 0 { size } else { -size });
        let found = blunders(&points, Length::mm(SD), Probability::of(0.001)).expect("a plane").value.removed;
        missed += u32::from(!found.contains(&wild));
        alarms += found.iter().filter(|&&removed| removed != wild).count() as u32;
    }
    assert!(f64::from(missed) <= 0.01 * f64::from(DRAWS), "missed {missed} of {DRAWS}");
    assert!(f64::from(alarms) <= 0.01 * f64::from(DRAWS) * 29.0, "{alarms} good readings of {}", DRAWS * 29);
}

/// The same in a net of two set-ups with eight points in common.
#[test]
fn a_blunder_in_a_net_is_suspected_where_it_is() {
    const DRAWS: u32 = 1000;
    let mut noise = Noise::seeded(13);
    let names: Vec<String> = (0..8).map(|k| format!("P{k}")).collect();
    let mut found = |size: f64| {
        let mut hits = 0;
        for draw in 0..DRAWS as usize {
            let reading = |setup: usize, point: usize, noise: &mut Noise| level_net::Sight {
                setup: ["S1", "S2", "S3"][setup].into(),
                point: names[point].clone(),
                reading: Length::mm(1000.0 + 50.0 * setup as f64 - point as f64 + noise.next()),
                sd: Length::mm(SD),
            };
            let mut sights: Vec<_> = (0..24).map(|k| reading(k % 3, k / 3, &mut noise)).collect();
            let wild = draw % 24;
            sights[wild].reading += Length::mm(size);
            let fixed = level_net::Fixed { height: Length::ZERO, sd: Length::mm(5.0) };
            let datum = [("P0".to_string(), fixed)].into();
            let net = level_net::level_net(&sights, &datum, Probability::of(0.001)).expect("tied").value;
            let at = net.largest_w.is_some_and(|(sight, _)| sight == wild);
            hits += u32::from(net.blunder_suspected && (at || size == 0.0));
        }
        f64::from(hits) / f64::from(DRAWS)
    };
    // An inch misread, and nothing wrong at all (24 readings at one in a thousand).
    assert!(found(25.4) >= 0.99);
    let alarms = found(0.0);
    assert!(alarms <= 0.024 + 3.0 * 0.005, "{alarms}");
}

/// What is said to decide does: a perfect floor read that well is within 19 times in 20.
#[test]
fn what_can_decide_does() {
    const DRAWS: u32 = 600;
    let places: Vec<line::LinePoint> = (0..11).map(|k| line::LinePoint::mm(f64::from(k) * 300.0, 0.0)).collect();
    let bar = Length::mm(3000.0);
    // The limit that a standard deviation of 0.5 mm just decides.
    let needs = line::decides(&places, bar, Length::mm(1.0), Length::mm(SD)).expect("a line").needs_sd;
    let limit = SD / needs.to_mm();
    let mut noise = Noise::seeded(17);
    let within =
        |limit: f64, n: &mut Noise| said(&[0.0; 11], 3000.0, Definition::Supported, limit, n) == Verdict::Within;
    let sure = noise.share(DRAWS, |n| within(limit, n));
    assert!(sure >= 0.95 - 3.0 * 0.009, "{limit}: within {sure}");
    let half = noise.share(DRAWS, |n| within(limit / 2.0, n));
    assert!(half < 0.5, "half the limit cannot be decided: within {half}");
}
