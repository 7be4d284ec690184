//! Profiles of instruments, as people write them.

use crate::said::{Heard, sentence, shape};
use crate::trial;
use bluetooth::decode::Kind;
use bluetooth::profile::{Form, Profile, Shelf};
use bluetooth::reading::Quantity;

const LASER: &str = r#"schema = 1
name = "my distance meter"
version = 2
match = { name = "Sim", service = "185a" }
[read]
characteristic = "5f6b0002-2c1a-4d3e-9a77-000000000001"
form.number = { encoding = "f32le", at = 3, length = 8, counter_at = 2, not_known = 4294967295 }
unit = "m"
accuracy = 0.0015
resolution = 0.001
offset = 0.25
valid = { min = 0.02, max = 32.767 }
repeats_within_ms = 300
[trigger]
characteristic = "5f6b0003-2c1a-4d3e-9a77-000000000001"
bytes = "01ff"
[[example]]
payload = "a501000000a03f00"
shown = 1.5
"#;

const LEVEL: &str = r#"schema = 1
name = "my level"
version = 1
[match]
name = "Tilt"
[read]
characteristic = "2c0a"
form.text = { nth = 1, decimal_comma = true, lines = true }
unit = "deg"
scale = -1.0
accuracy = 0.05
resolution = 0.01
valid = { min = -45.0, max = 45.0 }
button = false
"#;

const BUILT_IN: [&str; 2] = [
    include_str!("../../../src-tauri/crates/bluetooth/profiles/open-standard.toml"),
    include_str!("../../../src-tauri/crates/bluetooth/profiles/serial-lines.toml"),
];

#[test]
fn profile_toml() {
    let line = LEVEL.replace(
        "form.text = { nth = 1, decimal_comma = true, lines = true }",
        "form.line = { check_sum = true, decimal_comma = false }",
    );
    let seeds = [LASER, LEVEL, &line].into_iter().chain(BUILT_IN).map(|text| text.as_bytes().to_vec());
    let check = |bytes: &[u8]| match Profile::read(&String::from_utf8_lossy(bytes)) {
        Ok(profile) => {
            decodes(&profile, bytes);
            same_again(&profile);
            Heard::Read(shape(&format!("{:?}", profile.form)))
        }
        Err(why) => {
            sentence(&why.to_string(), bytes);
            Heard::Refused(shape(&why.to_string()))
        }
    };
    trial::run("profile-toml", 1500, seeds.collect(), Box::new(check));
}

/// Whatever is sent then becomes a finite number or none.
fn decodes(profile: &Profile, bytes: &[u8]) {
    for message in bytes.chunks(9).chain([bytes]) {
        if let Ok(message) = profile.form.decode(message) {
            assert!(message.value.number().is_finite());
        }
    }
}

/// A profile of a form that can be taught is the same when it is written and read again.
fn same_again(profile: &Profile) {
    let unit = match profile.accuracy {
        Quantity::Length(_) => Kind::Length,
        Quantity::Angle(_) => Kind::Angle,
    };
    let Some(text) = Shelf::write(profile, unit, "mine", &[]) else {
        assert!(!matches!(profile.form, Form::Field(_) | Form::Number { .. }), "it can be written");
        return;
    };
    let again = Profile::read(&text).unwrap_or_else(|why| panic!("written as {text}, then: {why}"));
    let near = |one: Quantity, other: Quantity| {
        let (one, other) = (one.number(), other.number());
        (one - other).abs() <= 1e-12 * one.abs()
    };
    assert_eq!((&again.form, &again.name, again.version), (&profile.form, &profile.name, profile.version));
    assert_eq!((again.characteristic, again.repeats_within), (profile.characteristic, profile.repeats_within));
    assert!(near(again.accuracy, profile.accuracy) && near(again.step, profile.step));
    assert!(near(again.range.0, profile.range.0) && near(again.range.1, profile.range.1));
}
