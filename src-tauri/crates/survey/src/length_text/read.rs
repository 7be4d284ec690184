//! From text to length.

use super::spelling::{Number, Piece, Sign, Unit, pieces};
use super::{DefaultUnit, NotUnderstood, Why};
use crate::units::Length;

/// An inch in mm, 254 over 10: 25.4 itself is no binary number, and a product with it is rounded twice.
const INCH: (f64, f64) = (254.0, 10.0);

/// The length a text written on site stands for; what hangs below zero is negative.
///
/// `strong` is how much *strong* adds and *shy* takes off (their cousins: heavy, fat, full, plus or a `+` behind;
/// light, scant, bare, weak, minus or a `-` behind). It works on the size: `-3/16 strong` lies further below zero.
///
/// # Units
/// Inches, feet, millimetres, centimetres and metres, as marks or words, upper or lower case; a number without a unit
/// is of `default_unit`. One inch is 25.4 mm.
///
/// # Errors
/// [`NotUnderstood`] with the piece, its place and the reason. Refused on purpose, because a guess could be wrong:
/// twelve inches or more behind feet, a fraction of one or more behind a whole number, `5-6` (feet or a fraction?),
/// `1,122 mm` (thousands or a decimal?), a fraction without a unit in a millimetre room.
///
/// # Source
/// Spellings are common practice. 1 in = 25.4 mm exactly (international yard and pound agreement, 1959).
///
/// ```
/// use survey::length_text::{DefaultUnit, parse};
/// use survey::units::Length;
///
/// let strong = Length::inches(1.0 / 32.0);
/// for spelling in ["3'-4 5/8\"", "3' 4-5/8\"", "3 ft 4.625 in", "40 5/8\"", "40⅝", "1031,875 mm"] {
///     let length = parse(spelling, DefaultUnit::Inch, strong)?;
///     assert!((length.to_mm() - 1031.875).abs() < 1e-9, "{spelling}");
/// }
/// assert_eq!(parse("43 7/8 strong", DefaultUnit::Inch, strong)?.to_inches(), 43.0 + 29.0 / 32.0);
/// # Ok::<(), survey::length_text::NotUnderstood>(())
/// ```
pub fn parse(text: &str, default_unit: DefaultUnit, strong: Length) -> Result<Length, NotUnderstood> {
    let pieces = pieces(text)?;
    let end = text.chars().count();
    let mut reader = Reader { pieces: &pieces, end, default_unit, strong: strong.to_mm() };
    if pieces.is_empty() {
        return Err(NotUnderstood { text: String::new(), at: 0, why: Why::Empty });
    }
    let below = reader.sign();
    let size = reader.size()?;
    if let Some(piece) = reader.pieces.first() {
        return Err(piece.refused(reader.leftover(piece)));
    }
    let mm = if below { 0.0 - size } else { size };
    Length::try_mm(mm).map_err(|_| NotUnderstood { text: text.trim().to_string(), at: 0, why: Why::TooLarge })
}

/// What is left of the pieces, and how to understand them.
struct Reader<'a> {
    pieces: &'a [Piece],
    end: usize,
    default_unit: DefaultUnit,
    strong: f64,
}

/// A number with what stood behind its whole part.
struct Quantity<'a> {
    value: f64,
    number: Number,
    fraction: bool,
    /// Its first piece, for refusals.
    piece: &'a Piece,
}

impl<'a> Reader<'a> {
    fn peek(&self, ahead: usize) -> Option<Sign> {
        self.pieces.get(ahead).map(|piece| piece.sign)
    }

    fn skip(&mut self, count: usize) {
        self.pieces = self.pieces.get(count..).unwrap_or(&[]);
    }

    fn unfinished(&self) -> NotUnderstood {
        match self.pieces.first() {
            Some(piece) => piece.refused(Why::Unfinished),
            None => NotUnderstood { text: String::new(), at: self.end, why: Why::Unfinished },
        }
    }

    fn leftover(&self, piece: &Piece) -> Why {
        match piece.sign {
            Sign::Number(_) => Why::SecondNumber,
            Sign::Dash if matches!(self.peek(1), Some(Sign::Number(_))) => Why::SecondNumber,
            Sign::Slash => Why::Fraction,
            Sign::Unit(_) => Why::Unit,
            _ => Why::Leftover,
        }
    }

    /// Whether a minus sign leads.
    fn sign(&mut self) -> bool {
        let lead = self.peek(0);
        if matches!(lead, Some(Sign::Dash | Sign::Plus)) {
            self.skip(1);
        }
        lead == Some(Sign::Dash)
    }

    /// The size in millimetres: a quantity, strong or shy, its unit, inches behind feet.
    fn size(&mut self) -> Result<f64, NotUnderstood> {
        let quantity = self.quantity()?;
        let before = self.nuance();
        let unit = self.unit();
        if let (Some(Unit::Feet { .. }), None) = (unit, before)
            && let Some(inches) = self.inches_behind(&quantity)?
        {
            let (times, over) = INCH;
            return Ok((quantity.value * 12.0 + inches) * times / over + self.nuance().unwrap_or(0.0));
        }
        let nuance = before.or_else(|| self.nuance()).unwrap_or(0.0);
        let (times, over) = self.unit_mm(unit, &quantity)?;
        Ok(quantity.value * times / over + nuance)
    }

    /// A number, a fraction, or a whole number and a fraction.
    fn quantity(&mut self) -> Result<Quantity<'a>, NotUnderstood> {
        let Some((piece, Sign::Number(number))) = self.pieces.first().map(|piece| (piece, piece.sign)) else {
            return Err(self.unfinished());
        };
        self.skip(1);
        if self.peek(0) == Some(Sign::Slash) {
            let value = self.fraction_over(piece, number)?;
            return Ok(Quantity { value, number, fraction: true, piece });
        }
        let gap = usize::from(matches!(self.peek(0), Some(Sign::Dash | Sign::And)));
        let (Some(Sign::Number(over)), Some(Sign::Slash)) = (self.peek(gap), self.peek(gap + 1)) else {
            return Ok(Quantity { value: number.value, number, fraction: false, piece });
        };
        self.skip(gap);
        let fraction = self.pieces.first().unwrap_or(piece);
        self.skip(1);
        let part = self.fraction_over(fraction, over)?;
        match part {
            _ if !number.whole => Err(fraction.refused(Why::FractionOfDecimal)),
            1.0.. => Err(fraction.refused(Why::FractionTooLarge)),
            _ => Ok(Quantity { value: number.value + part, number, fraction: true, piece }),
        }
    }

    /// The value of `over` divided by the number behind the slash that comes next.
    fn fraction_over(&mut self, piece: &Piece, over: Number) -> Result<f64, NotUnderstood> {
        self.skip(1);
        let Some((below, Sign::Number(under))) = self.pieces.first().map(|piece| (piece, piece.sign)) else {
            return Err(self.unfinished());
        };
        self.skip(1);
        match (over.whole, under.whole) {
            (false, _) => Err(piece.refused(Why::Fraction)),
            (_, false) => Err(below.refused(Why::Fraction)),
            _ if under.value == 0.0 => Err(below.refused(Why::ZeroDenominator)),
            _ => Ok(over.value / under.value),
        }
    }

    /// The inches behind whole feet, with their mark if they have one; `None` if nothing follows the feet.
    fn inches_behind(&mut self, feet: &Quantity) -> Result<Option<f64>, NotUnderstood> {
        let gap = usize::from(matches!(self.peek(0), Some(Sign::Dash | Sign::And)));
        if !matches!(self.peek(gap), Some(Sign::Number(_))) {
            return if gap == 1 { Err(self.past(gap).unfinished()) } else { Ok(None) };
        }
        self.skip(gap);
        if feet.fraction || !feet.number.whole {
            return Err(feet.piece.refused(Why::FeetNotWhole));
        }
        let inches = self.quantity()?;
        if inches.value >= 12.0 {
            return Err(inches.piece.refused(Why::TwelveInches));
        }
        if matches!(self.peek(0), Some(Sign::Unit(Unit::Inches { .. }))) {
            self.skip(1);
        }
        Ok(Some(inches.value))
    }

    fn past(&self, count: usize) -> Reader<'a> {
        Reader { pieces: self.pieces.get(count..).unwrap_or(&[]), ..*self }
    }

    /// How much is added (strong) or taken off (shy), in millimetres; a dash before a number or a unit word is neither.
    fn nuance(&mut self) -> Option<f64> {
        let ends =
            matches!(self.peek(1), None | Some(Sign::Unit(Unit::Inches { mark: true } | Unit::Feet { mark: true })));
        let nuance = match self.peek(0)? {
            Sign::Strong => self.strong,
            Sign::Shy => -self.strong,
            Sign::Plus if ends => self.strong,
            Sign::Dash if ends => -self.strong,
            _ => return None,
        };
        self.skip(1);
        Some(nuance)
    }

    /// The unit that comes next, with the hyphen of `44-inch`.
    fn unit(&mut self) -> Option<Unit> {
        let gap = usize::from(self.peek(0) == Some(Sign::Dash));
        let Some(Sign::Unit(unit)) = self.peek(gap) else { return None };
        self.skip(gap + 1);
        Some(unit)
    }

    /// The unit in mm, as a fraction of whole numbers.
    fn unit_mm(&self, unit: Option<Unit>, quantity: &Quantity) -> Result<(f64, f64), NotUnderstood> {
        let millimetres = match (unit, self.default_unit) {
            (Some(Unit::Inches { .. }), _) | (None, DefaultUnit::Inch) => return Ok(INCH),
            (Some(Unit::Feet { .. }), _) => return Ok((12.0 * INCH.0, INCH.1)),
            (Some(Unit::Centimetres), _) => return Ok((10.0, 1.0)),
            (Some(Unit::Metres), _) => return Ok((1000.0, 1.0)),
            (None, DefaultUnit::Millimetre) if quantity.fraction => Err(Why::FractionOfMillimetre),
            (Some(Unit::Millimetres), _) | (None, DefaultUnit::Millimetre) if quantity.number.grouped => {
                Err(Why::Thousands)
            }
            (Some(Unit::Millimetres), _) | (None, DefaultUnit::Millimetre) => Ok((1.0, 1.0)),
        };
        millimetres.map_err(|why| quantity.piece.refused(why))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const STRONG: f64 = 1.0 / 32.0;

    fn read(text: &str, unit: DefaultUnit) -> Result<Length, NotUnderstood> {
        parse(text, unit, Length::inches(STRONG))
    }

    fn check(text: &str, inches: f64) {
        let length = read(text, DefaultUnit::Inch).unwrap_or_else(|refusal| panic!("{text}: {refusal}"));
        assert!((length.to_inches() - inches).abs() <= 1e-12 * inches.abs().max(1.0), "{text}: {}", length.to_inches());
    }

    fn check_mm(text: &str, unit: DefaultUnit, mm: f64) {
        let length = read(text, unit).unwrap_or_else(|refusal| panic!("{text}: {refusal}"));
        assert!((length.to_mm() - mm).abs() <= 1e-12 * mm.abs().max(1.0), "{text}: {}", length.to_mm());
    }

    fn check_refused(text: &str, unit: DefaultUnit, piece: &str, at: usize, why: Why) {
        let refusal = NotUnderstood { text: piece.to_string(), at, why };
        assert_eq!(read(text, unit), Err(refusal), "{text}");
    }

    /// A text in inches is the number of millimetres that is nearest to it: 44-1/8 in is 1120.775 mm.
    #[test]
    fn inches_come_to_the_nearest_number() {
        for (text, mm) in [("44-1/8", 1120.775), ("43.3", 1099.82), ("3' 8-1/8\"", 1120.775), ("1-1/2 ft", 457.2)] {
            assert_eq!(read(text, DefaultUnit::Inch).map(Length::to_mm), Ok(mm), "{text}");
        }
    }

    #[test]
    fn inches_and_their_fractions() {
        for text in ["44-3/16", "44 3/16", "44 - 3/16", "44–3/16\"", "44 3/16 in", "44-3/16''", "44 and 3/16 inches"]
        {
            check(text, 44.1875);
        }
        for text in ["44.1875", "44,1875", "44.1875in.", "44 ³⁄₁₆", "44³/₁₆″", " 44  3 / 16 ", "44 3⁄16”", "44 & 3/16"]
        {
            check(text, 44.1875);
        }
        for (text, inches) in [("7/8", 0.875), ("⅞", 0.875), ("19/16", 1.1875), (".5", 0.5), ("44.", 44.0), ("0", 0.0)]
        {
            check(text, inches);
        }
        check("44½", 44.5);
        check("1/3", 1.0 / 3.0);
        check("44,125", 44.125);
        check("44-inch", 44.0);
        check("44 IN", 44.0);
    }

    #[test]
    fn feet_and_inches() {
        for text in [
            "3'-4 5/8\"",
            "3' 4-5/8\"",
            "3 ft 4.625 in",
            "3ft4⅝in",
            "3′ 4 5/8″",
            "3’-4 5/8”",
            "3'4 5/8",
            "3 ft. - 4,625",
        ] {
            check(text, 40.625);
        }
        for (text, inches) in [("3'", 36.0), ("3'-0\"", 36.0), ("3.5'", 42.0), ("3 1/2 ft", 42.0), ("5' 3/4\"", 60.75)]
        {
            check(text, inches);
        }
        check("2 feet 11 31/32 inches", 35.96875);
        check("-3'-4\"", -40.0);
    }

    #[test]
    fn strong_and_shy() {
        for text in ["43 7/8 strong", "43-7/8+", "43 7/8 +", "43-7/8\"+", "43-7/8+\"", "43 7/8 in heavy", "43 7/8 full"]
        {
            check(text, 43.875 + STRONG);
        }
        for text in [
            "43 7/8 shy",
            "43-7/8-",
            "43 7/8 -",
            "43-7/8\" -",
            "43-7/8-\"",
            "43 7/8 Light",
            "43 7/8 bare in",
            "43⅞ scant",
        ] {
            check(text, 43.875 - STRONG);
        }
        check("44-", 44.0 - STRONG);
        check("3'-7 7/8\" strong", 43.875 + STRONG);
        check("-3/16 strong", -0.1875 - STRONG);
        check("0 shy", -STRONG);
        let sixteenth = parse("1 1/8 strong", DefaultUnit::Inch, Length::inches(1.0 / 16.0));
        assert_eq!(sixteenth.map(Length::to_inches), Ok(1.1875));
    }

    #[test]
    fn metric() {
        for (text, mm) in [("1122", 1122.0), ("1122.5", 1122.5), ("1122,5", 1122.5), ("-4", -4.0), ("−4 mm", -4.0)] {
            check_mm(text, DefaultUnit::Millimetre, mm);
        }
        for (text, mm) in [("1122 mm", 1122.0), ("112,25cm", 1122.5), ("1,122 m", 1122.0), ("1.122 Metres", 1122.0)] {
            check_mm(text, DefaultUnit::Inch, mm);
        }
        for (text, mm) in [("44 3/16 in", 1122.3625), ("3'", 914.4), ("1031,875", 1031.875), ("0,125", 0.125)] {
            check_mm(text, DefaultUnit::Millimetre, mm);
        }
        check_mm("1122 strong", DefaultUnit::Millimetre, 1122.79375);
        check_mm("1/2 mm", DefaultUnit::Inch, 0.5);
    }

    #[test]
    fn what_is_not_understood_and_where() {
        let inch = |text, piece, at, why| check_refused(text, DefaultUnit::Inch, piece, at, why);
        inch("", "", 0, Why::Empty);
        inch("  ", "", 0, Why::Empty);
        inch("-", "", 1, Why::Unfinished);
        inch("+", "", 1, Why::Unfinished);
        inch("--44", "-", 1, Why::Unfinished);
        inch("strong", "strong", 0, Why::Unfinished);
        inch("in", "in", 0, Why::Unfinished);
        inch("44 3/", "", 5, Why::Unfinished);
        inch("44-/16", "-", 2, Why::Leftover);
        inch("44/", "", 3, Why::Unfinished);
        inch("/16", "/", 0, Why::Unfinished);
        inch("44 3/0", "0", 5, Why::ZeroDenominator);
        inch("44 16/3", "16", 3, Why::FractionTooLarge);
        inch("44 16/16", "16", 3, Why::FractionTooLarge);
        inch("44.5 1/2", "1", 5, Why::FractionOfDecimal);
        inch("3.5/16", "3.5", 0, Why::Fraction);
        inch("3/1.6", "1.6", 2, Why::Fraction);
        inch("44/3/16", "/", 4, Why::Fraction);
        inch("5-6", "-", 1, Why::SecondNumber);
        inch("44 3 16", "3", 3, Why::SecondNumber);
        inch("44\" 3", "3", 4, Why::SecondNumber);
        inch("3'-14\"", "14", 3, Why::TwelveInches);
        inch("3'-12", "12", 3, Why::TwelveInches);
        inch("3'-", "", 3, Why::Unfinished);
        inch("3.5' 4\"", "3.5", 0, Why::FeetNotWhole);
        inch("3 1/2' 4", "3", 0, Why::FeetNotWhole);
        inch("3' 4 mm", "mm", 5, Why::Unit);
        inch("44 in mm", "mm", 6, Why::Unit);
        inch("44 strong shy", "shy", 10, Why::Leftover);
        inch("44+3/16", "+", 2, Why::Leftover);
        inch("forty", "forty", 0, Why::UnknownWord);
        inch("1e5", "e", 1, Why::UnknownWord);
        inch("44 3/16 kg", "kg", 8, Why::UnknownWord);
        inch("NaN", "NaN", 0, Why::UnknownWord);
        inch("44*2", "*", 2, Why::UnknownSign);
        inch("44🙂", "🙂", 2, Why::UnknownSign);
        inch("1,122.5", "1,122.", 0, Why::DecimalMark);
        inch("44,", "44,", 0, Why::DecimalMark);
        inch("1,122 mm", "1,122", 0, Why::Thousands);
        let digits = "9".repeat(400);
        inch(&digits, &digits, 0, Why::TooLarge);
        check_refused("1,122", DefaultUnit::Millimetre, "1,122", 0, Why::Thousands);
        check_refused("44 3/16", DefaultUnit::Millimetre, "44", 0, Why::FractionOfMillimetre);
    }

    #[test]
    fn a_refusal_is_a_sentence_with_the_place() {
        let refusal = read("3'-14\"", DefaultUnit::Inch).map_err(|refusal| refusal.to_string());
        let sentence = "“14” at character 4 was not understood: behind feet the inches are less than 12";
        assert_eq!(refusal, Err(sentence.to_string()));
        assert_eq!(
            read("", DefaultUnit::Inch).map_err(|refusal| refusal.to_string()),
            Err("no length was entered".into())
        );
    }

    #[test]
    fn no_negative_zero() {
        for text in ["-0", "-0/16", "0"] {
            assert!(read(text, DefaultUnit::Inch).is_ok_and(|zero| zero.to_mm().is_sign_positive()), "{text}");
        }
    }

    proptest! {
        #[test]
        fn no_text_panics(text in ".{0,24}", signs in "[0-9/'\"+ .,a-m½⁴-]{0,16}") {
            for text in [text, signs] {
                let _ = read(&text, DefaultUnit::Inch);
                let _ = read(&text, DefaultUnit::Millimetre);
            }
        }

        #[test]
        fn every_sixty_fourth_reads_in_every_spelling(feet in 0u32..40, sixty_fourths in 0u32..768) {
            let (inch, part) = (sixty_fourths / 64, sixty_fourths % 64);
            let inches = f64::from(feet * 12) + f64::from(sixty_fourths) / 64.0;
            for text in [
                format!("{feet}'-{inch} {part}/64\""),
                format!("{feet} ft {inch}-{part}/64 in"),
                format!("{}-{part}/64", feet * 12 + inch),
                format!("{inches}"),
                format!("{} mm", inches * 25.4),
            ] {
                let length = read(&text, DefaultUnit::Inch).map(Length::to_inches);
                prop_assert!(length.as_ref().is_ok_and(|found| (found - inches).abs() < 1e-9), "{text}: {length:?}");
            }
        }
    }
}
