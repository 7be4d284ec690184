//! The plan as lines, circles and texts on layers with trade names, for every kind of drawing file.

mod dxf;
mod marks;
pub(crate) mod read;
mod svg;

use crate::app::App;
use crate::files::csv_readings;
use crate::files::file_name::file_name;
use crate::forms::*;
use judge::Refusal;
use judge::words::Say;
use marks::{Drawing, Mark};
use std::collections::HashSet;

/// The drawing of a room.
pub(crate) fn drawing_of_room(file: &RoomFile) -> Drawing {
    let mut marks = Vec::new();
    walls(&mut marks, &file.plan);
    joists(&mut marks, &file.plan);
    openings(&mut marks, &file.plan);
    readings(&mut marks, file);
    unread(&mut marks, file);
    hidden(&mut marks, file);
    Drawing { marks }
}

fn line(layer: &'static str, from: (f64, f64), to: (f64, f64)) -> Mark {
    Mark::Line { layer, from, to }
}

fn text(layer: &'static str, at: (f64, f64), text: impl Into<String>) -> Mark {
    Mark::Text { layer, at, text: text.into() }
}

fn walls(marks: &mut Vec<Mark>, plan: &Plan) {
    let next = plan.outline.iter().cycle().skip(1);
    marks.extend(plan.outline.iter().zip(next).map(|(from, to)| line("WALLS", *from, *to)));
    if let Some(first) = plan.outline.first() {
        marks.push(text(
            "WALLS",
            (first.0 + 60.0, first.1 + 60.0),
            format!("y from {}, x from {}", plan.base_wall, plan.side_wall),
        ));
    }
}

fn joists(marks: &mut Vec<Mark>, plan: &Plan) {
    let (least, most) = Drawing { marks: plan.outline.iter().map(|at| text("", *at, "")).collect() }.reach();
    for joist in &plan.joists {
        let ends = match plan.joists_along {
            Axis::Y => ((joist.at, least.1), (joist.at, most.1)),
            Axis::X => ((least.0, joist.at), (most.0, joist.at)),
        };
        marks.push(line("JOISTS", ends.0, ends.1));
        marks.push(text("JOISTS", ends.1, joist.id.clone()));
    }
}

fn openings(marks: &mut Vec<Mark>, plan: &Plan) {
    if let Some(door) = &plan.doorway {
        let at = |along: f64| if plan.joists_along == Axis::Y { (along, 0.0) } else { (0.0, along) };
        marks.push(line("DOORWAY", at(door.from), at(door.to)));
    }
    if let Some((from, to)) = plan.entry {
        marks.push(line("ENTRY LINE", from, to));
    }
    marks.extend([&plan.drain, &plan.second_drain].into_iter().flatten().map(|drain| match drain.to {
        Some(to) => line("DRAIN", drain.from, to),
        None => Mark::Circle { layer: "DRAIN", at: drain.from, radius: 50.0 },
    }));
}

fn readings(marks: &mut Vec<Mark>, file: &RoomFile) {
    let say = Say::new(file.room.units);
    for reading in judge::room::current_readings(file) {
        let Some(point) = file.plan.points.iter().find(|point| point.id == reading.point) else { continue };
        let at = (point.x, point.y);
        marks.push(Mark::Circle { layer: "READINGS", at, radius: 12.0 });
        marks.push(text("READINGS", (at.0 + 20.0, at.1 + 20.0), format!("{} {}", point.id, say.bare(reading.value))));
    }
}

/// The points that nobody has read.
fn unread(marks: &mut Vec<Mark>, file: &RoomFile) {
    let read: HashSet<&str> = judge::room::current_readings(file).map(|reading| reading.point.as_str()).collect();
    for point in file.plan.points.iter().filter(|point| !read.contains(point.id.as_str())) {
        marks.push(Mark::Circle { layer: "POINTS", at: (point.x, point.y), radius: 12.0 });
        marks.push(text("POINTS", (point.x + 20.0, point.y + 20.0), point.id.clone()));
    }
}

fn hidden(marks: &mut Vec<Mark>, file: &RoomFile) {
    for entry in &file.entries {
        let EntryKind::Hidden(one) = &entry.what else { continue };
        if one.surface != "floor" {
            continue;
        }
        let layer = layer(one.thing);
        marks.extend(one.places.windows(2).filter_map(|pair| Some(line(layer, *pair.first()?, *pair.get(1)?))));
        if let ([at], _) | ([at, ..], _) = (one.places.as_slice(), ()) {
            marks.push(Mark::Circle { layer, at: *at, radius: 25.0 });
        }
    }
}

fn layer(thing: HiddenThing) -> &'static str {
    match thing {
        HiddenThing::WaterPipe => "WATER PIPES",
        HiddenThing::DrainPipe => "DRAIN PIPES",
        HiddenThing::GasPipe => "GAS PIPES",
        HiddenThing::Cable => "CABLES",
        HiddenThing::HeatCable => "HEAT CABLES",
        HiddenThing::Plate => "STEEL PLATES",
        HiddenThing::Blocking => "BLOCKING",
        HiddenThing::Hole => "HOLES",
        HiddenThing::Joist => "JOIST CENTRELINES",
        HiddenThing::Other => "OTHER",
    }
}

impl App {
    /// The readings of a room as `csv`, its plan as `dxf` or `svg`, its reminders as `ics`.
    ///
    /// # Errors
    /// `not-found` if there is no such room, `out-of-range` for another kind of file.
    pub fn drawing(&self, room: &str, kind: &str) -> Result<FileText, Refusal> {
        self.drawing_of(&ExportAsk { room: room.to_string(), black_out: false }, kind)
    }

    /// The same, without private texts where that is asked for.
    ///
    /// # Errors
    /// As [`App::drawing`] and [`App::export_file`].
    pub fn drawing_of(&self, ask: &ExportAsk, kind: &str) -> Result<FileText, Refusal> {
        let file = match ask.black_out {
            true => self.file_as_asked(&ask.room, true)?,
            false => self.room_state(&ask.room)?,
        };
        if kind == "ics" {
            return self.reminders(&ask.room);
        }
        drawn_as(&file, kind)
    }
}

/// A room as a table of its readings or as a drawing of its plan.
///
/// # Errors
/// `out-of-range` for another kind of file.
pub(crate) fn drawn_as(file: &RoomFile, kind: &str) -> Result<FileText, Refusal> {
    if kind == "csv" {
        let name = format!("{}.readings.csv", file_name(&file.room.name));
        return Ok(FileText { name, text: csv_readings::write(file)? });
    }
    let drawing = drawing_of_room(file);
    let text = match kind {
        "dxf" => dxf::write(&drawing, &file.room),
        "svg" => svg::write(&drawing, &file.room),
        _ => return Err(Refusal::out_of_range("kind", "csv, dxf, svg or ics")),
    };
    Ok(FileText { name: format!("{}.{kind}", file_name(&file.room.name)), text })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kestrel() -> RoomFile {
        let mut file = judge::demo::demo("kestrel").expect("a room");
        file.room.name = "a < b & \"c\"".into();
        let what = EntryKind::Hidden(Hidden {
            thing: HiddenThing::WaterPipe,
            surface: "floor".into(),
            places: vec![(254.0, 508.0), (254.0, 1524.0)],
            depth: None,
            note: None,
        });
        file.entries.push(RecordEntry { id: "a".into(), at: "2031-04-02T08:00:00Z".into(), what });
        file
    }

    #[test]
    fn a_dxf_is_pairs_and_has_every_layer() {
        let file = kestrel();
        let text = dxf::write(&drawing_of_room(&file), &file.room);
        let lines: Vec<&str> = text.lines().collect();
        assert!(lines.len().is_multiple_of(2));
        let pairs: Vec<(u16, &str)> =
            lines.chunks(2).map(|pair| (pair[0].trim().parse().expect("a code"), pair[1])).collect();
        let count = |pair: (u16, &str)| pairs.iter().filter(|one| **one == pair).count();
        assert_eq!((count((0, "SECTION")), count((0, "ENDSEC")), count((0, "EOF"))), (3, 3, 1));
        for layer in ["WALLS", "JOISTS", "DOORWAY", "READINGS", "WATER PIPES"] {
            assert!(count((2, layer)) == 1 && count((8, layer)) > 0, "{layer}");
        }
        assert_eq!(count((0, "CIRCLE")), 28 + 1, "a circle for each reading, one for the pipe's end");
    }

    #[test]
    fn an_svg_is_well_formed() {
        let text = svg::write(&drawing_of_room(&kestrel()), &kestrel().room);
        assert!(text.contains("<title>a &lt; b &amp; &quot;c&quot;</title>"));
        assert_eq!(text.matches("<g ").count(), text.matches("</g>").count());
        assert_eq!(text.matches("<circle ").count(), 29);
    }
}
