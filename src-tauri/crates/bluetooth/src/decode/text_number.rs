//! The n-th number of a text, whatever stands around it.

use super::Message;
use super::field::Scale;
use crate::reading::NotAReading;

/// More digits than any instrument shows are no number.
const MAX_DIGITS: usize = 12;

/// One of the numbers in a text, by its place among them.
///
/// ```
/// use bluetooth::decode::{Kind, Scale, TextNumber};
/// use bluetooth::reading::Quantity;
/// use survey::units::Angle;
///
/// let scale = Scale { kind: Kind::Angle, factor: 1.0, offset: 0.0 };
/// let second = TextNumber { nth: 1, decimal_comma: false, scale };
/// let message = second.decode(b"X=+0.10;Y=-1.25")?;
/// assert_eq!(message.value, Quantity::Angle(Angle::degrees(-1.25)));
/// # Ok::<(), bluetooth::reading::NotAReading>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TextNumber {
    /// How many numbers stand before it.
    pub nth: usize,
    /// The decimal sign is a comma; else it is a point, and a comma parts two numbers.
    pub decimal_comma: bool,
    pub scale: Scale,
}

impl TextNumber {
    /// What the text says.
    ///
    /// # Errors
    /// [`NotAReading::NotUnderstood`] where it has fewer numbers.
    pub fn decode(&self, text: &[u8]) -> Result<Message, NotAReading> {
        let number = self.number(text).ok_or(NotAReading::NotUnderstood)?;
        Ok(Message { value: self.scale.quantity(number)?, cause: None, number: None })
    }

    /// The plain number of the text; `None` where there is none.
    pub(crate) fn number(&self, text: &[u8]) -> Option<f64> {
        let text = std::str::from_utf8(text).ok()?;
        numbers(text, self.decimal_comma).nth(self.nth)?
    }
}

/// The numbers of a text in their order; `None` for one with too many digits.
fn numbers(text: &str, decimal_comma: bool) -> impl Iterator<Item = Option<f64>> + '_ {
    let decimal = if decimal_comma { ',' } else { '.' };
    let mut rest = text;
    std::iter::from_fn(move || {
        let start = rest.find(|c: char| c.is_ascii_digit())?;
        let minus = rest.get(..start).is_some_and(|before| before.ends_with('-'));
        let from = rest.get(start..)?;
        let end = end(from, decimal);
        let (digits, after) = from.split_at(end);
        rest = after;
        let sound = digits.len() <= MAX_DIGITS;
        let number = digits.replace(decimal, ".").parse::<f64>().ok().filter(|_| sound);
        Some(number.map(|number| if minus { -number } else { number }))
    })
}

/// Where the number ends that the text begins with: digits, and digits behind one decimal sign.
fn end(text: &str, decimal: char) -> usize {
    let digits = |from: usize| {
        let rest = text.get(from..).unwrap_or_default();
        from + rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len())
    };
    let whole = digits(0);
    let behind = text.get(whole..).is_some_and(|rest| rest.starts_with(decimal));
    let end = if behind { digits(whole + 1) } else { whole };
    if end > whole + 1 { end } else { whole }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn check(text: &str, decimal_comma: bool, expected: &[Option<f64>]) {
        assert_eq!(numbers(text, decimal_comma).collect::<Vec<_>>(), expected, "{text:?}");
    }

    #[test]
    fn numbers_stand_where_they_stand() {
        check("D01,1.234,20.5,OK", false, &[Some(1.0), Some(1.234), Some(20.5)]);
        check("01,1.234", true, &[Some(1.1), Some(234.0)]);
        check("-0,25 m", true, &[Some(-0.25)]);
        check("a-1.5.2 3.", false, &[Some(-1.5), Some(2.0), Some(3.0)]);
        check("1234567890123", false, &[None]);
        check("no number", false, &[]);
        check("°5é", false, &[Some(5.0)]);
    }

    proptest! {
        #[test]
        fn no_text_makes_it_panic(text in "\\PC{0,60}", bytes in prop::collection::vec(any::<u8>(), 0..60), comma: bool) {
            for number in numbers(&text, comma).flatten() {
                prop_assert!(number.is_finite());
            }
            let scale = Scale { kind: super::super::Kind::Length, factor: 1.0, offset: 0.0 };
            let _ = TextNumber { nth: 2, decimal_comma: comma, scale }.decode(&bytes);
        }
    }
}
