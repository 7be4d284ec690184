//! Strips at full size on pages that prove their own size.

use std::sync::LazyLock;

use serde::Serialize;
use survey::units::Length;
use typst::foundations::{Bytes, Dict, Smart, dict};
use typst_as_lib::{TypstEngine, TypstTemplateMainFile};
use typst_layout::PagedDocument;
use typst_pdf::PdfOptions;

use crate::glyphs;
use crate::model::{FullSize, FullSizeStop, FullSizeStrip, Paper};
use crate::typeset::{ReportError, refusal};

static ENGINE: LazyLock<TypstEngine<TypstTemplateMainFile>> = LazyLock::new(|| {
    TypstEngine::builder().main_file(include_str!("../template/full_size.typ")).fonts(glyphs::FACES).build()
});

/// The strips cut into stretches that fit the paper, one below the other at full size, with a ruler to measure first.
///
/// # Errors
/// [`ReportError::Typesetting`] where the typesetter refuses.
pub fn full_size(strips: &FullSize) -> Result<Vec<u8>, ReportError> {
    let options = PdfOptions {
        creator: Smart::Custom(Some(concat!("Truefall ", env!("CARGO_PKG_VERSION")).to_owned())),
        timestamp: strips.date.timestamp(),
        ..PdfOptions::default()
    };
    let document: PagedDocument = ENGINE.compile_with_input(inputs(strips)?).output?;
    typst_pdf::pdf(&document, &options).map_err(refusal)
}

#[derive(Serialize)]
struct Page<'a> {
    strips: &'a FullSize,
    rows: Vec<Row>,
    preferred: &'a str,
}

/// A stretch of a strip that fits the paper, from 0 on; in mm.
#[derive(Debug, Clone, PartialEq, Serialize)]
struct Row {
    name: String,
    /// The whole strip is in so many stretches, and this is that one.
    part: usize,
    parts: usize,
    top: Vec<[f64; 2]>,
    marks: Vec<Mark>,
    /// It goes on beyond this end.
    goes_on: [bool; 2],
}

#[derive(Debug, Clone, PartialEq, Serialize)]
struct Mark {
    at: f64,
    figure: String,
    station: String,
}

fn inputs(strips: &FullSize) -> Result<Dict, ReportError> {
    let reach = match strips.paper {
        Paper::Letter => 9.0 * survey::units::INCH_MM,
        Paper::A4 => 250.0,
    };
    let rows = strips.strips.iter().flat_map(|strip| rows(strip, reach)).collect();
    let page = Page { strips, rows, preferred: &glyphs::PREFERRED };
    let unwritable = |e: serde_json::Error| ReportError::Typesetting(e.to_string());
    let mut page = serde_json::to_value(page).map_err(unwritable)?;
    glyphs::number_the_undrawn(&mut page);
    let page = serde_json::to_vec(&page).map_err(unwritable)?;
    Ok(dict! { "page" => Bytes::new(page) })
}

/// A strip in stretches of what the paper takes.
fn rows(strip: &FullSizeStrip, reach: f64) -> Vec<Row> {
    let (Some(first), Some(last)) = (strip.stops.first(), strip.stops.last()) else { return Vec::new() };
    let (from, to) = (first.along.to_mm(), last.along.to_mm());
    let parts = (((to - from) / reach) - 1e-9).ceil().max(1.0) as usize;
    let row = |part: usize| {
        let begin = from + part as f64 * reach;
        let end = (begin + reach).min(to);
        let within = |stop: &&FullSizeStop| (begin - 1e-9..=end + 1e-9).contains(&stop.along.to_mm());
        let mark = |stop: &FullSizeStop| Mark {
            at: stop.along.to_mm() - begin,
            figure: stop.figure.clone(),
            station: stop.station.clone(),
        };
        let inner = strip.stops.iter().filter(within).map(|stop| [stop.along.to_mm() - begin, stop.thick.to_mm()]);
        let top = [[0.0, at(strip, begin)]].into_iter().chain(inner).chain([[end - begin, at(strip, end)]]);
        Row {
            name: strip.name.clone(),
            part: part + 1,
            parts,
            top: top.collect(),
            marks: strip.stops.iter().filter(within).map(mark).collect(),
            goes_on: [part > 0, part + 1 < parts],
        }
    };
    (0..parts).map(row).collect()
}

/// The thickness of a strip at a place, straight between its stops.
fn at(strip: &FullSizeStrip, along: f64) -> f64 {
    let place = |stop: &FullSizeStop| (stop.along.to_mm(), stop.thick.to_mm());
    let pair = strip.stops.windows(2).map(|pair| (place(&pair[0]), place(&pair[1])));
    let around = pair.into_iter().find(|(a, b)| a.0 <= along + 1e-9 && along <= b.0 + 1e-9);
    around.map_or_else(
        || Length::ZERO.to_mm(),
        |(a, b)| {
            let run = b.0 - a.0;
            if run <= 0.0 { a.1 } else { a.1 + (b.1 - a.1) * (along - a.0) / run }
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Moment;
    use typst::layout::{Abs, FrameItem};

    fn strip(stops: &[(f64, f64)]) -> FullSizeStrip {
        let stop = |&(along, thick): &(f64, f64)| FullSizeStop {
            along: Length::mm(along),
            thick: Length::mm(thick),
            figure: format!("{thick}"),
            station: format!("{along}"),
        };
        FullSizeStrip { name: "J4, strip 1 of 2".to_owned(), stops: stops.iter().map(stop).collect() }
    }

    fn sheet(strips: Vec<FullSizeStrip>) -> FullSize {
        FullSize {
            paper: Paper::A4,
            room: "Hall bath".to_owned(),
            height: "Hold 43-7/8.".to_owned(),
            date: Moment::new(2026, 3, 2, [8, 0, 0], 0).expect("a date"),
            notes: vec!["Print at 100 %.".to_owned()],
            strips,
        }
    }

    #[test]
    fn a_strip_longer_than_the_paper_goes_on_where_it_left_off() {
        let all = rows(&strip(&[(0.0, 10.0), (500.0, 2.0), (600.0, 2.0)]), 250.0);
        assert_eq!(all.len(), 3);
        assert_eq!(all[0].top.last(), all[1].top.first().map(|[_, thick]| [250.0, *thick]).as_ref());
        assert_eq!(all[2].top, [[0.0, 2.0], [0.0, 2.0], [100.0, 2.0], [100.0, 2.0]]);
        assert_eq!((all[0].goes_on, all[2].goes_on), ([false, true], [true, false]));
        assert!(rows(&strip(&[]), 250.0).is_empty());
    }

    /// The widths of all straight lines of a page, in mm.
    fn widths(document: &PagedDocument) -> Vec<f64> {
        fn gather(frame: &typst::layout::Frame, found: &mut Vec<f64>) {
            for (_, item) in frame.items() {
                match item {
                    FrameItem::Group(group) => gather(&group.frame, found),
                    FrameItem::Shape(shape, _) => {
                        found.push(Abs::to_mm(shape.geometry.bbox(None).size().x));
                    }
                    _ => {}
                }
            }
        }
        let mut found = Vec::new();
        document.pages().iter().for_each(|page| gather(&page.frame, &mut found));
        found
    }

    #[test]
    fn the_ruler_and_the_strips_are_set_at_their_own_size() {
        let strips = sheet(vec![strip(&[(0.0, 10.0), (187.25, 2.0)])]);
        let document: PagedDocument = ENGINE.compile_with_input(inputs(&strips).expect("a page")).output.expect("set");
        let found = widths(&document);
        for wanted in [100.0, 101.6, 187.25] {
            assert!(found.iter().any(|width| (width - wanted).abs() < 1e-6), "{wanted} is not among {found:?}");
        }
        assert!(full_size(&strips).expect("a file").starts_with(b"%PDF"));
    }
}
