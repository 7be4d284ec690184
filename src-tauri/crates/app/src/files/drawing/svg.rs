//! The plan as a picture for a page of the web: the base wall below, one unit a millimetre.

use super::marks::{Drawing, Mark};
use crate::forms::{RoomHead, Units};

/// How far the picture reaches beyond the drawing.
const MARGIN: f64 = 150.0;

/// The drawing as the text of an SVG file.
pub(crate) fn write(drawing: &Drawing, room: &RoomHead) -> String {
    let (least, most) = drawing.reach();
    let (width, height) = (most.0 - least.0 + 2.0 * MARGIN, most.1 - least.1 + 2.0 * MARGIN);
    // Up on the plan is down on a page.
    let at = |(x, y): (f64, f64)| (x - least.0 + MARGIN, most.1 - y + MARGIN);
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\">\n\
         <title>{}</title>\n<desc>{} read, its corner at {} {}</desc>\n",
        escaped(&room.name),
        if room.units == Units::In { "in" } else { "mm" },
        least.0 - MARGIN,
        most.1 + MARGIN
    );
    for layer in drawing.layers() {
        out += &format!("<g id=\"{}\" fill=\"none\" stroke=\"#10151b\" stroke-width=\"6\">\n", escaped(layer));
        drawing.marks.iter().filter(|mark| mark.layer() == layer).for_each(|mark| out += &drawn(mark, at));
        out += "</g>\n";
    }
    out + "</svg>\n"
}

fn drawn(mark: &Mark, at: impl Fn((f64, f64)) -> (f64, f64)) -> String {
    match mark {
        Mark::Line { from, to, .. } => {
            let ((x1, y1), (x2, y2)) = (at(*from), at(*to));
            format!("<line x1=\"{x1}\" y1=\"{y1}\" x2=\"{x2}\" y2=\"{y2}\"/>\n")
        }
        Mark::Circle { at: centre, radius, .. } => {
            let (x, y) = at(*centre);
            format!("<circle cx=\"{x}\" cy=\"{y}\" r=\"{radius}\"/>\n")
        }
        Mark::Text { at: place, text, .. } => {
            let (x, y) = at(*place);
            let text = escaped(text);
            format!(
                "<text x=\"{x}\" y=\"{y}\" font-size=\"40\" font-family=\"sans-serif\" fill=\"#10151b\" stroke=\"none\">{text}</text>\n"
            )
        }
    }
}

fn escaped(text: &str) -> String {
    let plain: String = text.chars().filter(|c| !c.is_control()).collect();
    plain.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
