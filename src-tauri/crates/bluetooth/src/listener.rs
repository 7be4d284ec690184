//! From the notifications of one instrument to readings, and to nothing else.

use crate::Moment;
use crate::decode::{Lines, Message};
use crate::profile::{Form, Profile};
use crate::reading::{Cause, NotAReading, Reading};

/// Reads one instrument by its profile.
pub(crate) struct Listener {
    profile: Profile,
    lines: Lines,
    /// The last message that was understood, and when it came.
    last: Option<(Vec<u8>, Moment)>,
}

impl Listener {
    pub(crate) fn new(profile: Profile) -> Self {
        let summed = matches!(profile.form, Form::Lines(form) if form.summed);
        Self { profile, lines: Lines::new(summed), last: None }
    }

    pub(crate) fn profile(&self) -> &Profile {
        &self.profile
    }

    /// The link is lost or new: a message under way is thrown away. What came last is still known for a repeat.
    pub(crate) fn lose(&mut self, at: Moment) {
        self.lines.lose(at);
    }

    /// What the bytes of one notification complete.
    pub(crate) fn take(&mut self, bytes: Vec<u8>, at: Moment, asked: bool) -> Vec<Result<Reading, NotAReading>> {
        let messages = match self.profile.form {
            Form::Whole(_) => vec![bytes],
            Form::Lines(_) => self.lines.take(&bytes, at),
        };
        messages.into_iter().map(|raw| self.reading(raw, at, asked)).collect()
    }

    fn reading(&mut self, raw: Vec<u8>, at: Moment, asked: bool) -> Result<Reading, NotAReading> {
        let message = match self.profile.form {
            Form::Whole(form) => form.decode(&raw),
            Form::Lines(form) => form.decode(&raw),
        }?;
        let (least, most) = self.profile.range;
        if !message.value.within(least, most) {
            return Err(NotAReading::OutOfRange(message.value));
        }
        let repeated = self.repeats(&raw, &message, at);
        self.last = Some((raw.clone(), at));
        if repeated { Err(NotAReading::Repeated) } else { Ok(self.accepted(message, raw, at, asked)) }
    }

    /// Whether the same bytes came before: at all, if they bear a number; else just now.
    fn repeats(&self, raw: &[u8], message: &Message, at: Moment) -> bool {
        let just_now = |then: Moment| at.saturating_sub(then) <= self.profile.repeats_within;
        let last = self.last.as_ref().filter(|(last, _)| last == raw);
        last.is_some_and(|(_, then)| message.number.is_some() || just_now(*then))
    }

    fn accepted(&self, message: Message, raw: Vec<u8>, at: Moment, asked: bool) -> Reading {
        let Profile { accuracy, step, name, version, unasked, .. } = &self.profile;
        let guessed = if asked { Cause::Asked } else { *unasked };
        Reading {
            value: message.value,
            u: accuracy.standard_uncertainty(*step),
            cause: message.cause.unwrap_or(guessed),
            at,
            raw,
            profile: name.clone(),
            profile_version: *version,
        }
    }
}
