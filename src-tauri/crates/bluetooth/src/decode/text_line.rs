//! Lines of text that hold one number and its unit.

use super::Message;
use crate::reading::{NotAReading, Quantity};
use survey::units::{Angle, INCH_MM, Length};

/// How a line is written: `1.234 m`, `-0,25°`, or `44.125 in*5E` with a check sum.
///
/// # Units
/// `mm cm m in " ft '` for lengths, `deg °` for angles, upper or lower case. A line without a unit, with a fraction or
/// with two numbers is not understood: a guess could be wrong.
///
/// # Source
/// The check sum is the exclusive or of the bytes before `*`, in two hexadecimal digits, as in the sentences of NMEA
/// 0183 (recalled, not read).
///
/// ```
/// use bluetooth::decode::TextLine;
/// use bluetooth::reading::{NotAReading, Quantity};
/// use survey::units::Length;
///
/// let plain = TextLine { summed: false, decimal_comma: false };
/// assert_eq!(plain.decode(b"44.125 in")?.value, Quantity::Length(Length::inches(44.125)));
/// assert_eq!(plain.decode(b"44,125 in"), Err(NotAReading::NotUnderstood), "thousands, or a decimal comma?");
/// # Ok::<(), NotAReading>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TextLine {
    /// Whether each line ends with `*` and a check sum. Without it a damaged digit is not seen.
    pub summed: bool,
    /// Whether the decimal sign is a comma; else it is a point. The other is not understood.
    pub decimal_comma: bool,
}

/// More digits than any instrument shows are no number.
const MAX_DIGITS: usize = 12;

impl TextLine {
    /// What the line says.
    ///
    /// # Errors
    /// [`NotAReading::Damaged`] if the check sum is wanted and missing or wrong, [`NotAReading::NotUnderstood`] for
    /// anything but one number and one unit.
    pub fn decode(self, line: &[u8]) -> Result<Message, NotAReading> {
        let body = if self.summed { unsummed(line).ok_or(NotAReading::Damaged)? } else { line };
        let text = std::str::from_utf8(body).map_err(|_| NotAReading::NotUnderstood)?.trim();
        let value = self.value(text).ok_or(NotAReading::NotUnderstood)?;
        Ok(Message { value, cause: None, number: None })
    }

    /// The line for a value with four decimals of a millimetre or a degree, its end included.
    pub fn encode(self, value: Quantity) -> Vec<u8> {
        let (number, unit) = match value {
            Quantity::Length(length) => (length.to_mm(), "mm"),
            Quantity::Angle(angle) => (angle.to_degrees(), "deg"),
        };
        let mut text = format!("{number:.4} {unit}");
        if self.decimal_comma {
            text = text.replace('.', ",");
        }
        if self.summed {
            text += &format!("*{:02X}", sum(text.as_bytes()));
        }
        (text + "\r\n").into_bytes()
    }

    fn value(self, text: &str) -> Option<Quantity> {
        let behind = text.find(|c: char| !c.is_ascii_digit() && !"+-.,".contains(c))?;
        let (number, unit) = text.split_at(behind);
        quantity(self.number(number)?, unit.trim())
    }

    /// A sign at most, digits, and digits behind the decimal sign if there is one.
    fn number(self, text: &str) -> Option<f64> {
        let digits = text.strip_prefix(['+', '-']).unwrap_or(text);
        let decimal = if self.decimal_comma { ',' } else { '.' };
        let (whole, behind) = digits.split_once(decimal).unwrap_or((digits, "0"));
        let plain = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
        let sound = plain(whole) && plain(behind) && digits.len() <= MAX_DIGITS;
        sound.then(|| text.replace(decimal, ".").parse().ok()).flatten()
    }
}

fn quantity(number: f64, unit: &str) -> Option<Quantity> {
    let mm = match unit.to_ascii_lowercase().as_str() {
        "mm" => 1.0,
        "cm" => 10.0,
        "m" => 1000.0,
        "in" | "\"" => INCH_MM,
        "ft" | "'" => 12.0 * INCH_MM,
        "deg" | "°" => return Some(Quantity::Angle(Angle::degrees(number))),
        _ => return None,
    };
    Some(Quantity::Length(Length::mm(number * mm)))
}

/// The line before its check sum, if that fits.
pub(super) fn unsummed(line: &[u8]) -> Option<&[u8]> {
    let (body, digits) = line.split_last_chunk::<3>()?;
    let [b'*', high, low] = digits.map(char::from).map(|c| c as u8) else { return None };
    let digit = |byte: u8| char::from(byte).to_digit(16);
    let stated = digit(high)? * 16 + digit(low)?;
    (stated == u32::from(sum(body))).then_some(body)
}

fn sum(bytes: &[u8]) -> u8 {
    bytes.iter().fold(0, |sum, byte| sum ^ byte)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const PLAIN: TextLine = TextLine { summed: false, decimal_comma: false };
    const COMMA: TextLine = TextLine { summed: false, decimal_comma: true };
    const SUMMED: TextLine = TextLine { summed: true, decimal_comma: false };

    fn check(form: TextLine, line: &str, expected: Result<Quantity, NotAReading>) {
        assert_eq!(form.decode(line.as_bytes()).map(|message| message.value), expected, "{line:?}");
    }

    #[test]
    fn one_number_and_one_unit() {
        let mm = |mm| Ok(Quantity::Length(Length::mm(mm)));
        check(PLAIN, "1.234 m", mm(1234.0));
        check(PLAIN, " +1234mm ", mm(1234.0));
        check(PLAIN, "-12.5 CM", mm(-125.0));
        check(PLAIN, "3\"", Ok(Quantity::Length(Length::inches(3.0))));
        check(PLAIN, "2 ft", Ok(Quantity::Length(Length::inches(24.0))));
        check(PLAIN, "-0.25°", Ok(Quantity::Angle(Angle::degrees(-0.25))));
        check(COMMA, "1,5 m", mm(1500.0));
        // By hand, in hexadecimal: 31 ^ 2E ^ 35 ^ 20 ^ 6D = 67.
        check(SUMMED, "1.5 m*67", mm(1500.0));
    }

    #[test]
    fn anything_else_is_not_understood() {
        let bad = Err(NotAReading::NotUnderstood);
        for line in ["", "m", "1.234", "1.2.3 m", "1,234 m", "1.2 m 3", "1 2 m", "--1 m", "1- m", ".5 m", "5. m"] {
            check(PLAIN, line, bad);
        }
        for line in ["1e5 m", "inf m", "nan m", "1234567890123 mm", "1.5 m*67", "1/2 in", "1 yd", "٣ m", "1.5 °C"] {
            check(PLAIN, line, bad);
        }
        check(COMMA, "1.5 m", bad);
        assert_eq!(PLAIN.decode(&[0xFF, 0xFE]), Err(NotAReading::NotUnderstood));
        for line in ["1.5 m", "1.5 m*66", "11.5 m*67", "*", "*67", "1.5 m*6", "1.5 m*6G", "5 m*67"] {
            check(SUMMED, line, Err(NotAReading::Damaged));
        }
    }

    proptest! {
        #[test]
        fn no_bytes_make_it_panic(line in prop::collection::vec(any::<u8>(), 0..200)) {
            for form in [PLAIN, COMMA, SUMMED] {
                let _ = form.decode(&line);
            }
        }

        #[test]
        fn no_text_like_a_reading_makes_it_panic(line in "[-+0-9.,]{0,16} ?(mm|m|in|°|deg|'|\"|\\*)?[*0-9A-F]{0,3}") {
            for form in [PLAIN, COMMA, SUMMED] {
                let _ = form.decode(line.as_bytes());
            }
        }

        #[test]
        fn what_is_written_is_read(steps in -9_000_000_i32..9_000_000, summed: bool, decimal_comma: bool) {
            let form = TextLine { summed, decimal_comma };
            let value = Quantity::Length(Length::mm(f64::from(steps) / 10_000.0));
            let line = form.encode(value);
            let line = line.strip_suffix(b"\r\n").expect("a line has an end");
            prop_assert_eq!(form.decode(line).map(|message| message.value), Ok(value));
        }
    }
}
