//! The name of a room as the name of a file.

/// A name that any file system takes.
pub(crate) fn file_name(name: &str) -> String {
    let letters: String =
        name.chars().map(|c| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { '-' }).collect();
    let words: Vec<&str> = letters.split('-').filter(|word| !word.is_empty()).collect();
    if words.is_empty() { "room".to_string() } else { words.join("-") }
}
