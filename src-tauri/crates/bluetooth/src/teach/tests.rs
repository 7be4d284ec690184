//! How well and how safely devices are learned, over many simulated ones.

use super::trial::{Chance, Device, characteristic};
use super::*;
use crate::profile::Shelf;
use survey::units::{Angle, Length};

/// How many devices of each kind are taught.
const DEVICES: usize = 600;
/// Readings made in play before anything is typed.
const PLAY: u8 = 40;

/// What became of teaching.
#[derive(Debug, Default)]
struct Figures {
    one_class_within_three: usize,
    /// The blind check agreed and the profile was taken.
    accepted: usize,
    /// Accepted, and wrong somewhere afterwards.
    false_accepted: usize,
    nothing_fits: usize,
    checks_failed: usize,
}

fn play(device: &Device, chance: &mut Chance) -> Vec<(Sample, f64)> {
    (0..PLAY)
        .filter_map(|count| {
            let value = device.value(chance);
            device.measure(value, count, chance)
        })
        .collect()
}

/// Teaches one device: the first reading by chance, the others those that tell the ways apart best.
fn teach(device: &Device, chance: &mut Chance, figures: &mut Figures) {
    let mut played = play(device, chance);
    let mut teaching = Teaching::new(device.display, played.iter().map(|(sample, _)| sample.clone()).collect());
    let mut single = None;
    while teaching.next() == Next::Show && !played.is_empty() && teaching.typed() < 8 {
        let samples: Vec<Sample> = played.iter().map(|(sample, _)| sample.clone()).collect();
        let pick = if teaching.typed() == 0 { 0 } else { teaching.best_of(&samples).unwrap_or(0) };
        let (sample, shown) = played.remove(pick);
        if teaching.show(sample, shown) == Shown::Taken && single.is_none() && teaching.ways() == 1 {
            single = Some(teaching.typed());
        }
    }
    figures.one_class_within_three += usize::from(single.is_some_and(|typed| typed <= 3));
    match teaching.next() {
        Next::NothingFits => figures.nothing_fits += 1,
        Next::Show => {}
        Next::Check => check_blind(device, &teaching, chance, figures),
    }
}

/// A fresh reading is told before it is seen; after that, many more must come out.
fn check_blind(device: &Device, teaching: &Teaching, chance: &mut Chance, figures: &mut Figures) {
    let step = device.display.step();
    let mut agrees = |count| {
        let value = device.value(chance);
        let Some((sample, shown)) = device.measure(value, count, chance) else { return true };
        teaching.guess(&sample).is_some_and(|guess| (guess - shown).abs() <= 1.001 * step)
    };
    if !agrees(100) {
        figures.checks_failed += 1;
        return;
    }
    figures.accepted += 1;
    if !(101..200).all(&mut agrees) {
        figures.false_accepted += 1;
    }
}

fn figures(kind: Kind) -> Figures {
    let (mut chance, mut figures) = (Chance::new(20_310_402), Figures::default());
    for _ in 0..DEVICES {
        let device = Device::draw(kind, &mut chance);
        teach(&device, &mut chance, &mut figures);
    }
    println!("{kind:?}: {figures:?} of {DEVICES}");
    figures
}

#[test]
fn lengths_are_learned_from_three_readings() {
    let figures = figures(Kind::Length);
    assert!(figures.one_class_within_three * 100 >= DEVICES * 99, "{figures:?}");
    assert_eq!(figures.false_accepted, 0, "{figures:?}");
    assert_eq!(figures.nothing_fits, 0, "{figures:?}");
}

#[test]
fn angles_are_learned_from_three_readings() {
    let figures = figures(Kind::Angle);
    assert!(figures.one_class_within_three * 100 >= DEVICES * 97, "{figures:?}");
    assert_eq!(figures.false_accepted, 0, "{figures:?}");
    assert_eq!(figures.nothing_fits, 0, "{figures:?}");
}

/// Payloads that have nothing to do with the display: random bytes, and a counter with a ramp.
fn unrelated(mode: usize, count: u8, chance: &mut Chance) -> Sample {
    let random = |length: usize, chance: &mut Chance| (0..length).map(|_| chance.byte()).collect::<Vec<u8>>();
    let mut sample = Sample::new();
    match mode {
        0 => (0..3).for_each(|place| drop(sample.insert(characteristic(place), random(20, chance)))),
        1 => drop(sample.insert(characteristic(0), random(8, chance))),
        _ => {
            let ramp = 5000 + 137 * u16::from(count);
            let mut bytes = vec![count, 0, 0, 7];
            bytes.extend(ramp.to_le_bytes());
            bytes.extend([0, chance.byte(), chance.byte() & 15]);
            sample.insert(characteristic(0), bytes);
        }
    }
    sample
}

/// At most one in a thousand is accepted of devices that do not send what they show.
#[test]
fn what_is_not_sent_is_not_learned() {
    let displays =
        [(DisplayUnit::M, 3), (DisplayUnit::Mm, 0), (DisplayUnit::In, 2), (DisplayUnit::Deg, 2), (DisplayUnit::Deg, 1)];
    let mut chance = Chance::new(77);
    let (mut tried, mut accepted) = (0, 0);
    for (unit, decimals) in displays {
        let display = Display { unit, decimals };
        let mut device = Device::draw(unit.kind(), &mut chance);
        device.display = display;
        for trial in 0..DEVICES {
            tried += 1;
            let mode = trial % 3;
            let free = (0..PLAY).map(|count| unrelated(mode, count, &mut chance)).collect();
            let mut teaching = Teaching::new(display, free);
            let mut count = PLAY;
            while teaching.next() == Next::Show && teaching.typed() < 8 {
                count += 1;
                let shown = display.rounded(device.value(&mut chance));
                teaching.show(unrelated(mode, count, &mut chance), shown);
            }
            let shown = display.rounded(device.value(&mut chance));
            let guess = teaching.guess(&unrelated(mode, count + 1, &mut chance));
            let agrees = guess.is_some_and(|guess| (guess - shown).abs() <= 1.001 * display.step());
            accepted += usize::from(teaching.next() == Next::Check && agrees);
        }
    }
    println!("unrelated: {accepted} of {tried} accepted");
    assert!(accepted * 1000 <= tried, "{accepted} of {tried}");
}

#[test]
fn what_was_learned_is_a_profile_with_its_examples_as_its_test() {
    let mut chance = Chance::new(5);
    let accuracy = |kind| match kind {
        Kind::Length => Quantity::Length(Length::mm(1.5)),
        Kind::Angle => Quantity::Angle(Angle::degrees(0.1)),
    };
    for kind in [Kind::Length, Kind::Angle].into_iter().cycle().take(60) {
        let device = Device::draw(kind, &mut chance);
        let played = play(&device, &mut chance);
        let mut teaching = Teaching::new(device.display, played.iter().map(|(sample, _)| sample.clone()).collect());
        for (sample, shown) in played {
            teaching.show(sample, shown);
        }
        let (profile, examples) = teaching.profile("mine", accuracy(kind)).expect("it was learned");
        assert!(examples.len() >= 3);
        assert_eq!(profile.characteristic, characteristic(device.main), "{device:?}");
        let text = Shelf::write(&profile, kind, "Sim", &examples).expect("it can be written");
        let read = Profile::read(&text).unwrap_or_else(|why| panic!("{why}:\n{text}"));
        assert_eq!(read.form, profile.form, "{text}");
    }
}

#[test]
fn readings_that_tell_nothing_are_not_taken() {
    let mut teaching = Teaching::new(Display { unit: DisplayUnit::M, decimals: 3 }, Vec::new());
    assert_eq!(teaching.show(Sample::new(), 1.0), Shown::NothingSent);
    let sample = Sample::from([(characteristic(0), vec![1, 2])]);
    assert_eq!(teaching.show(sample.clone(), 1.234), Shown::Taken);
    assert_eq!(teaching.show(sample, 1.235), Shown::TooAlike);
    assert_eq!(teaching.next(), Next::NothingFits);
}
