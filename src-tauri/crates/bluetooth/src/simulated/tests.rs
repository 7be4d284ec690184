//! Every fault through the whole way, from the radio to readings: none of them makes a wrong one.

use super::*;
use crate::bridge::{Bridge, Told};
use crate::decode::TextLine;
use crate::instrument::Heard;
use crate::profile::Form;
use crate::reading::{Cause, Reading};
use crate::state::State;
use proptest::prelude::*;
use std::task::Waker;

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

/// The states from the start until ready, with the moment of each, when the connecting goes wrong.
fn check_connecting(faults: &[Fault], expected: &[(u64, State)]) {
    let mut site = Site::laser();
    faults.iter().for_each(|fault| site.script(0, Deed::Fails(*fault)));
    let found = site.until(60_000).states();
    assert_eq!(found, expected, "{faults:?}");
}

#[test]
fn connecting_goes_wrong_in_every_way() {
    let (searching, connecting, ready) = ((0, State::Searching), (1000, State::Connecting), State::Ready);
    let lost = |retry, trouble| State::Lost { retry, trouble };
    check_connecting(&[], &[searching, connecting, (1450, ready)]);
    check_connecting(&[Fault::Slow(ms(3000))], &[searching, connecting, (4450, ready)]);
    let silent = (11_000, lost(1, Trouble::NotAnswering));
    check_connecting(
        &[Fault::NeverAnswers],
        &[searching, connecting, silent, (12_000, State::Connecting), (12_450, ready)],
    );
    let refused = (1120, lost(1, Trouble::Refused));
    check_connecting(&[Fault::Refuses], &[searching, connecting, refused, (2120, State::Connecting), (2570, ready)]);
    let half = (1250, lost(1, Trouble::Dropped));
    check_connecting(
        &[Fault::LostMidReading],
        &[searching, connecting, half, (2250, State::Connecting), (2700, ready)],
    );
}

#[test]
fn out_of_range_it_waits_longer_each_time_up_to_eight_seconds() {
    let mut site = Site::laser();
    site.script(5000, Deed::Leaves);
    site.script(60_000, Deed::Returns);
    let states = site.until(80_000).states();
    let lost: Vec<(u64, u32)> = states
        .iter()
        .filter_map(|(at, state)| if let State::Lost { retry, .. } = state { Some((*at, *retry)) } else { None })
        .collect();
    // Each attempt fails after 120 ms; between them 1, 2, 4, 8, 8, ... s.
    let mut expected = vec![(5000, 1)];
    for (retry, wait) in [1, 2, 4, 8, 8, 8, 8, 8].into_iter().enumerate() {
        let (at, _) = expected[retry];
        expected.push((at + 1000 * wait + 120, retry as u32 + 2));
    }
    assert_eq!(lost, expected);
    assert_eq!(states.last().map(|(_, state)| *state), Some(State::Ready));
    let trouble = |retry, trouble| states.iter().any(|(_, state)| *state == State::Lost { retry, trouble });
    assert!(trouble(1, Trouble::Dropped) && trouble(2, Trouble::OutOfReach));
    site.script(81_000, Deed::Leaves);
    let last = site.until(81_500).states().last().copied();
    assert_eq!(last, Some((81_000, State::Lost { retry: 1, trouble: Trouble::Dropped })), "it counts anew");
}

#[test]
fn asked_it_answers() {
    let mut site = Site::laser();
    assert!(!site.until(1200).bridge.measure(&LASER.into(), ms(1200)), "it is not ready yet");
    assert!(site.until(2000).bridge.measure(&LASER.into(), ms(2000)));
    assert!(!site.bridge.measure(&LASER.into(), ms(2000)), "one asking at a time");
    site.script(3000, Deed::Press);
    let causes: Vec<Cause> = site.until(4000).readings(LASER).iter().map(|reading| reading.cause).collect();
    assert_eq!(causes, [Cause::Asked, Cause::Button]);
    assert!(site.bridge.measure(&LASER.into(), ms(4000)));
}

#[test]
fn an_answer_too_late_is_nobodys_answer() {
    for fault in [Fault::NeverAnswers, Fault::Slow(ms(5500)), Fault::Slow(ms(60_000))] {
        let mut site = Site::laser();
        site.script(1900, Deed::Fails(fault));
        site.bridge.look(true);
        site.until(2000).bridge.measure(&LASER.into(), ms(2000));
        site.script(7500, Deed::Rests(mm(2000.0)));
        site.until(9000);
        let no_answer: Vec<u64> =
            site.heard(LASER).filter(|(_, heard)| **heard == Heard::NoAnswer).map(|(at, _)| at).collect();
        assert_eq!(no_answer, [7000], "{fault:?}: told once, after five seconds");
        let free = site.told.iter().any(|(at, told)| *at == 8000 && matches!(told, Told::Found(_)));
        assert!(free, "{fault:?}: it was let go");
        assert!(site.bridge.measure(&LASER.into(), ms(9000)), "{fault:?}: it is back");
        let found: Vec<f64> = site.until(80_000).readings(LASER).into_iter().map(length).collect();
        assert!(matches!(found[..], [one] if (one - 2000.0).abs() <= OFF), "{fault:?}: {found:?}");
    }
}

#[test]
fn each_condition_of_the_radio_has_its_words() {
    let conditions = [
        (Adapter::NoService, State::NoService, "does not run"),
        (Adapter::PermissionRefused, State::PermissionRefused, "may not use"),
        (Adapter::NoAdapter, State::NoAdapter, "no Bluetooth radio"),
        (Adapter::SwitchedOff, State::SwitchedOff, "Switch it on?"),
    ];
    for (adapter, state, words) in conditions {
        let mut site = Site::laser();
        site.radio.turn(ms(3000), adapter);
        site.script(3500, Deed::Press);
        site.radio.turn(ms(5000), Adapter::On);
        site.script(8000, Deed::Press);
        let states = site.until(9000).states();
        assert!(states.contains(&(3000, state)) && state.words().contains(words), "{adapter:?}: {states:?}");
        assert_eq!(states.last().map(|(_, state)| *state), Some(State::Ready), "{adapter:?}");
        assert_eq!(site.readings(LASER).len(), 1, "{adapter:?}: pressed once while ready");
    }
}

#[test]
fn it_is_switched_on_only_when_a_person_says_so() {
    let radio = SimulatedRadio::practice(1);
    radio.turn(ms(0), Adapter::SwitchedOff);
    let mut site = Site::new(radio);
    site.bridge.look(true);
    site.bridge.take_up(LASER.into(), Profile::practice_laser());
    site.until(20_000);
    assert_eq!(site.bridge.state(&LASER.into()), Some(State::SwitchedOff));
    site.bridge.switch_on();
    site.until(25_000);
    assert_eq!(site.bridge.state(&LASER.into()), Some(State::Ready));
}

#[test]
fn what_does_not_have_what_it_should_is_said_to_be_unsuitable() {
    let mut site = Site::new(SimulatedRadio::practice(1));
    site.bridge.take_up(LASER.into(), Profile::practice_level());
    let states = site.until(2000).states();
    let unsuitable = State::Lost { retry: 1, trouble: Trouble::Unsuitable };
    assert!(states.iter().any(|(_, state)| *state == unsuitable), "{states:?}");
}

#[test]
fn two_instruments_do_not_disturb_each_other() {
    let mut site = Site::new(SimulatedRadio::practice(3));
    site.bridge.look(true);
    site.bridge.take_up(LASER.into(), Profile::practice_laser());
    site.bridge.take_up(LEVEL.into(), Profile::practice_level());
    site.script(3000, Deed::Leaves);
    site.radio.script(ms(4100), LEVEL, Deed::Press);
    site.until(10_000);
    let level = site.readings(LEVEL);
    let angle = |reading: &&Reading| matches!(reading.value, Quantity::Angle(angle) if (angle.to_degrees() - 1.19).abs() < 0.07);
    assert!(level.iter().all(angle), "{level:?}");
    assert_eq!(level.iter().filter(|reading| reading.cause == Cause::Button).count(), 1);
    assert_eq!(level.iter().filter(|reading| reading.cause == Cause::Live).count(), 17, "two a second from 1.87 s on");
    assert!(site.heard(LEVEL).any(|(_, heard)| *heard == Heard::Battery(83)));
    let found =
        |id: &str| site.told.iter().any(|(_, told)| matches!(told, Told::Found(found) if found.id.as_str() == id));
    assert!(found(LASER) && found(LEVEL));
}

#[test]
fn the_same_seed_gives_the_same_bytes() {
    let raw = |seed| {
        let mut site = Site::new(SimulatedRadio::practice(seed));
        site.bridge.take_up(LEVEL.into(), Profile::practice_level());
        site.until(20_000).readings(LEVEL).into_iter().map(|reading| reading.raw.clone()).collect::<Vec<_>>()
    };
    assert_eq!(raw(5), raw(5));
    assert_ne!(raw(5), raw(6));
}

#[test]
fn an_instrument_put_away_is_free_for_others() {
    let mut site = Site::laser();
    site.until(3000).bridge.put_away(&LASER.into());
    assert_eq!(site.bridge.state(&LASER.into()), None);
    site.script(4000, Deed::Press);
    site.until(5000).bridge.take_up(LASER.into(), Profile::practice_laser());
    site.until(8000);
    assert_eq!((site.bridge.state(&LASER.into()), site.readings(LASER).len()), (Some(State::Ready), 0));
}

#[test]
fn an_hour_unpolled_fills_no_memory() {
    let mut site = Site::new(SimulatedRadio::practice(3));
    site.bridge.take_up(LEVEL.into(), Profile::practice_level());
    site.until(3000);
    let before = site.readings(LEVEL).len();
    site.now = 1000 * 3600 * 24 * 365;
    site.until(site.now);
    assert!((1..=64).contains(&(site.readings(LEVEL).len() - before)));
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
