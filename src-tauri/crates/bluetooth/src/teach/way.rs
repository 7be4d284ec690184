//! From the way that was learned to a profile.

use super::Sample;
use super::hypothesis::{Form, Hypothesis};
use super::unit::Display;
use crate::decode::{Encoding, Field, Kind};
use crate::profile::{self, Profile};
use crate::reading::{Cause, Quantity};
use std::time::Duration;

/// How many messages must count up before a byte is taken for a counter.
const COUNTED: usize = 6;

/// The profile of a learned way. It is trusted only where every way of its class reads the same.
pub(super) fn profile(
    best: &Hypothesis,
    class: &[&Hypothesis],
    display: Display,
    free: &[Sample],
    name: &str,
    accuracy: Quantity,
) -> Option<Profile> {
    let payloads: Vec<&[u8]> =
        free.iter().filter_map(|sample| sample.get(&best.characteristic)).map(Vec::as_slice).collect();
    let kind = display.unit.kind();
    let (least, most) = range(class, kind)?;
    Some(Profile {
        name: name.to_string(),
        version: 1,
        characteristic: best.characteristic,
        form: form(best.form, &payloads),
        range: (kind.quantity(least), kind.quantity(most)),
        accuracy,
        step: display.quantity(display.step()),
        also: None,
        // Whether it also sends unasked cannot be told from its bytes; the file can be changed by hand.
        unasked: Cause::Button,
        repeats_within: Duration::from_millis(300),
        trigger: None,
    })
}

fn form(form: Form, payloads: &[&[u8]]) -> profile::Form {
    match form {
        Form::Field(field) => profile::Form::Field(framed(field, payloads)),
        Form::Text(of) => profile::Form::Number { of, lines: payloads.iter().any(|payload| payload.ends_with(b"\n")) },
    }
}

/// The field with what else all its payloads have in common: their length, a sum at the end, a counting byte.
fn framed(field: Field, payloads: &[&[u8]]) -> Field {
    let first = payloads.first().map_or(0, |payload| payload.len());
    let length = payloads.iter().all(|payload| payload.len() == first).then_some(first).filter(|length| *length > 0);
    let own = field.at..field.at + field.encoding.width();
    let counter_at = (0..first).filter(|at| !own.contains(at)).find(|at| counts(payloads, *at));
    let framed = Field { length, counter_at, ..field };
    let summed = Field { sum8: true, ..framed };
    let fits = |payload: &&[u8]| summed.decode(payload).is_ok();
    let by_chance = first <= field.encoding.width() || own.contains(&(first - 1));
    if !by_chance && payloads.len() >= COUNTED && payloads.iter().all(fits) { summed } else { framed }
}

/// Whether this byte goes up by one from message to message.
fn counts(payloads: &[&[u8]], at: usize) -> bool {
    let up = |pair: &[&[u8]]| match pair {
        [a, b] => a.get(at).zip(b.get(at)).is_some_and(|(a, b)| a.wrapping_add(1) == *b),
        _ => false,
    };
    payloads.len() > COUNTED && payloads.windows(2).all(up)
}

/// Where every way of the class can read: within what each encoding holds, and within what a site needs.
fn range(class: &[&Hypothesis], kind: Kind) -> Option<(f64, f64)> {
    let most = match kind {
        Kind::Length => 200_000.0,
        Kind::Angle => 360.0,
    };
    let within = |(least, greatest): (f64, f64), way: &&Hypothesis| match way.form {
        Form::Field(field) => {
            let (low, high) = holds(field);
            (least.max(low), greatest.min(high))
        }
        Form::Text(_) => (least, greatest),
    };
    let (least, greatest) = class.iter().fold((-most, most), within);
    (least < greatest).then_some((least, greatest))
}

/// The least and the greatest millimetres or degrees that the field can write.
fn holds(field: Field) -> (f64, f64) {
    let bits = 8 * field.encoding.width() as i32;
    let (low, high) = match field.encoding {
        Encoding::U8 | Encoding::U16 | Encoding::U24 | Encoding::U32 => (0.0, 2.0_f64.powi(bits) - 1.0),
        Encoding::I8 | Encoding::I16 | Encoding::I24 | Encoding::I32 => {
            (-2.0_f64.powi(bits - 1), 2.0_f64.powi(bits - 1) - 1.0)
        }
        Encoding::Bcd2 | Encoding::Bcd3 | Encoding::Bcd4 => (0.0, 10.0_f64.powi(bits / 4) - 1.0),
        Encoding::F32 | Encoding::F64 => (f64::NEG_INFINITY, f64::INFINITY),
    };
    let (a, b) = (low * field.scale.factor, high * field.scale.factor);
    (a.min(b), a.max(b))
}
