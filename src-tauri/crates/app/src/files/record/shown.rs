//! What the sheets show besides measurements: photographs, what will be covered, materials, people, signatures.

use super::findable::Findable;
use crate::app::App;
use crate::forms::*;
use judge::room::from_walls::from_walls;
use judge::tests::built;
use judge::words::Say;
use report::model::{Listed, Picture, Signature};

/// Every photograph whose file is here, small, for those who want to see them.
pub(super) fn photographs(app: &App, file: &RoomFile, contents: Contents) -> Vec<Picture> {
    let most = match contents {
        Contents::Full | Contents::Inspector => usize::MAX,
        Contents::Client | Contents::Installer | Contents::NotReady | Contents::ChangeOrder | Contents::Label => 0,
    };
    let small = |one: &Photograph| {
        let bytes = app.small_of(&one.sha256).ok()?;
        Some(Picture { caption: caption(one), alt: format!("Photograph: {}", caption(one)), bytes })
    };
    let all: Vec<&Photograph> = file.photographs().collect();
    all.iter().rev().take(most).rev().filter_map(|one| small(one)).collect()
}

/// Wall, viewpoint and time of a photograph.
pub(super) fn caption(one: &Photograph) -> String {
    let from = one.viewpoint.as_ref().map(|viewpoint| format!("from {viewpoint}"));
    let tape = one.tape.then(|| "tape in the frame".to_string());
    let taken = one.taken.as_ref().map(|taken| taken.replace('T', " "));
    let parts: Vec<String> = [one.wall.clone(), from, tape, taken].into_iter().flatten().collect();
    if parts.is_empty() { one.name.clone() } else { parts.join(", ") }
}

/// The lists of the record: what is hidden, materials, people, notes.
pub(super) fn lists(findable: &Findable<'_>) -> Vec<Listed> {
    let (file, say) = (findable.file, findable.say);
    let list = |heading: &str, line: &dyn Fn(&RecordEntry) -> Option<String>| {
        let lines: Vec<String> = file.entries.iter().filter_map(line).collect();
        (!lines.is_empty()).then(|| Listed { heading: heading.to_string(), lines })
    };
    let hidden = |entry: &RecordEntry| match &entry.what {
        EntryKind::Hidden(one) => Some(hidden(one, &file.plan, say)),
        _ => None,
    };
    let material = |entry: &RecordEntry| match &entry.what {
        EntryKind::Material(one) => Some(material(one)),
        _ => None,
    };
    let person = |entry: &RecordEntry| match &entry.what {
        EntryKind::Person(one) => Some(format!("{}, {}", shown_name(&one.name), one.role)),
        _ => None,
    };
    let note = |entry: &RecordEntry| match &entry.what {
        EntryKind::Note(one) => Some(shown_name(&one.text)),
        _ => None,
    };
    let mut all: Vec<Option<Listed>> =
        built::compared(file, &file.entries).iter().map(|one| as_built(one, say)).collect();
    all.extend([
        list("Behind the surfaces", &hidden),
        centrelines(&file.plan, say),
        list("Materials", &material),
        list("People", &person),
        list("Notes", &note),
    ]);
    all.into_iter().flatten().collect()
}

/// The layers of one side as they were laid beside those planned.
fn as_built(view: &BuiltView, say: Say) -> Option<Listed> {
    let side = match view.side {
        BuiltSide::Room => "room side",
        BuiltSide::Shower => "shower side",
    };
    let place = view.place.as_ref().map(|place| format!(", {place}")).unwrap_or_default();
    let mut lines: Vec<String> = view.lines.iter().map(|line| built::sentence(line, say)).collect();
    let together = |built| format!("All together: planned {}, laid {}.", say.length(view.planned), say.length(built));
    lines.extend(view.built.map(together));
    Some(Listed { heading: format!("Layers as built, {side}{place}, {}", view.at.replace('T', " ")), lines })
}

/// The joists as chalk lines: how far each centreline is from the wall it runs along.
fn centrelines(plan: &Plan, say: Say) -> Option<Listed> {
    let (wall, far) = match plan.joists_along {
        Axis::Y => (&plan.side_wall, &plan.base_wall),
        Axis::X => (&plan.base_wall, &plan.side_wall),
    };
    let line = |joist: &Joist| {
        let (x, y) = if plan.joists_along == Axis::Y { (joist.at, 0.0) } else { (0.0, joist.at) };
        let all = from_walls(plan, (x, y));
        let found = all.iter().find(|one| one.wall == *wall)?;
        Some(format!("{}: {} from the {wall}", joist.id, say.length(found.distance)))
    };
    let mut lines: Vec<String> = plan.joists.iter().filter_map(line).collect();
    if lines.is_empty() {
        return None;
    }
    lines.push(format!("Mark each at the {far} and at the wall opposite, and snap the line between the marks."));
    Some(Listed { heading: "Joist centrelines, to chalk".to_string(), lines })
}

/// A private text, or that it was blacked out.
fn shown_name(text: &str) -> String {
    if text.starts_with("sha256:") { "(blacked out)".to_string() } else { text.to_string() }
}

fn material(one: &Material) -> String {
    let batch = one.batch.as_ref().map(|batch| format!("batch {batch}"));
    let expires = one.expires.as_ref().map(|day| format!("to be used by {day}"));
    [Some(one.thing.clone()), Some(one.product.clone()), batch, expires]
        .into_iter()
        .flatten()
        .collect::<Vec<_>>()
        .join(", ")
}

fn of(wall: &str, distance: f64) -> FromWall {
    FromWall { wall: wall.to_string(), distance }
}

/// A thing behind a surface with its distances from two fixed walls.
pub(super) fn hidden(one: &Hidden, plan: &Plan, say: Say) -> String {
    let place = |at: &(f64, f64)| {
        let walls = match one.surface.as_str() {
            "floor" => from_walls(plan, *at),
            _ => vec![of("its left end", at.0), of("the floor", at.1)],
        };
        let each = walls.iter().map(|one| format!("{} from {}", say.length(one.distance), one.wall));
        each.collect::<Vec<_>>().join(" and ")
    };
    let places: Vec<String> = one.places.iter().map(place).collect();
    let depth = one.depth.map(|depth| format!(", {} below the surface", say.length(depth))).unwrap_or_default();
    let note = one.note.as_ref().map(|note| format!(" ({note})")).unwrap_or_default();
    format!("{} in the {}: {}{depth}{note}", thing(one.thing), one.surface, places.join(", then "))
}

fn thing(thing: HiddenThing) -> &'static str {
    match thing {
        HiddenThing::WaterPipe => "Water pipe",
        HiddenThing::DrainPipe => "Drain pipe",
        HiddenThing::GasPipe => "Gas pipe",
        HiddenThing::Cable => "Cable",
        HiddenThing::HeatCable => "Heat cable",
        HiddenThing::Plate => "Steel plate",
        HiddenThing::Blocking => "Blocking",
        HiddenThing::Hole => "Hole",
        HiddenThing::Joist => "Joist centreline",
        HiddenThing::Other => "Other",
    }
}

/// The signatures of the room.
pub(super) fn signatures(file: &RoomFile) -> Vec<Signature> {
    let signed = file.entries.iter().filter_map(|entry| match &entry.what {
        EntryKind::SignOff(one) => Some((entry, one)),
        _ => None,
    });
    signed
        .map(|(entry, one)| Signature {
            caption: format!("{}, {}, {}", shown_name(&one.name), one.role, entry.at.replace('T', " ")),
            about: one.about.clone(),
            strokes: one.strokes.clone(),
        })
        .collect()
}
