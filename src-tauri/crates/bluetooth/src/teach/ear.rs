//! Listening to everything that one instrument sends. Nothing is written to it.

use super::Sample;
use crate::Moment;
use crate::decode::Lines;
use crate::radio::{InstrumentId, Link, LinkEvent, Radio, RadioEvent, Uuid};
use crate::state::{Adapter, Trouble};
use std::collections::BTreeMap;
use std::task::{Context, Poll};

/// What is heard.
#[derive(Debug, Clone, PartialEq)]
pub enum Overheard {
    Adapter(Adapter),
    /// Connected, and subscribed to this many characteristics; none means that it sends nothing by itself.
    Listening(usize),
    /// Something came: all that was sent last, with this in it.
    Sample(Sample),
    Lost(Trouble),
}

/// One instrument, and all that it sends.
pub struct Ear {
    /// Before the radio, so that it is given up first.
    link: Box<dyn Link>,
    radio: Box<dyn Radio>,
    id: InstrumentId,
    lines: BTreeMap<Uuid, Lines>,
    latest: Sample,
    connected: bool,
}

impl Ear {
    /// Looks for the instrument and connects to it as soon as it is heard.
    pub fn new(mut radio: Box<dyn Radio>, id: InstrumentId) -> Self {
        let link = radio.link(&id);
        Self { link, radio, id, lines: BTreeMap::new(), latest: Sample::new(), connected: false }
    }

    /// What is heard next, up to `now`.
    pub fn poll(&mut self, now: Moment, context: &mut Context<'_>) -> Poll<Overheard> {
        loop {
            let heard = match self.link.poll(now, context) {
                Poll::Ready(event) => self.hear(event),
                Poll::Pending => match self.radio.poll(now, context) {
                    Poll::Ready(event) => self.radio_said(event),
                    Poll::Pending => return Poll::Pending,
                },
            };
            if let Some(heard) = heard {
                return Poll::Ready(heard);
            }
        }
    }

    /// When to poll again even if nothing wakes the context.
    pub fn due(&self) -> Option<Moment> {
        [self.radio.due(), self.link.due()].into_iter().flatten().min()
    }

    fn radio_said(&mut self, event: RadioEvent) -> Option<Overheard> {
        match event {
            RadioEvent::Adapter(adapter) => {
                self.radio.search(adapter == Adapter::On);
                Some(Overheard::Adapter(adapter))
            }
            RadioEvent::Found(found) => {
                if found.id == self.id && !self.connected {
                    self.connected = true;
                    self.radio.search(false);
                    self.link.connect();
                }
                None
            }
        }
    }

    fn hear(&mut self, event: LinkEvent) -> Option<Overheard> {
        match event {
            LinkEvent::Resolved(has) => {
                let sends: Vec<Uuid> = has.iter().filter(|one| one.notifies).map(|one| one.uuid).collect();
                sends.iter().for_each(|uuid| self.link.subscribe(*uuid));
                Some(Overheard::Listening(sends.len()))
            }
            LinkEvent::Notified { characteristic, bytes, at } => self.notified(characteristic, bytes, at),
            LinkEvent::Failed(trouble) => Some(self.lost(trouble)),
            LinkEvent::Lost => Some(self.lost(Trouble::Dropped)),
            LinkEvent::Connected | LinkEvent::Subscribed(_) | LinkEvent::Read { .. } => None,
        }
    }

    fn lost(&mut self, trouble: Trouble) -> Overheard {
        self.link.disconnect();
        self.connected = false;
        self.lines.clear();
        self.radio.search(true);
        Overheard::Lost(trouble)
    }

    /// Bytes count as they come; pieces of text are put together to lines first, their end included.
    fn notified(&mut self, from: Uuid, bytes: Vec<u8>, at: Moment) -> Option<Overheard> {
        let text = !bytes.is_empty() && bytes.iter().all(|byte| matches!(byte, b' '..=b'~' | b'\r' | b'\n' | b'\t'));
        let whole = if text || self.lines.contains_key(&from) {
            let lines = self.lines.entry(from).or_insert_with(|| Lines::new(true));
            let mut line = lines.take(&bytes, at).pop()?;
            line.push(b'\n');
            line
        } else {
            bytes
        };
        self.latest.insert(from, whole);
        Some(Overheard::Sample(self.latest.clone()))
    }
}

impl Drop for Ear {
    fn drop(&mut self) {
        self.link.disconnect();
        self.radio.search(false);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::decode::TextLine;
    use crate::profile::{Form, Profile};
    use crate::reading::Quantity;
    use crate::simulated::{Deed, LASER, SimulatedRadio};
    use std::task::Waker;
    use std::time::Duration;
    use survey::units::Length;

    /// What is overheard of a laser that is pressed at three places.
    fn overheard(form: Form) -> Vec<Overheard> {
        let radio = SimulatedRadio::new(3);
        let profile = Profile { form, ..Profile::practice_laser() };
        radio.add(LASER, profile, Quantity::Length(Length::mm(1000.0)));
        for second in 4..7_u64 {
            let rests = Quantity::Length(Length::mm(1000.0 * second as f64));
            radio.script(Duration::from_millis(1000 * second), LASER, Deed::Rests(rests));
            radio.script(Duration::from_millis(1000 * second + 1), LASER, Deed::Press);
        }
        let mut ear = Ear::new(Box::new(radio), LASER.into());
        let mut context = Context::from_waker(Waker::noop());
        let mut heard = Vec::new();
        for tick in 0..100 {
            while let Poll::Ready(one) = ear.poll(Duration::from_millis(100 * tick), &mut context) {
                heard.push(one);
            }
        }
        heard
    }

    #[test]
    fn everything_that_is_sent_is_heard() {
        for form in [Profile::practice_laser().form, Form::Lines(TextLine { summed: false, decimal_comma: false })] {
            let heard = overheard(form);
            assert!(heard.contains(&Overheard::Listening(3)), "{heard:?}");
            let samples = heard.iter().filter(|one| matches!(one, Overheard::Sample(_))).count();
            assert_eq!(samples, 3, "{heard:?}");
        }
    }
}
