//! Whole payloads that hold one number, counted in small fixed steps.

use super::Message;
use crate::reading::{Cause, NotAReading, Quantity};
use survey::units::{Angle, Length};

/// What one count stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    /// 0.1 µm, as the Bluetooth SIG counts lengths.
    TenthMicrometre,
    /// 0.0001°, ours: no characteristic for a tilt was found in the lists read.
    TenThousandthDegree,
}

/// A payload of one 32-bit number, least byte first, with or without our own tail.
///
/// # Units
/// The number counts [`Step`]s: 10,000 to the millimetre or to the degree.
///
/// # Source
/// Length 0x2C0A (uint32, 100 nm, 0xFFFFFFFF not known) and Linear Position 0x2C08 (sint32, 100 nm, 0x7FFFFFFF not
/// known): as the constants of the `trouble-host` 0.2.4 documentation describe them. The tail is ours: cause, number
/// of the message, and CRC-16 over all before it (polynomial 0x1021, start 0xFFFF, least byte first).
///
/// ```
/// use bluetooth::decode::FixedPoint;
/// use bluetooth::reading::{NotAReading, Quantity};
/// use survey::units::Length;
///
/// // 1.23456 m = 12,345,600 steps of 100 nm = 0x00BC6100
/// let message = FixedPoint::LENGTH.decode(&[0x00, 0x61, 0xBC, 0x00])?;
/// assert_eq!(message.value, Quantity::Length(Length::mm(1234.56)));
/// assert_eq!(FixedPoint::LENGTH.decode(&[0xFF; 4]), Err(NotAReading::NotKnown));
/// # Ok::<(), NotAReading>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FixedPoint {
    pub step: Step,
    pub signed: bool,
    /// Whether cause, number and CRC-16 follow. Without them damage is seen by size and range alone.
    pub tail: bool,
}

const TAIL: usize = 4;

impl FixedPoint {
    pub const LENGTH: Self = Self { step: Step::TenthMicrometre, signed: false, tail: false };
    pub const LINEAR_POSITION: Self = Self { step: Step::TenthMicrometre, signed: true, tail: false };
    pub const PRACTICE_LENGTH: Self = Self { step: Step::TenthMicrometre, signed: true, tail: true };
    pub const PRACTICE_TILT: Self = Self { step: Step::TenThousandthDegree, signed: true, tail: true };

    /// What the payload says.
    ///
    /// # Errors
    /// [`NotAReading::Size`] unless it has exactly the size of the form, [`NotAReading::Damaged`] if the tail does not
    /// fit, [`NotAReading::NotKnown`] for the number set aside for it.
    pub fn decode(self, payload: &[u8]) -> Result<Message, NotAReading> {
        let size = NotAReading::Size { bytes: payload.len() };
        let (number, tail) = payload.split_first_chunk::<4>().ok_or(size)?;
        let (cause, count) = match (self.tail, tail) {
            (false, []) => (None, None),
            (true, &[cause, count, ..]) if tail.len() == TAIL => (Some(self.intact(payload, cause)?), Some(count)),
            _ => return Err(size),
        };
        let steps = self.steps(*number).ok_or(NotAReading::NotKnown)?;
        Ok(Message { value: self.quantity(steps), cause, number: count })
    }

    /// The payload for a value; `None` if it is of the other kind or does not fit.
    pub fn encode(self, value: Quantity, cause: Cause, count: u8) -> Option<Vec<u8>> {
        let number = match (value, self.step) {
            (Quantity::Length(length), Step::TenthMicrometre) => length.to_mm(),
            (Quantity::Angle(angle), Step::TenThousandthDegree) => angle.to_degrees(),
            _ => return None,
        };
        let steps = (number * 10_000.0).round() as i64;
        let bytes = if self.signed {
            i32::try_from(steps).ok()?.to_le_bytes()
        } else {
            u32::try_from(steps).ok()?.to_le_bytes()
        };
        self.steps(bytes)?;
        let mut payload = bytes.to_vec();
        if self.tail {
            payload.extend([code(cause), count]);
            payload.extend(crc16(&payload).to_le_bytes());
        }
        Some(payload)
    }

    /// The cause, if the tail's check sum fits.
    fn intact(self, payload: &[u8], cause: u8) -> Result<Cause, NotAReading> {
        let (body, sum) = payload.split_last_chunk::<2>().ok_or(NotAReading::Damaged)?;
        let fits = u16::from_le_bytes(*sum) == crc16(body);
        let cause = [Cause::Live, Cause::Button, Cause::Asked].into_iter().find(|known| code(*known) == cause);
        cause.filter(|_| fits).ok_or(NotAReading::Damaged)
    }

    /// The number, unless it is the one that means "not known".
    fn steps(self, bytes: [u8; 4]) -> Option<i64> {
        let (steps, not_known) = match self.signed {
            true => (i64::from(i32::from_le_bytes(bytes)), i64::from(i32::MAX)),
            false => (i64::from(u32::from_le_bytes(bytes)), i64::from(u32::MAX)),
        };
        (steps != not_known).then_some(steps)
    }

    fn quantity(self, steps: i64) -> Quantity {
        let number = steps as f64 / 10_000.0;
        match self.step {
            Step::TenthMicrometre => Quantity::Length(Length::mm(number)),
            Step::TenThousandthDegree => Quantity::Angle(Angle::degrees(number)),
        }
    }
}

fn code(cause: Cause) -> u8 {
    match cause {
        Cause::Live => 0,
        Cause::Button => 1,
        Cause::Asked => 2,
    }
}

/// CRC-16 with polynomial 0x1021 and start 0xFFFF.
fn crc16(bytes: &[u8]) -> u16 {
    let shift = |crc: u16| if crc & 0x8000 == 0 { crc << 1 } else { crc << 1 ^ 0x1021 };
    bytes.iter().fold(0xFFFF, |crc, byte| (0..8).fold(crc ^ u16::from(*byte) << 8, |crc, _| shift(crc)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const FORMS: [FixedPoint; 4] =
        [FixedPoint::LENGTH, FixedPoint::LINEAR_POSITION, FixedPoint::PRACTICE_LENGTH, FixedPoint::PRACTICE_TILT];

    fn check(form: FixedPoint, payload: &[u8], expected: Result<f64, NotAReading>) {
        let found = form.decode(payload).map(|message| match message.value {
            Quantity::Length(length) => length.to_mm(),
            Quantity::Angle(angle) => angle.to_degrees(),
        });
        assert_eq!(found, expected, "{form:?} {payload:02x?}");
    }

    /// Expected values by hand: the number divided by 10,000.
    #[test]
    fn numbers_are_counted_in_tenths_of_a_micrometre() {
        let (unsigned, signed) = (FixedPoint::LENGTH, FixedPoint::LINEAR_POSITION);
        check(unsigned, &[0, 0, 0, 0], Ok(0.0));
        check(unsigned, &[0xFE, 0xFF, 0xFF, 0xFF], Ok(429_496.729_4));
        check(unsigned, &[0xFF, 0xFF, 0xFF, 0xFF], Err(NotAReading::NotKnown));
        check(signed, &[0xFF, 0xFF, 0xFF, 0xFF], Ok(-0.000_1));
        check(signed, &[0xFF, 0xFF, 0xFF, 0x7F], Err(NotAReading::NotKnown));
        check(signed, &[0, 0, 0, 0x80], Ok(-214_748.364_8));
        for bytes in [0, 1, 3, 5, 8, 512] {
            check(unsigned, &vec![1; bytes], Err(NotAReading::Size { bytes }));
        }
        check(FixedPoint::PRACTICE_TILT, &[1, 2, 3, 4], Err(NotAReading::Size { bytes: 4 }));
    }

    /// 0x29B1 is what `binascii.crc_hqx(b"123456789", 0xffff)` of Python's standard library gives.
    #[test]
    fn the_check_sum_is_the_one_named() {
        assert_eq!(crc16(b"123456789"), 0x29B1);
    }

    #[test]
    fn any_single_bit_that_turns_is_seen() {
        let value = Quantity::Angle(Angle::degrees(-1.1935));
        let payload = FixedPoint::PRACTICE_TILT.encode(value, Cause::Button, 7).expect("it fits");
        let whole = Message { value, cause: Some(Cause::Button), number: Some(7) };
        assert_eq!(FixedPoint::PRACTICE_TILT.decode(&payload), Ok(whole));
        for bit in 0..8 * payload.len() {
            let mut turned = payload.clone();
            turned[bit / 8] ^= 1 << (bit % 8);
            check(FixedPoint::PRACTICE_TILT, &turned, Err(NotAReading::Damaged));
        }
    }

    #[test]
    fn what_does_not_fit_is_not_sent() {
        let too_long = Quantity::Length(Length::mm(300_000.0));
        assert_eq!(FixedPoint::LINEAR_POSITION.encode(too_long, Cause::Live, 0), None);
        assert_eq!(FixedPoint::LENGTH.encode(Quantity::Length(Length::mm(-1.0)), Cause::Live, 0), None);
        assert_eq!(FixedPoint::LENGTH.encode(Quantity::Angle(Angle::ZERO), Cause::Live, 0), None);
        assert_eq!(FixedPoint::LENGTH.encode(Quantity::Length(Length::mm(429_496.729_5)), Cause::Live, 0), None);
    }

    proptest! {
        #[test]
        fn no_bytes_make_it_panic(payload in prop::collection::vec(any::<u8>(), 0..40)) {
            for form in FORMS {
                if form.decode(&payload).is_ok() {
                    prop_assert_eq!(payload.len(), if form.tail { 8 } else { 4 });
                }
            }
        }

        #[test]
        fn what_is_encoded_is_decoded(steps in i32::MIN..i32::MAX, count: u8) {
            let value = Quantity::Length(Length::mm(f64::from(steps) / 10_000.0));
            for form in [FixedPoint::PRACTICE_LENGTH, FixedPoint::LINEAR_POSITION] {
                let payload = form.encode(value, Cause::Asked, count).expect("it fits");
                prop_assert_eq!(form.decode(&payload).map(|message| message.value), Ok(value));
            }
        }
    }
}
