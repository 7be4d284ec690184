//! What `truefall compute` is asked, for every operation.

use crate::said::{Heard, refused};
use crate::trial;
use app::compute::{OPERATIONS, compute};
use site_tests::questions;

/// An input is the name of an operation, a line end, and its question.
#[test]
fn questions_to_compute() {
    let seeds = questions::all().into_iter().map(|(name, question)| format!("{name}\n{question}").into_bytes());
    let check = |bytes: &[u8]| {
        let text = String::from_utf8_lossy(bytes);
        let (name, question) = text.split_once('\n').unwrap_or((&text, ""));
        // Any name leads to some operation, so that stretches of other questions meet each of them.
        let name =
            OPERATIONS.iter().find(|known| **known == name).unwrap_or(&OPERATIONS[question.len() % OPERATIONS.len()]);
        match compute(name, question) {
            Ok(answer) => {
                let read = serde_json::from_str::<serde_json::Value>(&answer).expect("an answer is JSON");
                assert!(read.is_object());
                Heard::Read((*name).to_string())
            }
            Err(refusal) => match refused(&refusal, bytes) {
                Heard::Refused(shape) => Heard::Refused(format!("{name} {shape}")),
                read => read,
            },
        }
    };
    trial::run("compute", 1000, seeds.collect(), Box::new(check));
}
