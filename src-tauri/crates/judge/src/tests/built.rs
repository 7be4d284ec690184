//! The layers as they were laid, beside those that were planned: each by its name, the planned ones first.

use crate::forms::*;
use crate::room::rules::{Figures, LengthId};
use crate::room::verdict;
use crate::words::{self, Say};
use survey::units::{Estimate, Length};
use survey::verdict::Limits;

/// A layer whose sheet gives no tolerance may be off by twice its usual standard uncertainty.
const TOLERANCE_IN_SD: f64 = 2.0;

/// Each entry of layers beside the build-up that the room has now, in the order of the entries.
pub fn compared(file: &RoomFile, entries: &[RecordEntry]) -> Vec<BuiltView> {
    let built = entries.iter().filter_map(|entry| match &entry.what {
        EntryKind::AsBuilt(built) => Some((entry, built)),
        _ => None,
    });
    built.map(|(entry, built)| view(file, entry, built)).collect()
}

fn view(file: &RoomFile, entry: &RecordEntry, built: &AsBuilt) -> BuiltView {
    let figures = Figures::of(&file.rules);
    let planned = file.layers.as_ref().map_or(&[][..], |layers| match built.side {
        BuiltSide::Room => &layers.room,
        BuiltSide::Shower => &layers.shower,
    });
    let mut left: Vec<&BuiltLayer> = built.layers.iter().collect();
    let mut lines = Vec::new();
    for layer in planned {
        let at = left.iter().position(|one| same(&one.name, &layer.name));
        let laid = at.map(|at| left.remove(at));
        lines.push(line(&figures, Some((layer, layer.thickness)), laid.map(|one| (one, one.thickness)), false));
        if let (Some(planned), Some((one, laid))) = (layer.at_drain, laid.and_then(|one| Some((one, one.at_drain?)))) {
            lines.push(line(&figures, Some((layer, planned)), Some((one, laid)), true));
        }
    }
    lines.extend(left.into_iter().map(|one| line(&figures, None, Some((one, one.thickness)), false)));
    let whole = lines.iter().all(|line| line.built.is_some());
    BuiltView {
        entry: entry.id.clone(),
        at: entry.at.clone(),
        side: built.side,
        place: built.place.clone(),
        lines,
        planned: planned.iter().map(|layer| layer.thickness).sum(),
        built: whole.then(|| built.layers.iter().map(|layer| layer.thickness).sum()),
    }
}

fn same(one: &str, other: &str) -> bool {
    one.trim().to_lowercase() == other.trim().to_lowercase()
}

fn line(
    figures: &Figures,
    planned: Option<(&Layer, f64)>,
    laid: Option<(&BuiltLayer, f64)>,
    at_drain: bool,
) -> BuiltLine {
    let usual = figures.length(LengthId::LayerSd).to_mm();
    let tolerance = planned.and_then(|(layer, _)| layer.tolerance).unwrap_or(TOLERANCE_IN_SD * usual);
    let u = laid.and_then(|(one, _)| one.u).unwrap_or(usual);
    let more = planned.zip(laid).map(|((_, planned), (_, laid))| laid - planned);
    let limits = || Limits::between(Length::mm(-tolerance), Length::mm(tolerance));
    let judged = |more: f64| verdict::inside(figures, Estimate::new(Length::mm(more), Length::mm(u)), limits());
    let name = laid.map(|(one, _)| &one.name);
    BuiltLine {
        name: planned.map(|(layer, _)| &layer.name).or(name).cloned().unwrap_or_default(),
        at_drain,
        planned: planned.map(|(_, thickness)| thickness),
        built: laid.map(|(_, thickness)| thickness),
        more,
        tolerance,
        verdict: more.map_or(Verdict::NotTested, judged),
    }
}

/// A layer in one sentence.
pub fn sentence(line: &BuiltLine, say: Say) -> String {
    let name = if line.at_drain { format!("{} at the drain", line.name) } else { line.name.clone() };
    match (line.planned, line.built, line.more) {
        (Some(planned), Some(built), Some(more)) => {
            let off = match more {
                more if more.abs() < 0.05 => "as planned".to_string(),
                more if more > 0.0 => format!("{} thicker", say.length(more)),
                more => format!("{} thinner", say.length(-more)),
            };
            let (planned, built, may) = (say.length(planned), say.length(built), say.length(line.tolerance));
            let verdict = words::verdict(line.verdict);
            format!("{name}: planned {planned}, laid {built}, {off}; may be off by {may}: {verdict}")
        }
        (Some(planned), ..) => format!("{name}: planned {}, not laid or not measured", say.length(planned)),
        (None, built, _) => format!("{name}: laid {}, not planned", say.length(built.unwrap_or_default())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn laid(name: &str, thickness: f64, u: f64) -> BuiltLayer {
        BuiltLayer { name: name.into(), thickness, at_drain: None, u: Some(u) }
    }

    #[test]
    fn what_was_laid_is_told_beside_what_was_planned() {
        let mut file = crate::demo("rowan").expect("the demo room");
        let layer = |name: &str, thickness: f64, tolerance: Option<f64>| Layer {
            name: name.into(),
            thickness,
            at_drain: None,
            tolerance,
        };
        let layers = file.layers.as_mut().expect("layers");
        layers.room = vec![layer("board", 12.0, Some(2.0)), layer("tile", 10.0, Some(1.0)), layer("felt", 3.0, None)];
        let all = vec![laid("Board ", 13.0, 0.1), laid("tile", 12.0, 0.1), laid("mat", 5.0, 0.1)];
        let what = EntryKind::AsBuilt(AsBuilt { side: BuiltSide::Room, place: None, layers: all });
        let entry = RecordEntry { id: "a".into(), at: "2031-04-02T08:00:00Z".into(), what };
        let view = compared(&file, &[entry]).remove(0);
        let told: Vec<_> = view.lines.iter().map(|line| (line.name.as_str(), line.more, line.verdict)).collect();
        let expected = [
            ("board", Some(1.0), Verdict::Within),
            ("tile", Some(2.0), Verdict::Out),
            ("felt", None, Verdict::NotTested),
            ("mat", None, Verdict::NotTested),
        ];
        assert_eq!(told, expected);
        assert_eq!((view.planned, view.built), (25.0, None), "a planned layer is not measured");
        let say = Say::new(Units::Mm);
        let said: Vec<String> = view.lines.iter().map(|line| sentence(line, say)).collect();
        assert!(said[1].contains("thicker") && said[1].ends_with("out"), "{said:?}");
        assert!(said[2].ends_with("not laid or not measured") && said[3].ends_with("not planned"), "{said:?}");
    }

    #[test]
    fn the_thickness_at_the_drain_has_its_own_line() {
        let mut file = crate::demo("rowan").expect("the demo room");
        let bed = Layer { name: "bed".into(), thickness: 40.0, at_drain: Some(25.0), tolerance: Some(2.0) };
        file.layers.as_mut().expect("layers").shower = vec![bed];
        let one = BuiltLayer { at_drain: Some(20.0), ..laid("bed", 40.0, 0.1) };
        let what = EntryKind::AsBuilt(AsBuilt { side: BuiltSide::Shower, place: None, layers: vec![one] });
        let entry = RecordEntry { id: "a".into(), at: "2031-04-02T08:00:00Z".into(), what };
        let view = compared(&file, &[entry]).remove(0);
        assert_eq!((view.planned, view.built), (40.0, Some(40.0)));
        let lines = view.lines;
        let told: Vec<_> = lines.iter().map(|line| (line.at_drain, line.more, line.verdict)).collect();
        assert_eq!(told, [(false, Some(0.0), Verdict::Within), (true, Some(-5.0), Verdict::Out)]);
    }
}
