//! Can this way of reading decide it? Said before the first reading.

use crate::forms::fields::positive;
use crate::forms::refusal::Refusal;
use crate::forms::*;
use crate::room::rules::{Figures, LengthId};
use crate::room::surveys::survey_named;
use crate::room::verdict;
use survey::straightedge::line::{LinePoint, decides};
use survey::units::{Estimate, Length};

/// Points this close to one line are on it, mm.
const ON_LINE: f64 = 0.5;

/// Which limits of a survey a way of reading can decide, and what would.
///
/// # Errors
/// `not-found` for an unknown survey, `out-of-range` for an invalid uncertainty.
pub fn method_check(file: &RoomFile, ask: &MethodAsk) -> Result<MethodCheck, Refusal> {
    positive("sd_mm", ask.sd_mm)?;
    let survey = survey_named(file, ask.survey.as_deref())?;
    let figures = Figures::of(&file.rules);
    let lines = lines(file, &survey.id);
    let rules = figures.straightedges(survey.surface);
    let steps = lines.iter().flat_map(|line| line.windows(2).map(|pair| (pair[1].s - pair[0].s).to_mm()));
    Ok(MethodCheck {
        rules: rules.into_iter().flatten().map(|rule| checked(&figures, rule, &lines, Length::mm(ask.sd_mm))).collect(),
        spacing: steps.reduce(f64::max),
    })
}

/// The rows and columns of a survey's points, read or not.
fn lines(file: &RoomFile, survey: &str) -> Vec<Vec<LinePoint>> {
    let points: Vec<(f64, f64)> =
        file.plan.points.iter().filter(|point| point.survey == survey).map(|point| (point.x, point.y)).collect();
    let mut all = rows(points.clone());
    all.extend(rows(points.into_iter().map(|(x, y)| (y, x)).collect()));
    all
}

/// Points grouped by their second coordinate, ordered by the first.
fn rows(mut points: Vec<(f64, f64)>) -> Vec<Vec<LinePoint>> {
    points.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.total_cmp(&b.0)));
    let row = |row: &[(f64, f64)]| {
        let mut along: Vec<f64> = row.iter().map(|point| point.0).collect();
        along.sort_by(f64::total_cmp);
        along.into_iter().map(|s| LinePoint::mm(s, 0.0)).collect::<Vec<_>>()
    };
    points.chunk_by(|a, b| (a.1 - b.1).abs() <= ON_LINE).map(row).filter(|row| row.len() >= 3).collect()
}

fn checked(figures: &Figures, rule: LengthId, lines: &[Vec<LinePoint>], sd: Length) -> MethodRule {
    let (limit, reach) = (figures.length(rule), figures.reach(rule));
    let tested: Vec<&Vec<LinePoint>> = lines.iter().filter(|line| is_tested(line, reach)).collect();
    // The longest line has the most chances to look uneven.
    let hardest = tested.iter().max_by_key(|line| line.len());
    let needs = hardest.and_then(|line| decides(line, reach, limit, sd).ok());
    let none = Estimate::new(Length::ZERO, figures.length(LengthId::GapSd));
    MethodRule {
        rule: figures.name(rule),
        limit: limit.to_mm(),
        reach: reach.to_mm(),
        tested: hardest.is_some(),
        decides: needs.is_some_and(|needs| sd.at_most(needs.needs_sd)),
        needs_sd: needs.map(|needs| needs.needs_sd.to_mm()),
        readings: needs.map(|needs| needs.readings as u32),
        gauge_decides: verdict::at_most(figures, none, limit).0 == Verdict::Within,
    }
}

/// Whether some three neighbours lie within the reach.
fn is_tested(line: &[LinePoint], reach: Length) -> bool {
    line.windows(3).any(|three| matches!(three, [first, _, last] if (last.s - first.s).at_most(reach)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use survey::units::INCH_MM;

    fn check(sd_mm: f64) -> MethodCheck {
        let file = crate::demo("kestrel").expect("the demo room");
        method_check(&file, &MethodAsk { room: String::new(), survey: None, sd_mm }).expect("a check")
    }

    #[test]
    fn a_tape_against_a_line_cannot_decide_an_eighth() {
        let tape = check(0.79375);
        let long = &tape.rules[0];
        assert!(long.tested && !long.decides && long.readings.is_some_and(|n| n > 1), "{long:?}");
        assert!(long.gauge_decides);
        assert!(check(0.2).rules[0].decides);
    }

    #[test]
    fn a_gauge_decides_by_the_uncertainty_that_the_room_gives_it() {
        let mut file = crate::demo("kestrel").expect("the demo room");
        let mut decides = |sd: f64| {
            file.rules.changed.insert("gap-sd".to_string(), sd);
            let ask = MethodAsk { room: String::new(), survey: None, sd_mm: 0.2 };
            method_check(&file, &ask).expect("a check").rules[0].gauge_decides
        };
        assert!(decides(INCH_MM / 64.0) && !decides(INCH_MM / 8.0), "an eighth known to an eighth");
    }

    #[test]
    fn small_tile_asks_for_its_own_rules() {
        let mut file = crate::demo("kestrel").expect("the demo room");
        let ask = MethodAsk { room: String::new(), survey: None, sd_mm: 0.2 };
        file.plan.surveys.iter_mut().for_each(|survey| survey.surface = Surface::Floor);
        file.rules.tile = Some(Tile { name: String::new(), longest_edge: 300.0, joint: None });
        let limits: Vec<f64> =
            method_check(&file, &ask).expect("a check").rules.iter().map(|rule| rule.limit).collect();
        assert_eq!(limits, [INCH_MM / 4.0, INCH_MM / 16.0]);
    }

    #[test]
    fn what_lies_between_readings_thirty_inches_apart_is_not_tested() {
        let tape = check(0.79375);
        assert!(!tape.rules[1].tested && tape.rules[1].needs_sd.is_none());
        assert!((tape.spacing.expect("lines") - 30.0 * INCH_MM).abs() < 1e-9);
    }
}
