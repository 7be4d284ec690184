//! The plan as a drawing file that any drafting program opens: layers in trade words, lengths in mm.
//!
//! # Source
//! The twelfth release of the DXF format, in text: pairs of a code and a value (recalled, not read).

use super::marks::{Drawing, Mark};
use crate::forms::{RoomHead, Units};

/// The drawing as the text of a DXF file.
pub(crate) fn write(drawing: &Drawing, room: &RoomHead) -> String {
    let mut out = Pairs(String::new());
    out.pair(999, &format!("ROOM {}", room.name));
    out.pair(999, &format!("READ IN {}", if room.units == Units::In { "in" } else { "mm" }));
    out.section("HEADER", |out| {
        out.pair(9, "$ACADVER");
        out.pair(1, "AC1009");
        out.pair(9, "$INSUNITS");
        out.pair(70, "4");
    });
    out.section("TABLES", |out| {
        let layers = drawing.layers();
        out.pair(0, "TABLE");
        out.pair(2, "LAYER");
        out.pair(70, &layers.len().to_string());
        for (k, layer) in layers.iter().enumerate() {
            out.pair(0, "LAYER");
            out.pair(2, layer);
            out.pair(70, "0");
            out.pair(62, &(k % 6 + 1).to_string());
            out.pair(6, "CONTINUOUS");
        }
        out.pair(0, "ENDTAB");
    });
    out.section("ENTITIES", |out| drawing.marks.iter().for_each(|mark| out.mark(mark)));
    out.pair(0, "EOF");
    out.0
}

struct Pairs(String);

impl Pairs {
    fn pair(&mut self, code: u16, value: &str) {
        self.0 += &format!("{code:>3}\r\n{}\r\n", value.replace(['\r', '\n'], " "));
    }

    fn section(&mut self, name: &str, fill: impl FnOnce(&mut Self)) {
        self.pair(0, "SECTION");
        self.pair(2, name);
        fill(self);
        self.pair(0, "ENDSEC");
    }

    fn begin(&mut self, kind: &str, layer: &str) {
        self.pair(0, kind);
        self.pair(8, layer);
    }

    fn place(&mut self, first: u16, (x, y): (f64, f64)) {
        self.pair(first, &x.to_string());
        self.pair(first + 10, &y.to_string());
        self.pair(first + 20, "0");
    }

    fn mark(&mut self, mark: &Mark) {
        match mark {
            Mark::Line { layer, from, to } => {
                self.begin("LINE", layer);
                self.place(10, *from);
                self.place(11, *to);
            }
            Mark::Circle { layer, at, radius } => {
                self.begin("CIRCLE", layer);
                self.place(10, *at);
                self.pair(40, &radius.to_string());
            }
            Mark::Text { layer, at, text } => {
                self.begin("TEXT", layer);
                self.place(10, *at);
                self.pair(40, "40");
                self.pair(1, text);
            }
        }
    }
}
