//! Profiles as files: what is written in TOML, and what is wrong with it.

use super::{Form, Profile, Trigger};
use crate::decode::{Encoding, Field, Kind, Scale, TextLine, TextNumber};
use crate::radio::Uuid;
use crate::reading::{Cause, Quantity};
use crate::teach::Example;
use data_encoding::{HEXLOWER, HEXLOWER_PERMISSIVE};
use serde::{Deserialize, Serialize};
use std::fmt;
use std::time::Duration;
use survey::units::INCH_MM;

/// The form of the files that this program writes; older ones stay readable.
const SCHEMA: u32 = 1;

/// The longest file that is read, in bytes.
pub const MAX_FILE: usize = 64 * 1024;

/// The most letters of what is said of a file, which may quote it.
const MOST_LETTERS: usize = 400;

/// The most examples a file may hold.
const MAX_EXAMPLES: usize = 64;

/// What is wrong with a profile file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ProfileError {
    TooLong,
    /// It does not read as a profile; with what and where.
    NotUnderstood(String),
    /// It was written by a newer program.
    Newer(u32),
    /// A field holds what it cannot hold.
    Field(&'static str),
    /// An example, counted from 1, no longer comes out as it was taught.
    Example(usize),
}

impl fmt::Display for ProfileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLong => write!(f, "a profile has at most {MAX_FILE} bytes"),
            Self::NotUnderstood(why) => write!(f, "it does not read as a profile: {why}"),
            Self::Newer(schema) => write!(f, "it is of form {schema}, this program knows up to {SCHEMA}; update it"),
            Self::Field(name) => write!(f, "{name} holds what it cannot hold"),
            Self::Example(number) => write!(f, "example {number} no longer comes out as taught; teach it again"),
        }
    }
}

impl std::error::Error for ProfileError {}

/// A profile as it is written.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct File {
    schema: u32,
    name: String,
    version: u32,
    #[serde(rename = "match", default)]
    pub(super) matches: Match,
    read: Read,
    #[serde(skip_serializing_if = "Option::is_none")]
    trigger: Option<TriggerFile>,
    #[serde(default, rename = "example", skip_serializing_if = "Vec::is_empty")]
    examples: Vec<ExampleFile>,
}

/// By what an instrument is known to be read so: all that is given must fit, and something must be given.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Match {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) service: Option<String>,
    /// How its name begins.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) name: Option<String>,
}

#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Read {
    characteristic: String,
    form: FormFile,
    unit: Unit,
    /// Units for each one of the number.
    #[serde(default = "one")]
    scale: f64,
    /// Units at the number zero.
    #[serde(default)]
    offset: f64,
    /// The stated accuracy, as ±, in units.
    accuracy: f64,
    /// The step of the display, in units.
    resolution: f64,
    valid: Valid,
    /// A message without a cause of its own comes from the button; else it is only shown.
    #[serde(default = "yes")]
    button: bool,
    #[serde(default = "three_tenths")]
    repeats_within_ms: u64,
}

fn one() -> f64 {
    1.0
}

fn yes() -> bool {
    true
}

fn three_tenths() -> u64 {
    300
}

#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
enum FormFile {
    /// One number at a fixed place of a payload.
    Number(NumberFile),
    /// The n-th number of a text.
    Text { nth: usize, decimal_comma: bool, lines: bool },
    /// Lines of one number and its unit.
    Line { check_sum: bool, decimal_comma: bool },
    /// Sentences, or lines of one number and its unit.
    Serial,
    /// As the characteristic's own descriptor says.
    Described,
}

#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct NumberFile {
    encoding: String,
    #[serde(default)]
    at: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    length: Option<usize>,
    #[serde(default)]
    sum8: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    counter_at: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    not_known: Option<u32>,
}

#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Unit {
    Mm,
    Cm,
    M,
    In,
    Ft,
    Deg,
}

impl Unit {
    /// What it measures, and how many millimetres or degrees it is.
    fn scale(self) -> (Kind, f64) {
        match self {
            Self::Mm => (Kind::Length, 1.0),
            Self::Cm => (Kind::Length, 10.0),
            Self::M => (Kind::Length, 1000.0),
            Self::In => (Kind::Length, INCH_MM),
            Self::Ft => (Kind::Length, 12.0 * INCH_MM),
            Self::Deg => (Kind::Angle, 1.0),
        }
    }
}

#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Valid {
    min: f64,
    max: f64,
}

#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct TriggerFile {
    characteristic: String,
    bytes: String,
}

/// One taught reading: what was sent, and what the display showed, in units.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct ExampleFile {
    payload: String,
    shown: f64,
}

impl File {
    pub(super) fn read(text: &str) -> Result<Self, ProfileError> {
        if text.len() > MAX_FILE {
            return Err(ProfileError::TooLong);
        }
        let brief = |said: String| said.chars().take(MOST_LETTERS).collect();
        let not_understood = |error: toml::de::Error| ProfileError::NotUnderstood(brief(plain(error.message())));
        #[derive(Deserialize)]
        struct Version {
            schema: u32,
        }
        let Version { schema } = toml::from_str(text).map_err(not_understood)?;
        if schema > SCHEMA {
            return Err(ProfileError::Newer(schema));
        }
        toml::from_str(text).map_err(not_understood)
    }

    /// The profile, if all its fields hold what they can hold and its examples come out.
    pub(super) fn profile(&self) -> Result<Profile, ProfileError> {
        let (kind, unit) = self.read.unit.scale();
        let quantity = |name, number: f64| in_units(name, kind, number * unit);
        let Valid { min, max } = self.read.valid;
        let profile = Profile {
            name: named(&self.name)?,
            version: self.version,
            characteristic: uuid("read.characteristic", &self.read.characteristic)?,
            form: self.read.form(kind, unit)?,
            range: (quantity("read.valid.min", min)?, quantity("read.valid.max", max)?),
            accuracy: quantity("read.accuracy", positive("read.accuracy", self.read.accuracy)?)?,
            step: quantity("read.resolution", positive("read.resolution", self.read.resolution)?)?,
            also: None,
            unasked: if self.read.button { Cause::Button } else { Cause::Live },
            repeats_within: Duration::from_millis(self.read.repeats_within_ms),
            trigger: self.trigger.as_ref().map(TriggerFile::trigger).transpose()?,
        };
        self.examples_come_out(&profile, kind, unit)?;
        Ok(profile)
    }

    /// Whether every example still comes out within a step of what was shown.
    fn examples_come_out(&self, profile: &Profile, kind: Kind, unit: f64) -> Result<(), ProfileError> {
        if self.examples.len() > MAX_EXAMPLES {
            return Err(ProfileError::Field("example"));
        }
        let step = self.read.resolution * unit;
        for (number, example) in (1..).zip(&self.examples) {
            let payload = bytes("example.payload", &example.payload)?;
            let least = in_units("example.shown", kind, example.shown * unit - step)?;
            let most = in_units("example.shown", kind, example.shown * unit + step)?;
            let value = profile.form.decode(&payload).map(|message| message.value);
            if !value.is_ok_and(|value| value.within(least, most)) {
                return Err(ProfileError::Example(number));
            }
        }
        Ok(())
    }

    /// The file of a taught profile, as text.
    pub(super) fn write(taught: &Taught<'_>) -> Option<String> {
        let Taught { profile, unit, name, examples } = taught;
        let (unit, each) = match unit {
            Kind::Length => (Unit::Mm, 1.0),
            Kind::Angle => (Unit::Deg, 1.0),
        };
        let plain = |quantity: Quantity| quantity.number() / each;
        let (form, scale) = written(profile.form)?;
        let file = Self {
            schema: SCHEMA,
            name: profile.name.clone(),
            version: profile.version,
            matches: Match { service: None, name: Some((*name).to_string()) },
            read: Read {
                characteristic: profile.characteristic.to_string(),
                form,
                unit,
                scale: scale.factor,
                offset: scale.offset,
                accuracy: plain(profile.accuracy),
                resolution: plain(profile.step),
                valid: Valid { min: plain(profile.range.0), max: plain(profile.range.1) },
                button: profile.unasked == Cause::Button,
                repeats_within_ms: profile.repeats_within.as_millis() as u64,
            },
            trigger: None,
            examples: examples
                .iter()
                .map(|example| ExampleFile {
                    payload: HEXLOWER.encode(&example.payload),
                    shown: example.shown.number(),
                })
                .collect(),
        };
        toml::to_string(&file).ok()
    }
}

/// A message of the parser without the names that things have in the program.
fn plain(said: &str) -> String {
    let said = said.replacen("unknown variant", "unknown name", 1);
    match said.rsplit_once("expected ") {
        Some((before, after)) if after.starts_with("struct ") => format!("{before}expected a table"),
        Some((before, after)) if after.starts_with("enum ") => format!("{before}expected one of its names"),
        _ => said,
    }
}

/// A taught profile and what it was taught with.
pub(super) struct Taught<'a> {
    pub(super) profile: &'a Profile,
    pub(super) unit: Kind,
    pub(super) name: &'a str,
    pub(super) examples: &'a [Example],
}

/// A learned form as it is written, and its scale; none for the forms that are not learned.
fn written(form: Form) -> Option<(FormFile, Scale)> {
    match form {
        Form::Field(Field { at, encoding, big_endian, length, sum8, counter_at, not_known, scale }) => {
            let encoding = encoding_name(encoding, big_endian);
            Some((FormFile::Number(NumberFile { encoding, at, length, sum8, counter_at, not_known }), scale))
        }
        Form::Number { of: TextNumber { nth, decimal_comma, scale }, lines } => {
            Some((FormFile::Text { nth, decimal_comma, lines }, scale))
        }
        _ => None,
    }
}

impl Read {
    fn form(&self, kind: Kind, unit: f64) -> Result<Form, ProfileError> {
        let factor = finite("read.scale", self.scale)? * unit;
        let scale = Scale { kind, factor, offset: finite("read.offset", self.offset)? * unit };
        Ok(match &self.form {
            FormFile::Number(number) => Form::Field(number.field(scale)?),
            FormFile::Text { nth, decimal_comma, lines } => {
                Form::Number { of: TextNumber { nth: *nth, decimal_comma: *decimal_comma, scale }, lines: *lines }
            }
            FormFile::Line { check_sum, decimal_comma } => {
                Form::Lines(TextLine { summed: *check_sum, decimal_comma: *decimal_comma })
            }
            FormFile::Serial => Form::Serial,
            FormFile::Described => Form::Described,
        })
    }
}

impl NumberFile {
    fn field(&self, scale: Scale) -> Result<Field, ProfileError> {
        let name = self.encoding.as_str();
        let both = Encoding::ALL.iter().flat_map(|one| [(*one, false), (*one, true)]);
        let found = both.into_iter().find(|(encoding, big)| encoding_name(*encoding, *big) == name);
        let (encoding, big_endian) = found.ok_or(ProfileError::Field("read.form.number.encoding"))?;
        let Self { at, length, sum8, counter_at, not_known, .. } = *self;
        Ok(Field { at, encoding, big_endian, length, sum8, counter_at, not_known, scale })
    }
}

/// `i16le`; a single byte has no order: `u8`, and its other name is not used.
fn encoding_name(encoding: Encoding, big_endian: bool) -> String {
    let name = format!("{encoding:?}").to_ascii_lowercase();
    if encoding.width() == 1 && !big_endian { name } else { name + if big_endian { "be" } else { "le" } }
}

impl TriggerFile {
    fn trigger(&self) -> Result<Trigger, ProfileError> {
        let characteristic = uuid("trigger.characteristic", &self.characteristic)?;
        Ok(Trigger { characteristic, bytes: bytes("trigger.bytes", &self.bytes)? })
    }
}

fn named(name: &str) -> Result<String, ProfileError> {
    let sound = !name.trim().is_empty() && name.chars().count() <= 80 && !name.chars().any(char::is_control);
    sound.then(|| name.to_string()).ok_or(ProfileError::Field("name"))
}

fn finite(name: &'static str, number: f64) -> Result<f64, ProfileError> {
    if number.is_finite() { Ok(number) } else { Err(ProfileError::Field(name)) }
}

fn positive(name: &'static str, number: f64) -> Result<f64, ProfileError> {
    if number.is_finite() && number > 0.0 { Ok(number) } else { Err(ProfileError::Field(name)) }
}

fn in_units(name: &'static str, kind: Kind, number: f64) -> Result<Quantity, ProfileError> {
    finite(name, number).map(|number| kind.quantity(number))
}

fn uuid(name: &'static str, text: &str) -> Result<Uuid, ProfileError> {
    text.parse().map_err(|_| ProfileError::Field(name))
}

fn bytes(name: &'static str, text: &str) -> Result<Vec<u8>, ProfileError> {
    HEXLOWER_PERMISSIVE.decode(text.as_bytes()).map_err(|_| ProfileError::Field(name))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const LASER: &str = r#"
        schema = 1
        name = "my distance meter"
        version = 2
        match = { name = "Sim" }
        [read]
        characteristic = "5f6b0002-2c1a-4d3e-9a77-000000000001"
        form.number = { encoding = "f32le", at = 3, length = 9, sum8 = true, counter_at = 2 }
        unit = "m"
        accuracy = 0.0015
        resolution = 0.001
        valid = { min = 0.02, max = 32.767 }
        [trigger]
        characteristic = "5f6b0003-2c1a-4d3e-9a77-000000000001"
        bytes = "01"
        [[example]]
        payload = "a501000000c03f00"
        shown = 1.5
    "#;

    /// 1.5 as a 32-bit float is 3fc00000.
    fn with_example(payload: &str) -> Result<Profile, ProfileError> {
        File::read(&LASER.replace("a501000000c03f00", payload))?.profile()
    }

    #[test]
    fn a_profile_is_read_and_its_examples_are_its_test() {
        let sum = [0xa5_u8, 1, 0, 0, 0, 0xc0, 0x3f, 0].iter().fold(0_u8, |sum, byte| sum.wrapping_add(*byte));
        let profile = with_example(&format!("a501000000c03f00{sum:02x}")).expect("it comes out");
        assert_eq!(profile.version, 2);
        assert!((profile.range.1.number() - 32_767.0).abs() < 1e-6);
        assert_eq!(profile.trigger.as_ref().map(|trigger| trigger.bytes.clone()), Some(vec![1]));
        assert_eq!(with_example("a501000000c03f0000"), Err(ProfileError::Example(1)), "the sum does not fit");
        assert_eq!(with_example("a5"), Err(ProfileError::Example(1)));
        assert_eq!(with_example("a"), Err(ProfileError::Field("example.payload")));
    }

    #[test]
    fn what_cannot_be_is_refused_by_name() {
        let check = |from: &str, to: &str, expected: ProfileError| {
            let text = LASER.split("[[example]]").next().expect("the beginning").replace(from, to);
            assert_eq!(File::read(&text).and_then(|file| file.profile()), Err(expected), "{from} -> {to}");
        };
        check("schema = 1", "schema = 2", ProfileError::Newer(2));
        check("f32le", "f16le", ProfileError::Field("read.form.number.encoding"));
        check("0.0015", "-1.0", ProfileError::Field("read.accuracy"));
        check("0.0015", "nan", ProfileError::Field("read.accuracy"));
        check("32.767", "inf", ProfileError::Field("read.valid.max"));
        check("5f6b0002", "zzzz0002", ProfileError::Field("read.characteristic"));
        check("my distance meter", "", ProfileError::Field("name"));
        let text = LASER.replace("version = 2", "version = 2\nmaker = \"x\"");
        assert!(matches!(File::read(&text), Err(ProfileError::NotUnderstood(_))), "unknown fields are refused");
        let said = |from: &str, to: &str| File::read(&LASER.replace(from, to)).expect_err(to).to_string();
        assert!(said("unit = \"m\"", "unit = \"yd\"").contains("unknown name `yd`"));
        let said = File::read("schema = 1\nname = \"a\"\nversion = 1\nread = 5").expect_err("a number").to_string();
        assert!(said.ends_with("expected a table"), "{said}");
        assert_eq!(File::read(&" ".repeat(MAX_FILE + 1)).err(), Some(ProfileError::TooLong));
    }

    proptest! {
        #[test]
        fn no_text_makes_it_panic(text in "\\PC{0,200}", cut in 0_usize..900, put in "\\PC{0,6}") {
            let _ = File::read(&text).and_then(|file| file.profile());
            let mut damaged = LASER.to_string();
            let at = (0..=cut.min(LASER.len())).rev().find(|at| LASER.is_char_boundary(*at)).unwrap_or(0);
            damaged.insert_str(at, &put);
            let _ = File::read(&damaged).and_then(|file| file.profile());
        }
    }
}
