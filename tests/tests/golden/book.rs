//! One file of questions and answers, and how it is held against what is kept.

use crate::difference::difference;
use sha2::{Digest, Sha256};
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

/// So many differences of a book are named.
const NAMED: usize = 12;

/// Questions with their answers, in the order in which they were asked.
pub(crate) struct Book {
    name: &'static str,
    /// An answer longer than this is kept as its digest.
    longest: usize,
    kept: String,
    whole: String,
}

/// Where the books are kept.
pub(crate) fn shelf() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("golden")
}

/// Whether the books are written again.
pub(crate) fn is_update() -> bool {
    std::env::var_os("UPDATE").is_some()
}

/// The digest of bytes and how many they are.
pub(crate) fn digest(bytes: &[u8]) -> String {
    let digits: String = Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect();
    format!("sha256:{digits} of {} bytes", bytes.len())
}

/// A question with its answer; each line of the answer begins with its mark.
struct Page<'t> {
    question: &'t str,
    answer: Vec<&'t str>,
}

impl Book {
    pub(crate) fn new(name: &'static str, longest: usize) -> Self {
        Self { name, longest, kept: String::new(), whole: String::new() }
    }

    /// Keeps whole from now on what is no longer than this; what was so before.
    pub(crate) fn shorten(&mut self, longest: usize) -> usize {
        std::mem::replace(&mut self.longest, longest)
    }

    /// Puts an answer, or a refusal, after its question.
    pub(crate) fn put(&mut self, question: &str, answer: Result<&str, &str>) {
        assert!(!question.contains('\n'), "a question is one line: {question}");
        let (mark, text) = match answer {
            Ok(text) => ('=', text),
            Err(text) => ('!', text),
        };
        let short = digest(text.as_bytes());
        page(&mut self.kept, question, mark, if text.len() > self.longest { &short } else { text });
        page(&mut self.whole, question, mark, text);
    }

    /// Writes the book, or holds it against the one that is kept.
    pub(crate) fn close(self) {
        lay(&site_tests::beside("golden"), self.name, &self.whole);
        if is_update() {
            return lay(&shelf(), self.name, &self.kept);
        }
        let path = shelf().join(format!("{}.txt", self.name));
        let known = fs::read_to_string(&path).unwrap_or_default();
        let said = differences(&known, &self.kept);
        assert!(
            said.is_empty(),
            "{} questions of {} are answered otherwise than before; every answer is whole in {}:\n{}",
            said.len(),
            path.display(),
            site_tests::beside("golden").display(),
            said.iter().take(NAMED).cloned().collect::<Vec<_>>().join("\n")
        );
        assert!(known == self.kept, "{} is not current", path.display());
    }
}

fn lay(folder: &Path, name: &str, text: &str) {
    fs::create_dir_all(folder).expect("a folder");
    fs::write(folder.join(format!("{name}.txt")), text).expect("the book");
}

fn page(out: &mut String, question: &str, mark: char, answer: &str) {
    let _ = writeln!(out, "? {question}");
    for line in answer.split('\n') {
        let _ = writeln!(out, "{mark} {line}");
    }
}

fn pages(text: &str) -> Vec<Page<'_>> {
    let mut pages: Vec<Page<'_>> = Vec::new();
    for line in text.split_terminator('\n') {
        match (line.strip_prefix("? "), pages.last_mut()) {
            (Some(question), _) => pages.push(Page { question, answer: Vec::new() }),
            (None, Some(page)) => page.answer.push(line),
            (None, None) => panic!("a book begins with a question: {line}"),
        }
    }
    pages
}

/// What is answered otherwise, missing, or new.
fn differences(known: &str, now: &str) -> Vec<String> {
    let (known, now) = (pages(known), pages(now));
    let mut said = Vec::new();
    for (before, after) in known.iter().zip(&now) {
        if before.question != after.question {
            said.push(format!("  another question: {:?}\n    before: {:?}", after.question, before.question));
            break;
        }
        if before.answer != after.answer {
            let where_and_what = difference(&before.answer.join("\n"), &after.answer.join("\n"));
            said.push(format!("  {}\n{where_and_what}", after.question));
        }
    }
    if known.len() != now.len() {
        said.push(format!("  {} questions are kept, {} were asked", known.len(), now.len()));
    }
    said
}

#[test]
fn a_book_names_the_question_and_what_differs() {
    let text = |height: &str| {
        let mut book = Book::new("sample", 1000);
        book.put("height {}", Ok(&format!(r#"{{"rows":[{{"z":1}},{{"z":{height}}}]}}"#)));
        book.put("fall {}", Err("no\nfall"));
        book.kept
    };
    assert!(differences(&text("2.5"), &text("2.5")).is_empty());
    let said = differences(&text("2.5"), &text("2.25")).join("");
    assert!(said.contains("height {}") && said.contains(".rows[1].z") && said.contains("2.25"), "{said}");
    assert!(!differences("", &text("2.5")).is_empty(), "a book that is not there is a difference");
    let refused = text("1").replace("! no", "= no");
    assert!(!differences(&text("1"), &refused).is_empty(), "an answer is no refusal");
    let mut long = Book::new("sample", 5);
    long.put("a", Ok("123456"));
    assert!(long.kept.contains("of 6 bytes") && long.whole.contains("= 123456"));
}
