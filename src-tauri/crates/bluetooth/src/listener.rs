//! From the notifications of one instrument to readings, and to nothing else.

use crate::Moment;
use crate::decode::{Lines, Message};
use crate::profile::{Form, Profile, Scope};
use crate::radio::Uuid;
use crate::reading::{Cause, NotAReading, Reading};

/// Reads one instrument by its profile.
pub(crate) struct Listener {
    profile: Profile,
    lines: Lines,
    /// The last message that was taken, and when it came.
    last: Option<(Vec<u8>, Moment)>,
}

impl Listener {
    pub(crate) fn new(profile: Profile) -> Self {
        let lines = Lines::new(profile.form.lines().unwrap_or(true));
        Self { profile, lines, last: None }
    }

    pub(crate) fn profile(&self) -> &Profile {
        &self.profile
    }

    /// The instrument describes how it is to be read.
    pub(crate) fn described(&mut self, characteristic: Uuid, form: Form) {
        self.profile.characteristic = characteristic;
        self.profile.form = form;
    }

    /// The link is lost or new: a message under way is thrown away. What came last is still known for a repeat.
    pub(crate) fn lose(&mut self, at: Moment) {
        self.lines.lose(at);
    }

    /// What the bytes of one notification complete.
    pub(crate) fn take(&mut self, bytes: Vec<u8>, at: Moment, asked: bool) -> Vec<Result<Reading, NotAReading>> {
        let messages = match self.profile.form.lines() {
            None => vec![bytes],
            Some(_) => self.lines.take(&bytes, at),
        };
        messages.into_iter().map(|raw| self.reading(raw, at, asked)).collect()
    }

    fn reading(&mut self, raw: Vec<u8>, at: Moment, asked: bool) -> Result<Reading, NotAReading> {
        let message = self.profile.form.decode(&raw)?;
        let fits = |scope: &Scope| message.value.within(scope.range.0, scope.range.1);
        let Some(scope) = self.profile.scope(message.value).filter(fits) else {
            return Err(NotAReading::OutOfRange(message.value));
        };
        if self.repeats(&raw, &message, at) {
            return Err(NotAReading::Repeated);
        }
        self.last = Some((raw.clone(), at));
        Ok(self.accepted(message, scope, raw, at, asked))
    }

    /// Whether the same bytes came before: at all, if they bear a number; else just now.
    fn repeats(&self, raw: &[u8], message: &Message, at: Moment) -> bool {
        let just_now = |then: Moment| at.saturating_sub(then) <= self.profile.repeats_within;
        let last = self.last.as_ref().filter(|(last, _)| last == raw);
        last.is_some_and(|(_, then)| message.number.is_some() || just_now(*then))
    }

    fn accepted(&self, message: Message, scope: Scope, raw: Vec<u8>, at: Moment, asked: bool) -> Reading {
        let Profile { name, version, unasked, .. } = &self.profile;
        let guessed = if asked { Cause::Asked } else { *unasked };
        Reading {
            value: message.value,
            u: scope.accuracy.standard_uncertainty(scope.step),
            cause: message.cause.unwrap_or(guessed),
            at,
            raw,
            profile: name.clone(),
            profile_version: *version,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::decode::FixedPoint;
    use crate::reading::Quantity;
    use std::time::Duration;
    use survey::units::Length;

    fn ms(ms: u64) -> Moment {
        Duration::from_millis(ms)
    }

    /// A laser whose messages bear neither cause nor number nor check sum.
    fn bare() -> Listener {
        Listener::new(Profile { form: Form::Whole(FixedPoint::LENGTH), ..Profile::practice_laser() })
    }

    fn payload(mm: f64) -> Vec<u8> {
        FixedPoint::LENGTH.encode(Quantity::Length(Length::mm(mm)), Cause::Live, 0).expect("it fits")
    }

    /// Whether each length is taken at its time.
    fn check(messages: &[(u64, f64)], expected: &[Option<&str>]) {
        let mut listener = bare();
        let found: Vec<Option<&str>> = messages
            .iter()
            .flat_map(|(at, mm)| listener.take(payload(*mm), ms(*at), false))
            .map(|message| message.err().map(NotAReading::name))
            .collect();
        assert_eq!(found, expected, "{messages:?}");
    }

    #[test]
    fn an_equal_message_is_a_repeat_only_for_a_moment() {
        check(&[(0, 1000.0), (300, 1000.0), (301, 1000.0), (901, 1000.0)], &[None, Some("repeated"), None, None]);
        check(&[(0, 1000.0), (10, 1000.1), (20, 1000.0)], &[None, None, None]);
    }

    #[test]
    fn a_numbered_message_is_a_repeat_however_late() {
        let mut listener = Listener::new(Profile::practice_laser());
        let mut taken = |number, at| {
            let value = Quantity::Length(Length::mm(1000.0));
            let payload = FixedPoint::PRACTICE_LENGTH.encode(value, Cause::Button, number).expect("it fits");
            listener.take(payload, ms(at), false).iter().all(Result::is_ok)
        };
        let found = [taken(1, 0), taken(1, 60_000), taken(2, 60_001), taken(3, 60_002)];
        assert_eq!(found, [true, false, true, true], "sent again after a loss it counts once; an equal reading counts");
    }

    #[test]
    fn more_than_it_can_measure_was_damaged() {
        let beyond = Some("out-of-range");
        check(&[(0, 49.9), (0, 50.0), (0, 30_000.0), (0, 30_000.1)], &[beyond, None, None, beyond]);
    }

    #[test]
    fn a_reading_keeps_what_it_came_from() {
        let mut listener = bare();
        let taken =
            |listener: &mut Listener, mm, asked| listener.take(payload(mm), ms(7), asked).pop().expect("one message");
        let reading = taken(&mut listener, 1234.5, true).expect("a reading");
        assert_eq!((reading.value, reading.raw), (Quantity::Length(Length::mm(1234.5)), payload(1234.5)));
        assert_eq!((reading.profile.as_str(), reading.profile_version, reading.at), ("practice laser", 1, ms(7)));
        assert_eq!(reading.cause, Cause::Asked);
        assert_eq!(taken(&mut listener, 1300.0, false).map(|reading| reading.cause), Ok(Cause::Button));
    }
}
