//! Every word on screen stands in `ui/src/words`.

use crate::enforce;
use crate::source::Source;

/// Attributes that a person sees or hears.
const SPOKEN: [&str; 5] = ["aria-label=\"", "title=\"", "placeholder=\"", "alt=\"", "aria-description=\""];

#[test]
fn the_screens_hold_no_words_of_their_own() {
    let rule = |file: &Source| match file.is("svelte") && file.within("ui/src/") {
        true => loose_words(&file.text).into_iter().map(|word| format!("{}: {word:?}", file.path)).collect(),
        false => vec![],
    };
    let screen = "ui/src/screens/Rooms.svelte";
    enforce(
        rule,
        &[
            (screen, "<h1>Rooms</h1>"),
            (screen, "<p class=\"quiet\">{count} readings</p>"),
            (screen, "<button aria-label=\"Undo\">{words.undo}</button>"),
        ],
    );
    let clean = "<script>const a = 'Rooms'</script>{#if a > b && c}<b class=\"big one\">{t.rooms}</b> × {/if}\
                 <style>p{}</style>";
    assert_eq!(loose_words(clean), Vec::<String>::new());
}

/// Words between the tags, outside braces, and words in the attributes that are read out.
fn loose_words(text: &str) -> Vec<String> {
    let markup = ["script", "style"]
        .iter()
        .fold(without(text, "<!--", "-->"), |text, tag| without(&text, &format!("<{tag}"), &format!("</{tag}>")));
    let bare = without_braces(&markup);
    let spoken = SPOKEN.iter().flat_map(|start| bare.split(*start).skip(1).filter_map(|rest| rest.split('"').next()));
    let shown = bare.split('<').filter_map(|part| part.split_once('>').map(|(_, shown)| shown));
    shown.chain(spoken).map(str::trim).filter(|text| has_word(text)).map(str::to_owned).collect()
}

fn has_word(text: &str) -> bool {
    let without_entities = without(text, "&", ";");
    without_entities.split(|c: char| !c.is_alphabetic()).any(|word| word.chars().count() > 1)
}

/// The text without every part from `start` through `end`.
fn without(text: &str, start: &str, end: &str) -> String {
    let mut rest = text;
    let mut kept = String::new();
    while let Some((before, after)) = rest.split_once(start) {
        kept.push_str(before);
        rest = after.split_once(end).map_or("", |(_, rest)| rest);
    }
    kept + rest
}

/// The text without what stands in braces, however deep.
fn without_braces(text: &str) -> String {
    let mut depth = 0_usize;
    let outside = |c: char| {
        let before = depth;
        match c {
            '{' => depth += 1,
            '}' => depth = depth.saturating_sub(1),
            _ => {}
        }
        before == 0 && depth == 0
    };
    text.chars()
        .filter({
            let mut outside = outside;
            move |c| outside(*c)
        })
        .collect()
}
