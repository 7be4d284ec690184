//! What the radio and the link can be like, and what is said of it.

use super::*;

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
