//! What README and DEVELOPERS.md say of the command line is so: every verb and every option.

use site_tests::{run, top};

#[test]
fn the_command_line_is_as_it_is_told() {
    assert!(
        untold("truefall room dance ROOM").is_some() && untold("truefall findings ROOM [--json] [--gates]").is_some()
    );
    assert!(untold("truefall room new\\|list").is_none() && untold("cargo truefall demo kestrel").is_none());
    let read = |document| std::fs::read_to_string(top().join(document)).expect("it is there");
    let text = ["README.md", "DEVELOPERS.md"].map(read).concat();
    // Between single backquotes, outside fenced blocks.
    let open: String = text.split("```").step_by(2).collect();
    no_complaints(open.split('`').skip(1).step_by(2).filter_map(untold).collect());
    let help = help_of(&[]);
    let verbs = help.split("Commands:").nth(1).and_then(|rest| rest.split("Options:").next()).expect("its verbs");
    let verbs = verbs.lines().filter_map(|line| line.split_whitespace().next()).filter(|verb| *verb != "help");
    let is_told = |verb: &&str| text.contains(&format!("`truefall {verb}"));
    no_complaints(
        verbs.filter(|verb| !is_told(verb)).map(|verb| format!("no document tells of truefall {verb}")).collect(),
    );
}

/// A use of the program that it does not know: a verb, or an option of a verb.
fn untold(said: &str) -> Option<String> {
    let words = said.strip_prefix("cargo ").unwrap_or(said).strip_prefix("truefall ")?;
    let mut parts = words.split_whitespace();
    let verb = parts.next()?;
    let one_of = parts.clone().next().filter(|next| next.contains('|') || next.chars().all(char::is_lowercase));
    let ways: Vec<Vec<&str>> = match one_of.filter(|_| help_of(&[verb]).contains("Commands:")) {
        Some(next) => next.split("\\|").map(|way| vec![verb, way]).collect(),
        None => vec![vec![verb]],
    };
    let help: Vec<String> = ways.iter().map(|way| help_of(way)).collect();
    let options = words.split(|c: char| " []…".contains(c)).filter(|word| word.starts_with('-'));
    let unknown = options.filter(|option| !help.iter().any(|text| text.contains(*option)));
    let wrong: Vec<&str> = unknown.collect();
    let strange = help.iter().any(String::is_empty);
    (strange || !wrong.is_empty()).then(|| format!("`{said}` is told, and the program knows no {wrong:?}"))
}

/// What the program says of a verb; nothing for one it does not know.
fn help_of(verb: &[&str]) -> String {
    let asked = run(&[verb, &["--help"]].concat(), "");
    if asked.status.success() { String::from_utf8_lossy(&asked.stdout).into_owned() } else { String::new() }
}

/// Fails with one line per complaint.
fn no_complaints(complaints: Vec<String>) {
    assert!(complaints.is_empty(), "\n{}\n", complaints.join("\n"));
}
