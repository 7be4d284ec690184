//! One way to read a number out of what a device sends.

use super::Sample;
use super::unit::{Display, counts};
use crate::decode::{Encoding, Field, Kind, Scale, TextNumber};
use crate::radio::Uuid;
use std::collections::BTreeMap;

/// The longest payload that is searched; bytes behind it are left alone.
const LONGEST: usize = 64;

/// How many numbers of a text are tried.
const TEXT_NUMBERS: usize = 6;

/// A place, an encoding and a unit.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Hypothesis {
    pub(super) characteristic: Uuid,
    pub(super) form: Form,
    /// Display units for each one of the number.
    factor: f64,
    /// How unusual it is: of two that read alike the cheaper one is taken.
    pub(super) cost: f64,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Form {
    Field(Field),
    Text(TextNumber),
}

impl Form {
    fn number(&self, payload: &[u8]) -> Option<f64> {
        match self {
            Self::Field(field) => field.number(payload),
            Self::Text(text) => text.number(payload),
        }
    }
}

impl Hypothesis {
    /// What the display would show, in its unit and unrounded.
    pub(super) fn value(&self, sample: &Sample) -> Option<f64> {
        let number = self.form.number(sample.get(&self.characteristic)?)?;
        Some(number * self.factor).filter(|value| value.is_finite())
    }

    /// Whether it reads what the display showed: within half a step, and a hair for the rounding of the arithmetic.
    pub(super) fn shows(&self, sample: &Sample, shown: f64, display: Display) -> bool {
        let within = display.step() * 0.500_05 + shown.abs() * 1e-7;
        self.value(sample).is_some_and(|value| (value - shown).abs() <= within)
    }
}

/// All ways to read what was heard.
pub(super) fn all(display: Display, free: &[Sample]) -> Vec<Hypothesis> {
    let mut longest: BTreeMap<Uuid, usize> = BTreeMap::new();
    for (uuid, payload) in free.iter().flatten() {
        let length = longest.entry(*uuid).or_default();
        *length = payload.len().min(LONGEST).max(*length);
    }
    let forms = longest
        .iter()
        .flat_map(|(uuid, length)| fields(*length).chain(texts()).map(|(form, cost)| (*uuid, form, cost)));
    forms.flat_map(|(uuid, form, cost)| scaled(display, uuid, form, cost)).collect()
}

/// The form with every unit and, where it can be, either sign.
fn scaled(display: Display, characteristic: Uuid, form: Form, cost: f64) -> impl Iterator<Item = Hypothesis> {
    let kind = display.unit.kind();
    let turned = match form {
        Form::Field(field) => field.encoding.is_signed(),
        Form::Text(_) => false,
    };
    let signs: &[f64] = if turned { &[1.0, -1.0] } else { &[1.0] };
    signs.iter().flat_map(move |sign| {
        counts(kind).iter().map(move |(count, unusual)| {
            let scale = Scale { kind, factor: count * sign, offset: 0.0 };
            let turned = if *sign < 0.0 { 1.5 } else { 0.0 };
            Hypothesis {
                characteristic,
                form: with_scale(form, scale),
                factor: scale.factor / display.unit.size(),
                cost: cost + unusual + turned,
            }
        })
    })
}

fn with_scale(form: Form, scale: Scale) -> Form {
    match form {
        Form::Field(field) => Form::Field(Field { scale, ..field }),
        Form::Text(text) => Form::Text(TextNumber { scale, ..text }),
    }
}

const PLAIN: Scale = Scale { kind: Kind::Length, factor: 1.0, offset: 0.0 };

/// Every encoding at every place of a payload of this length.
fn fields(length: usize) -> impl Iterator<Item = (Form, f64)> {
    Encoding::ALL.into_iter().flat_map(move |encoding| {
        let places = (length + 1).saturating_sub(encoding.width());
        let orders: &[bool] = if encoding.width() == 1 { &[false] } else { &[false, true] };
        (0..places).flat_map(move |at| {
            orders.iter().map(move |&big_endian| {
                let field = Field { at, big_endian, ..Field::new(encoding, PLAIN) };
                let cost = unusual(encoding) + at as f64 * 0.01 + if big_endian { 0.1 } else { 0.0 };
                (Form::Field(field), cost)
            })
        })
    })
}

/// Every number of a text, with a decimal point and with a decimal comma.
fn texts() -> impl Iterator<Item = (Form, f64)> {
    (0..TEXT_NUMBERS).flat_map(|nth| {
        [false, true].into_iter().map(move |decimal_comma| {
            let cost = nth as f64 * 0.01 + if decimal_comma { 0.1 } else { 0.0 };
            (Form::Text(TextNumber { nth, decimal_comma, scale: PLAIN }), cost)
        })
    })
}

fn unusual(encoding: Encoding) -> f64 {
    match encoding {
        Encoding::F32 | Encoding::I32 => 0.1,
        Encoding::I16 => 0.2,
        Encoding::U32 | Encoding::U16 | Encoding::F64 => 0.3,
        Encoding::I24 | Encoding::U24 => 0.6,
        Encoding::I8 | Encoding::U8 => 1.5,
        Encoding::Bcd2 | Encoding::Bcd3 | Encoding::Bcd4 => 1.5,
    }
}
