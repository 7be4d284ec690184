//! Lengths and tilts as they are typed.

use crate::said::{Heard, refused, shape};
use crate::trial;
use app::forms::{LengthAsk, LengthView, TiltAsk, TiltUnit, Units};
use app::judge::reading::{length_text, tilt_text};
use app::judge::room::rules::Figures;

const LENGTHS: [&str; 20] = [
    "44 3/16",
    "44-3/16",
    "3' 8 1/4\"",
    "3'8.25\"",
    "1123.5 mm",
    "112,35 cm",
    "1.1235 m",
    "7/16",
    "-1/8",
    "0",
    "44\u{bd}",
    "44 3/16\"",
    "3 ft 8 in",
    "\u{2212}2 mm",
    "1,234.5 mm",
    "0.4375",
    "44 s",
    "44 w",
    "44 1/4 +",
    "12\u{2033}",
];

const TILTS: [&str; 10] =
    ["0.4", "-0,4", "\u{2212}0.4\u{b0}", "+2.1 %", "3.5 mm/m", "1/8 in/ft", "-1/4\"/ft", "0", "2\u{2030}", "1.5 deg"];

fn seeds<const N: usize>(texts: [&str; N], fits: impl Fn(&str) -> bool) -> Vec<Vec<u8>> {
    texts.into_iter().filter(|text| fits(text)).map(|text| text.as_bytes().to_vec()).collect()
}

fn length(text: &str, units: Units) -> Result<LengthView, app::Refusal> {
    length_text::length(&Figures::default(), &LengthAsk { room: None, text: text.to_string(), units })
}

#[test]
fn typed_lengths() {
    let fits = seeds(LENGTHS, |text| length(text, Units::In).is_ok());
    assert!(fits.len() > 12, "most are read: {}", fits.len());
    let check = move |bytes: &[u8]| {
        let text = String::from_utf8_lossy(bytes);
        let metric = length(&text, Units::Mm).map(|view| said_again(&view));
        match (length(&text, Units::In), metric) {
            (Ok(view), _) => {
                said_again(&view);
                Heard::Read(shape(&text))
            }
            (Err(refusal), _) => refused(&refusal, bytes),
        }
    };
    trial::run("length-text", 2000, fits, Box::new(check));
}

/// What is said of a length is read as the same length, as closely as it was said.
fn said_again(view: &LengthView) {
    assert!(view.mm.is_finite());
    let of = [(&view.echo.fraction, 25.4 / 32.0), (&view.echo.decimal_in, 0.0254), (&view.echo.mm, 0.1)];
    for ((said, step), units) in of.into_iter().zip([Units::In, Units::In, Units::Mm]) {
        let back = length(said, units).unwrap_or_else(|why| panic!("{said:?} was said of {}: {why}", view.mm));
        let off = (back.mm - view.mm).abs();
        assert!(off <= step + 1e-9 * view.mm.abs(), "{said:?} was said of {} and read as {}", view.mm, back.mm);
    }
}

#[test]
fn typed_tilts() {
    let room = app::demo("kestrel").expect("the demo room");
    let check = move |bytes: &[u8]| {
        let text = String::from_utf8_lossy(bytes).into_owned();
        let all = [TiltUnit::Degrees, TiltUnit::Percent, TiltUnit::MmPerM, TiltUnit::InPerFt].map(|unit| {
            let ask = TiltAsk { room: room.room.id.clone(), text: text.clone(), unit, foot: 600.0, sd_degrees: None };
            tilt_text::asked(&room, &ask)
                .map(|view| assert!(view.value.abs() <= 0.2 && (view.rise - 600.0 * view.value).abs() < 1e-9))
        });
        let [degrees, ..] = &all;
        all.iter().filter_map(|one| one.as_ref().err()).for_each(|refusal| drop(refused(refusal, bytes)));
        degrees.as_ref().map_or_else(|refusal| refused(refusal, bytes), |()| Heard::Read(shape(&text)))
    };
    trial::run("tilt-text", 500, seeds(TILTS, |_| true), Box::new(check));
}
