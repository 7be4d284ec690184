//! Every fault through the whole way, from the radio to readings: none of them makes a wrong one.

mod conditions;

use super::*;
use crate::bridge::{Bridge, Told};
use crate::decode::TextLine;
use crate::instrument::Heard;
use crate::profile::Form;
use crate::reading::{Cause, Reading};
use crate::state::State;
use proptest::prelude::*;
use std::task::Waker;
use std::time::Duration;

/// What the practice laser may be off by: its accuracy and half its step.
const OFF: f64 = 1.05;

fn ms(ms: u64) -> Moment {
    Duration::from_millis(ms)
}

fn mm(mm: f64) -> Quantity {
    Quantity::Length(Length::mm(mm))
}

/// A radio, a bridge over it, and all that was told so far.
struct Site {
    radio: SimulatedRadio,
    bridge: Bridge,
    now: u64,
    told: Vec<(u64, Told)>,
}

impl Site {
    fn new(radio: SimulatedRadio) -> Self {
        Self { bridge: Bridge::new(Box::new(radio.clone())), radio, now: 0, told: Vec::new() }
    }

    /// With one laser that speaks in this form, in use and ready after two seconds.
    fn with(form: Form) -> Self {
        let radio = SimulatedRadio::new(7);
        let profile = Profile { form, ..Profile::practice_laser() };
        radio.add(LASER, profile.clone(), mm(1000.0));
        let mut site = Self::new(radio);
        site.bridge.take_up(LASER.into(), profile);
        site
    }

    fn laser() -> Self {
        Self::with(Profile::practice_laser().form)
    }

    fn script(&self, at: u64, deed: Deed) {
        self.radio.script(ms(at), LASER, deed);
    }

    /// Polls every 10 ms, as a driver would.
    fn until(&mut self, end: u64) -> &mut Self {
        while self.now <= end {
            let mut context = Context::from_waker(Waker::noop());
            while let Poll::Ready(told) = self.bridge.poll(ms(self.now), &mut context) {
                self.told.push((self.now, told));
            }
            self.now += 10;
        }
        self
    }

    fn heard(&self, id: &str) -> impl Iterator<Item = (u64, &Heard)> {
        self.told.iter().filter_map(move |(at, told)| match told {
            Told::Instrument(of, heard) if of.as_str() == id => Some((*at, heard)),
            _ => None,
        })
    }

    fn states(&self) -> Vec<(u64, State)> {
        let states = self.heard(LASER).filter_map(|(at, heard)| match heard {
            Heard::State(state) => Some((at, *state)),
            _ => None,
        });
        states.collect()
    }

    fn readings(&self, id: &str) -> Vec<&Reading> {
        let readings = self.heard(id).filter_map(|(_, heard)| match heard {
            Heard::Reading(reading) => Some(reading),
            _ => None,
        });
        readings.collect()
    }

    fn refusals(&self) -> Vec<&'static str> {
        let refusals = self.heard(LASER).filter_map(|(_, heard)| match heard {
            Heard::NotAReading(why) => Some(why.name()),
            _ => None,
        });
        refusals.collect()
    }
}

fn length(reading: &Reading) -> f64 {
    let Quantity::Length(length) = reading.value else { panic!("a laser gives lengths: {reading:?}") };
    length.to_mm()
}

fn whole() -> Form {
    Profile::practice_laser().form
}

fn lines(summed: bool) -> Form {
    Form::Lines(TextLine { summed, decimal_comma: false })
}

/// The laser rests at 1000 mm, its button is pressed and the message goes wrong; then it is put at 2000 mm and its
/// button is pressed again. `first` and `second` say which of the two are taken.
struct Case {
    fault: Fault,
    form: Form,
    first: bool,
    second: bool,
    refusals: &'static [&'static str],
    lost: bool,
}

fn check(case: Case) {
    let Case { fault, form, first, second, refusals, lost } = case;
    let mut site = Site::with(form);
    for (at, deed) in
        [(2000, Deed::Fails(fault)), (3000, Deed::Press), (10_000, Deed::Rests(mm(2000.0))), (12_000, Deed::Press)]
    {
        site.script(at, deed);
    }
    site.until(15_000);
    let about = format!("{fault:?} {form:?}");
    let expected: Vec<f64> =
        [(first, 1000.0), (second, 2000.0)].iter().filter(|(taken, _)| *taken).map(|(_, at)| *at).collect();
    let found: Vec<f64> = site.readings(LASER).into_iter().map(length).collect();
    assert_eq!(found.len(), expected.len(), "{about}: {found:?}");
    assert!(found.iter().zip(&expected).all(|(a, b)| (a - b).abs() <= OFF), "{about}: {found:?} for {expected:?}");
    assert_eq!(site.refusals(), refusals, "{about}");
    let was_lost = site.states().iter().any(|(_, state)| matches!(state, State::Lost { .. }));
    assert_eq!(was_lost, lost, "{about}: {:?}", site.states());
    assert_eq!(site.bridge.state(&LASER.into()), Some(State::Ready), "{about}");
}

#[test]
fn a_link_lost_mid_reading() {
    for (form, refusals) in [(whole(), &["size"][..]), (lines(true), &[]), (lines(false), &[])] {
        check(Case { fault: Fault::LostMidReading, form, first: false, second: true, refusals, lost: true });
    }
}

#[test]
fn a_duplicate() {
    for form in [whole(), lines(true), lines(false)] {
        check(Case { fault: Fault::Twice, form, first: true, second: true, refusals: &["repeated"], lost: false });
    }
}

/// Where lines bear no check sum, the one after a piece without end is given up too: it could be that piece's tail.
#[test]
fn a_truncated_message() {
    for (form, second, refusals) in
        [(whole(), true, &["size"][..]), (lines(true), true, &[]), (lines(false), false, &[])]
    {
        check(Case { fault: Fault::Truncated, form, first: false, second, refusals, lost: false });
    }
}

#[test]
fn an_empty_message() {
    for (form, refusals) in [(whole(), &["size"][..]), (lines(true), &[]), (lines(false), &[])] {
        check(Case { fault: Fault::Empty, form, first: false, second: true, refusals, lost: false });
    }
}

#[test]
fn garbage() {
    check(Case {
        fault: Fault::Garbage,
        form: whole(),
        first: false,
        second: true,
        refusals: &["damaged"],
        lost: false,
    });
    check(Case { fault: Fault::Garbage, form: lines(true), first: false, second: true, refusals: &[], lost: false });
    check(Case { fault: Fault::Garbage, form: lines(false), first: false, second: false, refusals: &[], lost: false });
}

#[test]
fn a_slow_message() {
    for form in [whole(), lines(true), lines(false)] {
        let fault = Fault::Slow(ms(3000));
        check(Case { fault, form, first: true, second: true, refusals: &[], lost: false });
    }
}

#[test]
fn a_message_that_never_comes() {
    let fault = Fault::NeverAnswers;
    check(Case { fault, form: whole(), first: false, second: true, refusals: &[], lost: false });
}

#[test]
fn an_instrument_that_refuses() {
    check(Case { fault: Fault::Refuses, form: whole(), first: false, second: true, refusals: &[], lost: true });
}

fn faults() -> impl Strategy<Value = Fault> {
    use Fault::*;
    let fixed = prop::sample::select(vec![LostMidReading, Twice, Truncated, Empty, Garbage, NeverAnswers, Refuses]);
    prop_oneof![fixed, (0_u64..8000).prop_map(|later| Slow(ms(later)))]
}

fn deeds() -> impl Strategy<Value = Deed> {
    prop_oneof![
        3 => faults().prop_map(Deed::Fails),
        1 => Just(Deed::Leaves),
        2 => Just(Deed::Returns),
    ]
}

proptest! {
    /// Whatever goes wrong: each press gives one reading at most, of the place it was pressed at.
    #[test]
    fn no_fault_makes_a_wrong_reading(
        mishaps in prop::collection::vec((0_u64..60_000, deeds()), 0..25),
        presses in prop::collection::vec(0_u64..60_000, 1..20),
        summed_lines: bool,
    ) {
        let mut site = Site::with(if summed_lines { lines(true) } else { whole() });
        let mut presses = presses;
        presses.sort_unstable();
        for (at, deed) in mishaps {
            site.script(at, deed);
        }
        // Each press at a place of its own, 10 mm from the last.
        for (n, at) in presses.iter().enumerate() {
            site.script(*at, Deed::Rests(mm(1000.0 + 10.0 * n as f64)));
            site.script(*at, Deed::Press);
        }
        let mut taken: Vec<usize> = Vec::new();
        for reading in site.until(80_000).readings(LASER) {
            let n = ((length(reading) - 1000.0) / 10.0).round();
            prop_assert!((length(reading) - 1000.0 - 10.0 * n).abs() <= OFF, "{:?}", reading);
            prop_assert!(ms(presses[n as usize]) < reading.at);
            prop_assert!(!taken.contains(&(n as usize)), "{} twice", n);
            taken.push(n as usize);
        }
    }
}
