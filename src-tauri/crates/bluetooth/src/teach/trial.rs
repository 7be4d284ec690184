//! Simulated devices to be taught: they send a number in some encoding, somewhere, in some unit, among other things.

use super::unit::counts;
use super::{Display, DisplayUnit, Sample};
use crate::decode::{Encoding, Kind};
use crate::radio::Uuid;
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

/// Seeded chance.
pub(super) struct Chance(ChaCha8Rng);

impl Chance {
    pub(super) fn new(seed: u64) -> Self {
        Self(ChaCha8Rng::seed_from_u64(seed))
    }

    /// Evenly from 0 up to 1.
    pub(super) fn part(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(super) fn below(&mut self, most: usize) -> usize {
        (self.part() * most as f64) as usize
    }

    fn one_of<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.below(all.len())]
    }

    pub(super) fn byte(&mut self) -> u8 {
        self.0.next_u32() as u8
    }

    fn often(&mut self, one_in: usize) -> bool {
        self.below(one_in) == 0
    }
}

/// How a number is sent: bytes of an encoding, or one of three texts.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Sends {
    Bytes(Encoding, bool),
    Text(usize),
}

/// One device: where its number stands, and what surrounds it.
#[derive(Debug, Clone)]
pub(super) struct Device {
    pub(super) display: Display,
    sends: Sends,
    /// Display units for each one of the number.
    factor: f64,
    at: usize,
    around: Vec<u8>,
    counter: Option<usize>,
    noise: Option<usize>,
    sum: bool,
    pub(super) main: usize,
}

const DISPLAYS: [(DisplayUnit, u8); 5] =
    [(DisplayUnit::M, 3), (DisplayUnit::Mm, 0), (DisplayUnit::Cm, 1), (DisplayUnit::M, 4), (DisplayUnit::In, 2)];

impl Device {
    /// A device of this kind, drawn by chance.
    pub(super) fn draw(kind: Kind, chance: &mut Chance) -> Self {
        loop {
            if let Some(device) = Self::try_draw(kind, chance) {
                return device;
            }
        }
    }

    fn try_draw(kind: Kind, chance: &mut Chance) -> Option<Self> {
        use Encoding::*;
        let (unit, decimals) = match kind {
            Kind::Length => chance.one_of(&DISPLAYS),
            Kind::Angle => (DisplayUnit::Deg, 1 + chance.below(2) as u8),
        };
        let display = Display { unit, decimals };
        let sends =
            match chance.one_of(&[None, Some(F32), Some(F64), Some(I32), Some(I24), Some(I16), Some(U16), Some(U32)]) {
                None => Sends::Text(chance.below(3)),
                Some(encoding) if kind == Kind::Angle && !encoding.is_signed() => return None,
                Some(encoding) => Sends::Bytes(encoding, chance.often(3)),
            };
        let fitting: Vec<f64> =
            counts(kind).iter().map(|(count, _)| count / unit.size()).filter(|f| fits(sends, *f, display)).collect();
        let factor = if matches!(sends, Sends::Text(_)) {
            1.0
        } else {
            chance.one_of(fitting.get(..).filter(|all| !all.is_empty())?)
        };
        let width = if let Sends::Bytes(encoding, _) = sends { encoding.width() } else { 0 };
        let at = chance.below(9);
        let length = at + width + chance.below(6);
        let around = (0..length).map(|_| if chance.often(2) { 0 } else { chance.byte() }).collect();
        let counter = (chance.often(2) && length > 0).then(|| chance.below(length));
        let noise = (chance.often(2) && length > 0).then(|| chance.below(length));
        Some(Self { display, sends, factor, at, around, counter, noise, sum: chance.often(2), main: chance.below(3) })
    }

    /// A value it may measure, in its display's unit, uneven.
    pub(super) fn value(&self, chance: &mut Chance) -> f64 {
        match self.display.unit.kind() {
            Kind::Length => (300.0 + chance.part() * 4700.0) / self.display.unit.size(),
            Kind::Angle => Some(chance.part() * 9.0 - 4.5).filter(|angle| angle.abs() >= 0.2).unwrap_or(1.7),
        }
    }

    /// What it sends and shows for a value; none where its encoding cannot hold it.
    pub(super) fn measure(&self, value: f64, count: u8, chance: &mut Chance) -> Option<(Sample, f64)> {
        let (payload, sent) = self.payload(value, count, chance)?;
        let decoy = {
            let mut bytes = (2150_i16 + chance.below(40) as i16).to_le_bytes().to_vec();
            bytes.extend((chance.part() as f32 * 4.0 - 2.0).to_le_bytes());
            bytes.push(count);
            bytes
        };
        let mut sample = Sample::new();
        for (place, bytes) in [(self.main, payload), (self.main + 1, vec![87]), (self.main + 2, decoy)] {
            sample.insert(characteristic(place % 3), bytes);
        }
        Some((sample, self.display.rounded(sent)))
    }

    fn payload(&self, value: f64, count: u8, chance: &mut Chance) -> Option<(Vec<u8>, f64)> {
        let (encoding, big_endian) = match self.sends {
            Sends::Text(form) => return Some((self.text(form, value, count, chance), value)),
            Sends::Bytes(encoding, big_endian) => (encoding, big_endian),
        };
        let number = value / self.factor;
        let (mut written, sent) = write(encoding, number)?;
        if big_endian {
            written.reverse();
        }
        let mut bytes = self.around.clone();
        if let Some(at) = self.counter {
            bytes[at] = count;
        }
        if let Some(at) = self.noise {
            bytes[at] = chance.byte();
        }
        bytes[self.at..self.at + written.len()].copy_from_slice(&written);
        if self.sum {
            bytes.push(bytes.iter().fold(0_u8, |sum, byte| sum.wrapping_add(*byte)));
        }
        Some((bytes, sent * self.factor))
    }

    fn text(&self, form: usize, value: f64, count: u8, chance: &mut Chance) -> Vec<u8> {
        let digits = usize::from(self.display.decimals) + form % 2;
        let text = match form {
            0 => format!("{value:.digits$}\r\n"),
            1 => format!("D{count:02},{value:.digits$},{:.1},OK\r\n", 20.0 + chance.part() * 3.0),
            _ => format!("$X,{value:+.digits$},U*{:02X}\r\n", chance.byte()),
        };
        text.into_bytes()
    }
}

pub(super) fn characteristic(number: usize) -> Uuid {
    Uuid::short(0xF000 + number as u16)
}

/// Whether the count is no coarser than the display and the encoding holds what is measured.
fn fits(sends: Sends, factor: f64, display: Display) -> bool {
    match sends {
        Sends::Text(_) => true,
        Sends::Bytes(Encoding::F32 | Encoding::F64, _) => factor >= display.step(),
        Sends::Bytes(encoding, _) => {
            let most = match display.unit.kind() {
                Kind::Length => 6000.0 / display.unit.size(),
                Kind::Angle => 6.0,
            };
            factor <= display.step() * 1.0001 && most / factor < 2.0_f64.powi(8 * encoding.width() as i32 - 1)
        }
    }
}

/// The bytes of a number, the least first, and the number they write.
fn write(encoding: Encoding, number: f64) -> Option<(Vec<u8>, f64)> {
    let (whole, width) = (number.round(), encoding.width());
    let bits = 8 * width as i32;
    match encoding {
        Encoding::F32 => Some(((number as f32).to_le_bytes().to_vec(), f64::from(number as f32))),
        Encoding::F64 => Some((number.to_le_bytes().to_vec(), number)),
        _ if encoding.is_signed() && whole.abs() >= 2.0_f64.powi(bits - 1) => None,
        _ if !encoding.is_signed() && !(0.0..2.0_f64.powi(bits)).contains(&whole) => None,
        _ => Some(((whole as i64).to_le_bytes()[..width].to_vec(), whole)),
    }
}
