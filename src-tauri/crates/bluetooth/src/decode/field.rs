//! One number somewhere in a payload, in one of the usual encodings.

use super::Message;
use crate::reading::{NotAReading, Quantity};
use survey::units::{Angle, Length};

/// How a number is written in bytes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Encoding {
    U8,
    I8,
    U16,
    I16,
    U24,
    I24,
    U32,
    I32,
    F32,
    F64,
    /// Two decimal digits a byte, four digits.
    Bcd2,
    /// Six digits.
    Bcd3,
    /// Eight digits.
    Bcd4,
}

impl Encoding {
    pub const ALL: [Self; 13] = [
        Self::U8,
        Self::I8,
        Self::U16,
        Self::I16,
        Self::U24,
        Self::I24,
        Self::U32,
        Self::I32,
        Self::F32,
        Self::F64,
        Self::Bcd2,
        Self::Bcd3,
        Self::Bcd4,
    ];

    /// How many bytes it takes.
    pub fn width(self) -> usize {
        match self {
            Self::U8 | Self::I8 => 1,
            Self::U16 | Self::I16 | Self::Bcd2 => 2,
            Self::U24 | Self::I24 | Self::Bcd3 => 3,
            Self::U32 | Self::I32 | Self::F32 | Self::Bcd4 => 4,
            Self::F64 => 8,
        }
    }

    /// Whether it can write a number below zero.
    pub fn is_signed(self) -> bool {
        matches!(self, Self::I8 | Self::I16 | Self::I24 | Self::I32 | Self::F32 | Self::F64)
    }

    /// The number that these bytes write, the least byte first; `None` where they write none.
    fn number(self, bytes: [u8; 8]) -> Option<f64> {
        let whole = u64::from_le_bytes(bytes);
        let signed = |bits: u32| (whole as i64) << (64 - bits) >> (64 - bits);
        let number = match self {
            Self::U8 | Self::U16 | Self::U24 | Self::U32 => whole as f64,
            Self::I8 => signed(8) as f64,
            Self::I16 => signed(16) as f64,
            Self::I24 => signed(24) as f64,
            Self::I32 => signed(32) as f64,
            Self::F32 => f64::from(f32::from_bits(whole as u32)),
            Self::F64 => f64::from_bits(whole),
            Self::Bcd2 | Self::Bcd3 | Self::Bcd4 => decimal(&bytes)?,
        };
        number.is_finite().then_some(number)
    }
}

/// Two decimal digits a byte, the least byte first.
fn decimal(bytes: &[u8]) -> Option<f64> {
    bytes.iter().rev().try_fold(0.0, |number, byte| {
        let (high, low) = (byte >> 4, byte & 15);
        (high < 10 && low < 10).then(|| number * 100.0 + f64::from(high * 10 + low))
    })
}

/// What a plain number means: its kind, how much one of it is, and where its zero lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    pub kind: Kind,
    /// Millimetres or degrees for each one of the number.
    pub factor: f64,
    /// Millimetres or degrees at the number zero.
    pub offset: f64,
}

/// What is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Kind {
    Length,
    Angle,
}

impl Kind {
    /// So many millimetres or degrees.
    pub fn quantity(self, number: f64) -> Quantity {
        match self {
            Self::Length => Quantity::Length(Length::mm(number)),
            Self::Angle => Quantity::Angle(Angle::degrees(number)),
        }
    }
}

impl Scale {
    /// The quantity that a number stands for; not understood where it is beyond all measure.
    pub(crate) fn quantity(self, number: f64) -> Result<Quantity, NotAReading> {
        let value = number * self.factor + self.offset;
        if value.is_finite() { Ok(self.kind.quantity(value)) } else { Err(NotAReading::NotUnderstood) }
    }
}

/// One number at a fixed place of a payload.
///
/// ```
/// use bluetooth::decode::{Encoding, Field, Kind, Scale};
/// use bluetooth::reading::Quantity;
/// use survey::units::Length;
///
/// let metres = Scale { kind: Kind::Length, factor: 1000.0, offset: 0.0 };
/// let field = Field { at: 1, length: Some(6), sum8: true, ..Field::new(Encoding::F32, metres) };
/// // 1.5 as a 32-bit float, least byte first, is 00 00 c0 3f; the last byte is the sum of those before.
/// let message = field.decode(&[0xA5, 0x00, 0x00, 0xC0, 0x3F, 0xA4])?;
/// assert_eq!(message.value, Quantity::Length(Length::mm(1500.0)));
/// # Ok::<(), bluetooth::reading::NotAReading>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Field {
    /// How many bytes stand before it.
    pub at: usize,
    pub encoding: Encoding,
    /// The greatest byte comes first.
    pub big_endian: bool,
    /// How long the payload is, where that is known.
    pub length: Option<usize>,
    /// The last byte is the sum of all before it.
    pub sum8: bool,
    /// The byte that counts the messages.
    pub counter_at: Option<usize>,
    /// The bytes, as a whole number, that mean *not known*.
    pub not_known: Option<u32>,
    pub scale: Scale,
}

impl Field {
    /// A number at the beginning, least byte first, with nothing else known of the payload.
    pub fn new(encoding: Encoding, scale: Scale) -> Self {
        let (length, counter_at, not_known) = (None, None, None);
        Self { at: 0, encoding, big_endian: false, length, sum8: false, counter_at, not_known, scale }
    }

    /// What the payload says.
    ///
    /// # Errors
    /// [`NotAReading::Size`] where it is too short or not of the length, [`NotAReading::Damaged`] where the sum does
    /// not fit, [`NotAReading::NotKnown`] for the bytes set aside for it, [`NotAReading::NotUnderstood`] where the
    /// bytes write no number.
    pub fn decode(&self, payload: &[u8]) -> Result<Message, NotAReading> {
        let size = NotAReading::Size { bytes: payload.len() };
        if self.length.is_some_and(|length| length != payload.len()) {
            return Err(size);
        }
        let bytes = self.bytes(payload).ok_or(size)?;
        if self.sum8 && !sums(payload) {
            return Err(NotAReading::Damaged);
        }
        if self.not_known.is_some_and(|not_known| u64::from(not_known) == u64::from_le_bytes(bytes)) {
            return Err(NotAReading::NotKnown);
        }
        let number = self.encoding.number(bytes).ok_or(NotAReading::NotUnderstood)?;
        let count = self.counter_at.and_then(|at| payload.get(at).copied());
        Ok(Message { value: self.scale.quantity(number)?, cause: None, number: count })
    }

    /// The plain number of the payload; `None` where there is none.
    pub(crate) fn number(&self, payload: &[u8]) -> Option<f64> {
        self.encoding.number(self.bytes(payload)?)
    }

    /// Its bytes, the least first, and zeros behind them.
    fn bytes(&self, payload: &[u8]) -> Option<[u8; 8]> {
        let width = self.encoding.width();
        let own = payload.get(self.at..self.at.checked_add(width)?)?;
        let mut bytes = [0; 8];
        let places = bytes.get_mut(..width)?;
        places.copy_from_slice(own);
        if self.big_endian {
            places.reverse();
        }
        Some(bytes)
    }
}

/// Whether the last byte is the sum of those before.
fn sums(payload: &[u8]) -> bool {
    payload
        .split_last()
        .is_some_and(|(last, body)| body.iter().fold(0_u8, |sum, byte| sum.wrapping_add(*byte)) == *last)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const MM: Scale = Scale { kind: Kind::Length, factor: 1.0, offset: 0.0 };

    fn check(encoding: Encoding, big_endian: bool, bytes: &[u8], expected: Option<f64>) {
        let field = Field { big_endian, ..Field::new(encoding, MM) };
        assert_eq!(field.number(bytes), expected, "{encoding:?} {bytes:02x?}");
    }

    /// By hand: two's complement, IEEE 754 binary32 of -1.5 is BFC00000, and digits two a byte.
    #[test]
    fn numbers_are_read_as_they_are_written() {
        use Encoding::*;
        check(U8, false, &[200], Some(200.0));
        check(I8, false, &[200], Some(-56.0));
        check(U16, false, &[0x34, 0x12], Some(4660.0));
        check(U16, true, &[0x34, 0x12], Some(13330.0));
        check(I16, true, &[0xFF, 0xFE], Some(-2.0));
        check(U24, false, &[0, 0, 1], Some(65536.0));
        check(I24, false, &[0xFF, 0xFF, 0xFF], Some(-1.0));
        check(U32, true, &[0, 0, 1, 0], Some(256.0));
        check(I32, false, &[0, 0, 0, 0x80], Some(-2_147_483_648.0));
        check(F32, true, &[0xBF, 0xC0, 0, 0], Some(-1.5));
        check(F32, true, &[0x7F, 0x80, 0, 0], None);
        check(F64, false, &1.25_f64.to_le_bytes(), Some(1.25));
        check(Bcd2, true, &[0x12, 0x34], Some(1234.0));
        check(Bcd3, false, &[0x56, 0x34, 0x12], Some(123_456.0));
        check(Bcd4, true, &[0x12, 0x3A, 0, 0], None);
        check(U32, false, &[1, 2, 3], None);
    }

    #[test]
    fn what_does_not_fit_is_no_reading() {
        let field = Field { length: Some(3), sum8: true, not_known: Some(0xFFFF), ..Field::new(Encoding::U16, MM) };
        let decoded = |bytes: &[u8]| field.decode(bytes).map(|message| message.value);
        assert_eq!(decoded(&[1, 0, 1]), Ok(Quantity::Length(Length::mm(1.0))));
        assert_eq!(decoded(&[1, 0, 2]), Err(NotAReading::Damaged));
        assert_eq!(decoded(&[1, 0]), Err(NotAReading::Size { bytes: 2 }));
        assert_eq!(decoded(&[0xFF, 0xFF, 0xFE]), Err(NotAReading::NotKnown));
        let huge = Field::new(Encoding::F64, Scale { factor: 1e300, ..MM });
        assert_eq!(huge.decode(&1e300_f64.to_le_bytes()), Err(NotAReading::NotUnderstood));
    }

    proptest! {
        #[test]
        fn no_bytes_make_it_panic(
            payload in prop::collection::vec(any::<u8>(), 0..80),
            at in prop_oneof![0_usize..90, Just(usize::MAX)],
            encoding in prop::sample::select(Encoding::ALL.to_vec()),
            big_endian: bool, sum8: bool, counter_at: Option<usize>, not_known: Option<u32>, factor: f64, offset: f64,
        ) {
            let scale = Scale { kind: Kind::Angle, factor, offset };
            let field = Field { at, encoding, big_endian, length: None, sum8, counter_at, not_known, scale };
            if let Ok(message) = field.decode(&payload) {
                let Quantity::Angle(angle) = message.value else { panic!("an angle was asked for") };
                prop_assert!(angle.to_degrees().is_finite());
            }
        }
    }
}
