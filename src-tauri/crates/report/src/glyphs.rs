//! Which characters the embedded fonts can draw, and what is printed for the others.

use std::sync::LazyLock;

use serde_json::Value;
use typst::foundations::Bytes;
use typst::text::Font;

/// The faces, regular before bold, the one preferred before the one that helps out.
pub(crate) const FACES: [&[u8]; 4] = [
    include_bytes!("../fonts/AtkinsonHyperlegibleNext_400Regular.ttf"),
    include_bytes!("../fonts/AtkinsonHyperlegibleNext_700Bold.ttf"),
    include_bytes!("../fonts/NotoSans_400Regular.ttf"),
    include_bytes!("../fonts/NotoSans_700Bold.ttf"),
];

static FONTS: LazyLock<Vec<Font>> =
    LazyLock::new(|| FACES.iter().filter_map(|face| Font::new(Bytes::new(*face), 0)).collect());

/// The characters of the preferred face as one character class. What it lacks, the other face draws whole: left to
/// itself the shaper would build a missing letter from two glyphs, and copied text would then double it.
pub(crate) static PREFERRED: LazyLock<String> = LazyLock::new(|| {
    let covered = FONTS.first().map(|font| font.info().coverage.iter()).into_iter().flatten();
    format!("[{}]", covered.map(|c| format!("\\u{{{c:x}}}")).collect::<String>())
});

fn drawn(c: char) -> bool {
    let holds = |weight: usize| FONTS.iter().skip(weight).step_by(2).any(|f| f.info().coverage.contains(c.into()));
    c == '\n' || (!c.is_control() && holds(0) && holds(1))
}

/// Puts the number of each character that no face can draw in its place, in every text of `value`; true if any was.
pub(crate) fn number_the_undrawn(value: &mut Value) -> bool {
    match value {
        Value::String(text) => number_in(text),
        Value::Array(all) => all.iter_mut().fold(false, |any, one| number_the_undrawn(one) | any),
        Value::Object(all) => all.values_mut().fold(false, |any, one| number_the_undrawn(one) | any),
        _ => false,
    }
}

fn number_in(text: &mut String) -> bool {
    *text = text.replace("\r\n", "\n").replace('\t', " ");
    let any = !text.chars().all(drawn);
    if any {
        *text =
            text.chars().map(|c| if drawn(c) { c.to_string() } else { format!("‹U+{:04X}›", u32::from(c)) }).collect();
    }
    any
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, printed: &str) {
        let mut value = Value::from(vec![text]);
        assert_eq!(number_the_undrawn(&mut value), printed.contains("‹U+"), "{text}");
        assert_eq!(value, Value::from(vec![printed]));
    }

    #[test]
    fn what_can_be_drawn_stays_and_the_rest_is_numbered() {
        check("Élodie Nagyné, 5⅜ ≥ ±1/16 × 2", "Élodie Nagyné, 5⅜ ≥ ±1/16 × 2");
        check("Σ Жуков Nguyễn", "Σ Жуков Nguyễn");
        check("王 hall", "‹U+738B› hall");
        check("a\u{0}b\u{7}", "a‹U+0000›b‹U+0007›");
        check("two\r\nlines\tand a tab", "two\nlines and a tab");
        check("", "");
    }

    #[test]
    fn every_face_loads() {
        assert_eq!(FONTS.len(), FACES.len());
    }
}
