//! Sentences of transducers: `$--XDR,D,1.234,M,name*hh`.

use super::Message;
use super::field::Kind;
use super::text_line::unsummed;
use crate::reading::NotAReading;

/// What a transducer sentence says: the first displacement in metres or angle in degrees.
///
/// # Errors
/// [`NotAReading::Damaged`] where the check sum is missing or does not fit, [`NotAReading::NotUnderstood`] for any
/// other sentence.
///
/// # Source
/// The sentence form and the XDR fields type, value, unit, name of NMEA 0183; type A with unit D is an angle in
/// degrees, type D with unit M a displacement in metres (recalled, not read).
///
/// ```
/// use bluetooth::decode::sentence;
/// use bluetooth::reading::Quantity;
/// use survey::units::Length;
/// let value = sentence(b"$YXXDR,D,1.234,M,LASER*25")?.value;
/// assert_eq!(value, Quantity::Length(Length::mm(1234.0)));
/// # Ok::<(), bluetooth::reading::NotAReading>(())
/// ```
pub fn sentence(line: &[u8]) -> Result<Message, NotAReading> {
    let body = line.strip_prefix(b"$").ok_or(NotAReading::NotUnderstood)?;
    let body = unsummed(body).ok_or(NotAReading::Damaged)?;
    let text = std::str::from_utf8(body).map_err(|_| NotAReading::NotUnderstood)?;
    let mut fields = text.split(',');
    let is_xdr = fields.next().is_some_and(|head| head.len() == 5 && head.ends_with("XDR"));
    let fields: Vec<&str> = fields.collect();
    let found = fields.chunks_exact(4).find_map(measured).filter(|_| is_xdr);
    let (kind, number) = found.ok_or(NotAReading::NotUnderstood)?;
    Ok(Message { value: kind.quantity(number), cause: None, number: None })
}

/// The kind and the millimetres or degrees of one quartet of fields.
fn measured(fields: &[&str]) -> Option<(Kind, f64)> {
    let [kind, value, unit, _] = fields else { return None };
    let plain = value.len() <= 12 && value.bytes().all(|byte| byte.is_ascii_digit() || b"+-.".contains(&byte));
    let number = value.parse::<f64>().ok().filter(|_| plain)?;
    match (*kind, *unit) {
        ("D", "M") => Some((Kind::Length, number * 1000.0)),
        ("A", "D") => Some((Kind::Angle, number)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::Quantity;
    use proptest::prelude::*;
    use survey::units::Angle;

    fn summed(body: &str) -> Vec<u8> {
        format!("${body}*{:02X}", body.bytes().fold(0, |sum, byte| sum ^ byte)).into_bytes()
    }

    #[test]
    fn the_first_angle_or_displacement_counts() {
        let value = |body: &str| sentence(&summed(body)).map(|message| message.value);
        let degrees = |degrees| Ok(Quantity::Angle(Angle::degrees(degrees)));
        assert_eq!(value("IIXDR,C,21.5,C,AIR,A,-1.25,D,PITCH"), degrees(-1.25));
        for other in ["IIXDR,C,21.5,C,AIR", "IIXDR,D,1.2,F,X", "IIHDG,1,2,3,4", "IIXDR,D,1e3,M,X", "IIXDR,D,,M,X"] {
            assert_eq!(value(other), Err(NotAReading::NotUnderstood), "{other}");
        }
        assert_eq!(sentence(b"$IIXDR,A,1,D,P*00"), Err(NotAReading::Damaged));
    }

    proptest! {
        #[test]
        fn no_bytes_make_it_panic(line in prop::collection::vec(any::<u8>(), 0..120), body in "[A-Z]{0,6}(,[-A-Z0-9.]{0,8}){0,9}") {
            let _ = sentence(&line);
            let _ = sentence(&summed(&body));
        }
    }
}
