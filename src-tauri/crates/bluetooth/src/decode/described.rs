//! Characteristics that describe themselves by the presentation format descriptor.

use super::field::{Encoding, Field, Kind, Scale};
use survey::units::INCH_MM;

/// The number of the descriptor.
pub const PRESENTATION_FORMAT: u16 = 0x2904;

/// How to read a characteristic whose descriptor says so; `None` where it is no length and no angle, or in a form
/// that is not read.
///
/// # Units
/// The number times ten to the exponent, in metres, inches, feet, degrees or radians.
///
/// # Source
/// Seven bytes: format, exponent, unit, name space, description (Core specification, volume 3 part G 3.3.3.5); formats
/// 4 to 20 and units 0x2701 metre, 0x2763 degree, 0x2720 radian, 0x27A2 inch, 0x27A3 foot of the assigned numbers.
/// Recalled, not read.
///
/// ```
/// use bluetooth::decode::described;
/// use bluetooth::reading::Quantity;
/// use survey::units::Length;
/// // A 32-bit signed number of 10^-4 metres.
/// let field = described(&[0x10, 0xFC, 0x01, 0x27, 0x01, 0, 0]).ok_or("not read")?;
/// assert_eq!(field.decode(&[0x39, 0x30, 0, 0])?.value, Quantity::Length(Length::mm(1234.5)));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn described(descriptor: &[u8]) -> Option<Field> {
    let &[format, exponent, low, high, _, _, _] = descriptor else { return None };
    let (kind, unit) = match u16::from_le_bytes([low, high]) {
        0x2701 => (Kind::Length, 1000.0),
        0x27A2 => (Kind::Length, INCH_MM),
        0x27A3 => (Kind::Length, 12.0 * INCH_MM),
        0x2763 => (Kind::Angle, 1.0),
        0x2720 => (Kind::Angle, 1.0_f64.to_degrees()),
        _ => return None,
    };
    let encoding = match format {
        4 => Encoding::U8,
        6 => Encoding::U16,
        7 => Encoding::U24,
        8 => Encoding::U32,
        12 => Encoding::I8,
        14 => Encoding::I16,
        15 => Encoding::I24,
        16 => Encoding::I32,
        20 => Encoding::F32,
        21 => Encoding::F64,
        _ => return None,
    };
    let factor = tenth_exact(unit, exponent as i8);
    Some(Field { length: Some(encoding.width()), ..Field::new(encoding, Scale { kind, factor, offset: 0.0 }) })
}

/// The unit times ten to the exponent, dividing where that is exact.
fn tenth_exact(unit: f64, exponent: i8) -> f64 {
    let power = 10.0_f64.powi(i32::from(exponent.unsigned_abs()));
    if exponent < 0 { unit / power } else { unit * power }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn other_units_and_forms_are_left_alone() {
        assert!(described(&[0x10, 0xFD, 0x2F, 0x27, 1, 0, 0]).is_none(), "a temperature");
        assert!(described(&[0x19, 0xFD, 0x01, 0x27, 1, 0, 0]).is_none(), "a text");
        assert!(described(&[0x10, 0xFD, 0x01, 0x27, 1, 0]).is_none(), "a byte short");
    }

    proptest! {
        #[test]
        fn no_bytes_make_it_panic(descriptor in prop::collection::vec(any::<u8>(), 0..9), payload in prop::collection::vec(any::<u8>(), 0..9)) {
            if let Some(field) = described(&descriptor) {
                let _ = field.decode(&payload);
            }
        }
    }
}
