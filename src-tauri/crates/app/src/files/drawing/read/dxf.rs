//! Lines, polylines, circles, points and texts of a DXF file in text.
//!
//! # Source
//! The codes as [`super::super::dxf`] writes them, and those of polylines (recalled, not read).

use super::drawn::{Drawn, Form, Shape, not_understood};
use judge::Refusal;

/// How long a unit of `$INSUNITS` is, mm: inches, feet, mm, cm, m (recalled).
const UNITS: [(&str, f64); 5] = [("1", 25.4), ("2", 304.8), ("4", 1.0), ("5", 10.0), ("6", 1000.0)];

/// Whether a text begins as such a file does.
pub(super) fn is(start: &str) -> bool {
    let mut lines = start.lines().map(str::trim);
    matches!((lines.next(), lines.next()), (Some("0"), Some("SECTION")) | (Some("999"), Some(_)))
}

pub(super) fn read(text: &str) -> Result<Drawn, Refusal> {
    let lines: Vec<&str> = text.lines().map(str::trim).collect();
    let pairs: Vec<(&str, &str)> = lines.chunks(2).filter_map(|pair| Some((*pair.first()?, *pair.get(1)?))).collect();
    if !pairs.contains(&("0", "EOF")) {
        return Err(not_understood("The drawing is cut off before its end. Save it again, as DXF in text."));
    }
    let mut drawn = header(&pairs);
    let scale = after(&pairs, "$INSUNITS").and_then(|unit| UNITS.iter().find(|(name, _)| *name == unit));
    let scale = scale.map_or(1.0, |(_, mm)| *mm);
    drawn.inches |= scale == 25.4 || scale == 304.8;
    let begin = pairs.iter().position(|pair| *pair == ("2", "ENTITIES")).unwrap_or(pairs.len());
    let starts: Vec<usize> =
        (begin..pairs.len()).filter(|at| pairs.get(*at).is_some_and(|pair| pair.0 == "0")).collect();
    let mut vertices = Vec::new();
    for (k, &start) in starts.iter().enumerate() {
        let end = starts.get(k + 1).copied().unwrap_or(pairs.len());
        let entity = Entity { pairs: pairs.get(start..end).unwrap_or_default(), first: start, scale };
        entity.add(&mut drawn, &mut vertices)?;
        if entity.kind() == "ENDSEC" {
            break;
        }
    }
    Ok(drawn)
}

/// What our own drawings say of the room in remarks.
fn header(pairs: &[(&str, &str)]) -> Drawn {
    let remark = |start: &str| {
        pairs
            .iter()
            .take(8)
            .filter(|pair| pair.0 == "999")
            .find_map(|pair| pair.1.strip_prefix(start))
            .map(str::to_string)
    };
    Drawn { name: remark("ROOM "), inches: remark("READ IN ").as_deref() == Some("in"), shapes: Vec::new() }
}

/// The value that follows a variable of the header.
fn after<'a>(pairs: &[(&'a str, &'a str)], name: &str) -> Option<&'a str> {
    let at = pairs.iter().position(|pair| *pair == ("9", name))?;
    pairs.get(at + 1).map(|pair| pair.1)
}

struct Entity<'a> {
    pairs: &'a [(&'a str, &'a str)],
    first: usize,
    scale: f64,
}

/// The layer, whether it closes, and the corners of a polyline that is being read.
type Polyline = Option<(String, bool, Vec<(f64, f64)>)>;

impl Entity<'_> {
    fn kind(&self) -> &str {
        self.pairs.first().map_or("", |pair| pair.1)
    }

    fn text(&self, code: &str) -> Option<&str> {
        self.pairs.iter().find(|pair| pair.0 == code).map(|pair| pair.1)
    }

    /// Every number under a code, in mm.
    fn lengths(&self, code: &str) -> Result<Vec<f64>, Refusal> {
        let found = self.pairs.iter().enumerate().filter(|(_, pair)| pair.0 == code);
        found.map(|(k, pair)| self.length(k, pair.1)).collect()
    }

    fn length(&self, k: usize, text: &str) -> Result<f64, Refusal> {
        let value: Option<f64> = text.parse().ok().filter(|value: &f64| value.is_finite());
        value.map(|value| value * self.scale).ok_or_else(|| {
            let line = 2 * (self.first + k) + 2;
            not_understood(&format!("{text:?} in line {line} of the drawing is no number. Save the drawing again."))
        })
    }

    fn places(&self, x: &str, y: &str) -> Result<Vec<(f64, f64)>, Refusal> {
        Ok(self.lengths(x)?.into_iter().zip(self.lengths(y)?).collect())
    }

    fn closes(&self) -> bool {
        self.text("70").and_then(|flags| flags.parse::<i64>().ok()).is_some_and(|flags| flags & 1 == 1)
    }

    fn add(&self, drawn: &mut Drawn, polyline: &mut Vec<Polyline>) -> Result<(), Refusal> {
        let layer = self.text("8").unwrap_or_default().to_string();
        let place = || Ok::<_, Refusal>(self.places("10", "20")?.into_iter().next());
        let form = match self.kind() {
            "LINE" => {
                let places = [self.places("10", "20")?, self.places("11", "21")?].concat();
                Some(Form::Way { places, closed: false })
            }
            "LWPOLYLINE" => Some(Form::Way { places: self.places("10", "20")?, closed: self.closes() }),
            "CIRCLE" | "POINT" => place()?.map(Form::Spot),
            "TEXT" => place()?.zip(self.text("1")).map(|(at, text)| Form::Text(at, text.to_string())),
            "POLYLINE" => {
                polyline.push(Some((layer.clone(), self.closes(), Vec::new())));
                None
            }
            "VERTEX" => {
                if let Some(Some((_, _, places))) = polyline.last_mut() {
                    places.extend(place()?);
                }
                None
            }
            "SEQEND" => {
                if let Some((layer, closed, places)) = polyline.pop().flatten() {
                    drawn.shapes.push(Shape { layer, form: Form::Way { places, closed } });
                }
                None
            }
            _ => None,
        };
        drawn.shapes.extend(form.map(|form| Shape { layer, form }));
        Ok(())
    }
}
