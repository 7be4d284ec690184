//! Verdicts against published figures: conformance probabilities, guard bands, combined uncertainty.

use survey::units::{Estimate, Length, Probability, Ratio};
use survey::verdict::{
    Component, Conformance, Decision, Limits, Outcome, Shape, Verdict, all_within, combined, conformance, outcome,
    readings_needed,
};

fn judge(y: f64, u: f64, limits: Limits<f64>, confidence: f64) -> Conformance<Ratio> {
    let limits = Limits { lower: limits.lower.map(Ratio::of), upper: limits.upper.map(Ratio::of) };
    let value = Estimate::new(Ratio::of(y), Ratio::of(u));
    conformance(value, limits, Probability::of(confidence), Decision::Guarded).expect("limits stand")
}

fn near(what: &str, found: f64, expected: f64, slack: f64) {
    assert!((found - expected).abs() <= slack, "{what}: {found}, expected {expected}");
}

/// JCGM 106 examples (recalled, not read): diode −5.47 V under −5.40 V, container 509.7 kPa over 490 kPa, oil viscosity
/// between 12.5 and 16.3; printed 0.92, 0.99, 0.66. Further digits from Φ to 17 places.
#[test]
fn conformance_probabilities() {
    let cases = [
        ("diode", judge(-5.47, 0.05, Limits::at_most(-5.40), 0.95), 0.92, 0.919_243_340_766_228_9, "too-close-to-call"),
        ("container", judge(509.7, 8.6, Limits::at_least(490.0), 0.95), 0.99, 0.989_009_547_384_822_2, "within"),
        (
            "oil",
            judge(13.6, 1.8, Limits::between(12.5, 16.3), 0.95),
            0.66,
            0.662_629_786_495_307_8,
            "too-close-to-call",
        ),
        ("tile floor", judge(2.5, 0.35, Limits::at_most(3.175), 0.95), 0.97, 0.973_107_955_568_800_9, "within"),
    ];
    for (what, said, printed, exact, verdict) in cases {
        near(what, said.probability.to_f64(), printed, 0.005);
        near(what, said.probability.to_f64(), exact, 1e-12);
        assert_eq!(said.verdict.name(), verdict, "{what}");
    }
    let at_the_limit = judge(3.175, 0.35, Limits::at_most(3.175), 0.95);
    assert_eq!(at_the_limit.probability.to_f64(), 0.5);
}

/// JCGM 106 table 1 (recalled, not read): 0.80 0.84, 0.90 1.28, 0.95 1.64, 0.99 2.33, 0.999 3.09.
#[test]
fn guard_bands() {
    for (confidence, printed, exact) in [
        (0.80, 0.84, 0.841_621_233_572_914_2),
        (0.90, 1.28, 1.281_551_565_544_600_4),
        (0.95, 1.64, 1.644_853_626_951_472_7),
        (0.99, 2.33, 2.326_347_874_040_841),
        (0.999, 3.09, 3.090_232_306_167_813_5),
    ] {
        let said = judge(0.0, 1.0, Limits::at_most(10.0), confidence);
        let guard = 10.0 - said.acceptance.upper.expect("an upper limit").to_f64();
        near("printed", guard, printed, 0.005);
        near("exact", guard, exact, 1e-12);
    }
    // 3.175 mm read with u = 0.35 mm: a guard of 0.5757 mm at 95 %.
    let tile = judge(2.5, 0.35, Limits::at_most(3.175), 0.95);
    near("tile", 3.175 - tile.acceptance.upper.expect("an upper limit").to_f64(), 0.5757, 5e-5);
    // A guard of twice the uncertainty leaves a risk of 2.3 % at the limit (JCGM 106 8.3.2, recalled, not read).
    near("w = U", 1.0 - judge(0.0, 1.0, Limits::at_most(2.0), 0.95).probability.to_f64(), 0.022_750, 5e-7);
}

/// ILAC-G8:09/2019 pp. 8–10 (read): simple acceptance has no guard band. A stored metrology guide's case (read): limit
/// ±0.003, U 0.0010 (k = 2) leaves ±0.002; 0.0017 conforms, 0.0025 does not decide.
#[test]
fn acceptance_by_simple_rule_and_by_guard() {
    let limits = Limits::between(Ratio::of(-0.003), Ratio::of(0.003));
    let judge = |y: f64, decision| {
        let value = Estimate::new(Ratio::of(y), Ratio::of(0.0005));
        conformance(value, limits, Probability::of(0.977_249_868_051_820_8), decision).expect("limits stand")
    };
    let guarded = judge(0.0017, Decision::Guarded);
    near("guarded", guarded.acceptance.upper.expect("an upper limit").to_f64(), 0.002, 1e-12);
    near("guarded", guarded.acceptance.lower.expect("a lower limit").to_f64(), -0.002, 1e-12);
    assert_eq!(guarded.verdict, Verdict::Within);
    assert_eq!(judge(0.0025, Decision::Guarded).verdict, Verdict::TooCloseToCall);
    assert_eq!(judge(0.0025, Decision::Simple).verdict, Verdict::Within);
    assert_eq!(judge(0.0025, Decision::Simple).acceptance, limits);
}

/// GUM H.1, the end gauge (recalled, not read): 25, 9.7, 2.9 and 16.6 nm with 18, 25.6, 50 and 2 degrees of freedom
/// give 32 nm, 16, k 2.92 and 93 nm at 99 %. Here a nanometre stands as a millimetre.
#[test]
fn the_end_gauge() {
    let parts = [(25.0, 18.0), (9.7, 25.6), (2.9, 50.0), (16.6, 2.0)];
    let sources = parts.map(|(u, dof)| Component::of(Length::mm(u)).with_dof(Ratio::of(dof)));
    let all = combined(&sources);
    near("u", all.u.to_mm(), 31.67, 0.01);
    near("dof", all.dof.expect("limited").to_f64(), 16.76, 0.02);
    let k = all.coverage_factor(Probability::of(0.99)).to_f64();
    near("k", k, 2.92, 0.005);
    near("U", k * all.u.to_mm(), 93.0, 1.0);
}

/// JCGM 101 9.2 (recalled, not read): four sources of standard uncertainty 1 give 2.0, 95 % ± 3.92 by the law of
/// propagation; three of 1 and one of 10 give 10.1 and ± 19.9. Half widths √3: rectangular with standard deviation 1.
#[test]
fn four_sources() {
    let one = Component::within(Length::mm(3f64.sqrt()), Shape::Rectangular);
    let ten = one.times(Ratio::of(10.0));
    let k = combined(&[one]).coverage_factor(Probability::of(0.95)).to_f64();
    near("four", combined(&[one; 4]).u.to_mm(), 2.0, 1e-12);
    near("four", k * combined(&[one; 4]).u.to_mm(), 3.92, 0.005);
    near("mixed", combined(&[one, one, one, ten]).u.to_mm(), 10.1, 0.05);
    near("mixed", k * combined(&[one, one, one, ten]).u.to_mm(), 19.9, 0.05);
}

/// (z₀.₉₅ + z₀.₉₀)²: 35 readings for a margin of half a standard deviation, 9 for a whole one (worked out).
#[test]
fn how_many_readings() {
    let needed = |margin: f64| {
        readings_needed(Length::mm(1.0), Length::mm(margin), Probability::of(0.05), Probability::of(0.10))
    };
    assert_eq!((needed(0.5), needed(1.0), needed(-1.0)), (Some(35), Some(9), Some(9)));
}

/// ILAC-G8:09/2019 p. 10 (read): pass up to TL − w, conditional pass to TL, conditional fail to TL + w, fail beyond. A
/// stored metrology guide's case (read): limit ±0.003 and U 0.0010; the floor's: 3.175 mm read 2.5 with U 0.70 (worked).
#[test]
fn four_outcomes() {
    let limits = Limits::between(Ratio::of(-0.003), Ratio::of(0.003));
    for (y, expected) in [
        (0.0017, Outcome::Pass),
        (-0.0025, Outcome::ConditionalPass),
        (0.0035, Outcome::ConditionalFail),
        (-0.0041, Outcome::Fail),
    ] {
        assert_eq!(outcome(Ratio::of(y), limits, Ratio::of(0.0010)), expected, "{y}");
    }
    let tile = Limits::at_most(Length::mm(3.175));
    assert_eq!(outcome(Length::mm(2.5), tile, Length::mm(0.70)), Outcome::ConditionalPass);
}

/// Several gaps at once, beside scipy 1.17.1's multivariate normal distribution: gaps of 2.0, 2.4 and 1.5 mm, each with
/// 0.4 mm of its own and 0.3 mm in common, under 3.175 mm.
#[test]
fn several_gaps_at_once() {
    let gaps = [2.0, 2.4, 1.5].map(|gap| Estimate::new(Length::mm(gap), Length::mm(0.4)));
    let together = all_within(&gaps, Length::mm(0.3), Length::mm(3.175)).to_f64();
    near("together", together, 0.93233089, 2e-6);
}
