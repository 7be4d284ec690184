//! Whether benches, sills and shelves pitch enough for water to run off.

use crate::forms::refusal::Refusal;
use crate::forms::*;
use crate::room::rules::{Figures, LengthId, NumberId, SlopeId};
use crate::room::verdict::{decision, verdict};
use survey::ledge::{pitch, pitch_of_tilt};
use survey::units::{Angle, Estimate, Length, Slope};
use survey::verdict::{Limits, conformance};

/// The ledges of a room with their verdicts, or those that are tried out.
///
/// # Errors
/// As [`ledges()`].
pub fn asked(mut file: RoomFile, ask: &LedgesAsk) -> Result<LedgesView, Refusal> {
    file.works.ledges = ask.ledges.clone().unwrap_or(file.works.ledges);
    ledges(&file)
}

/// The ledges of a room, from its file.
///
/// # Errors
/// `out-of-range` or `not-finite`, naming the ledge.
pub fn ledges(file: &RoomFile) -> Result<LedgesView, Refusal> {
    check(&file.works.ledges)?;
    let figures = Figures::of(&file.rules);
    Ok(LedgesView {
        ledges: file.works.ledges.iter().map(|ledge| view(ledge, &figures)).collect(),
        least: figures.slope(SlopeId::LedgeLeast).to_ratio(),
        most: figures.slope(SlopeId::LedgeMost).to_ratio(),
    })
}

/// Whether ledges are such as can be read.
///
/// # Errors
/// `out-of-range` or `not-finite`, naming the ledge.
pub fn check(ledges: &[Ledge]) -> Result<(), Refusal> {
    for ledge in ledges {
        if ledge.depth.is_nan() || ledge.depth <= 0.0 {
            return Err(Refusal::out_of_range(format!("{}: depth", ledge.name), "more than zero"));
        }
        if [ledge.back, ledge.front, ledge.tilt].into_iter().flatten().any(|value| !value.is_finite()) {
            return Err(Refusal::not_finite(format!("{}: reading", ledge.name)));
        }
        if ledge.tilt.is_some_and(|tilt| tilt.abs() > 45.0) {
            return Err(Refusal::out_of_range(format!("{}: tilt", ledge.name), "no more than 45 degrees"));
        }
    }
    Ok(())
}

fn view(ledge: &Ledge, figures: &Figures) -> LedgeView {
    let found = read(ledge, figures);
    let limits = Limits::between(figures.slope(SlopeId::LedgeLeast), figures.slope(SlopeId::LedgeMost));
    let sure = figures.confidence();
    let judged = found.and_then(|found| conformance(found, limits, sure, decision(figures.decision())).ok());
    let too_flat = found.is_none_or(|found| found.value.to_ratio() <= figures.slope(SlopeId::LedgeLeast).to_ratio());
    LedgeView {
        id: ledge.id.clone(),
        pitch: found.map(|found| found.value.to_ratio()),
        u: found.map(|found| found.u.to_ratio()),
        drop: found.map(|found| found.value.times(Length::mm(ledge.depth)).to_mm()),
        verdict: judged.map_or(Verdict::NotTested, |judged| verdict(judged.verdict)),
        rule: figures.name(if too_flat { SlopeId::LedgeLeast } else { SlopeId::LedgeMost }),
    }
}

fn read(ledge: &Ledge, figures: &Figures) -> Option<Estimate<Slope>> {
    if let Some(tilt) = ledge.tilt {
        return Some(pitch_of_tilt(Angle::degrees(tilt), Angle::degrees(figures.number(NumberId::LedgeTiltSd))));
    }
    // Down from a line: what reads more lies lower.
    let (back, front) = (ledge.back?, ledge.front?);
    pitch(Length::mm(-back), Length::mm(-front), Length::mm(ledge.depth), figures.length(LengthId::LedgeSd))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ledge(back: f64, front: f64) -> Ledge {
        let (id, name) = ("b".to_string(), "bench".to_string());
        let (back, front) = (Some(back), Some(front));
        Ledge { id, kind: LedgeKind::Bench, name, depth: 304.8, back, front, tilt: None }
    }

    fn verdict_of(ledge: Ledge) -> Verdict {
        let mut file = crate::demo("rowan").expect("the demo room");
        file.works.ledges = vec![ledge];
        ledges(&file).expect("ledges").ledges[0].verdict
    }

    #[test]
    fn a_bench_pitches_from_an_eighth_to_a_half_in_a_foot() {
        // Invented: down from a line, 12 in from back to front; u = √2/64 in of 12.
        assert_eq!(verdict_of(ledge(500.0, 506.35)), Verdict::Within, "a quarter of an inch in a foot");
        assert_eq!(verdict_of(ledge(500.0, 500.0)), Verdict::Out, "level");
        assert_eq!(verdict_of(ledge(506.0, 500.0)), Verdict::Out, "to the wall");
        assert_eq!(verdict_of(ledge(500.0, 503.3)), Verdict::TooCloseToCall, "just an eighth");
        assert_eq!(verdict_of(Ledge { back: None, ..ledge(0.0, 500.0) }), Verdict::NotTested);
        assert_eq!(verdict_of(Ledge { tilt: Some(1.2), ..ledge(0.0, 0.0) }), Verdict::Within);
    }

    #[test]
    fn what_is_no_ledge_is_named() {
        let check = |ledge: Ledge, words: &str| {
            let refused = check(&[ledge]).expect_err(words);
            assert!(refused.message.contains(words), "{refused:?}");
        };
        check(Ledge { depth: 0.0, ..ledge(1.0, 2.0) }, "bench: depth must be more than zero");
        check(Ledge { back: Some(f64::NAN), ..ledge(1.0, 2.0) }, "bench: reading");
        check(Ledge { tilt: Some(60.0), ..ledge(1.0, 2.0) }, "45 degrees");
    }
}
