//! Doing one titled thing after another, stopping at the first that fails, and saying how long each took.

use crate::outcome::Outcome;
use std::time::{Duration, Instant};

/// One thing to do.
pub(crate) struct Step<'a> {
    /// One word to ask for it by.
    pub(crate) name: &'static str,
    /// What it does, as a line for the reader.
    title: &'static str,
    work: Box<dyn Fn() -> Outcome + 'a>,
}

impl<'a> Step<'a> {
    pub(crate) fn new(name: &'static str, title: &'static str, work: impl Fn() -> Outcome + 'a) -> Self {
        Self { name, title, work: Box::new(work) }
    }
}

/// Does the steps in order; the first failure ends it, and the times are printed either way.
pub(crate) fn run(steps: &[Step]) -> Outcome {
    let mut times = Vec::new();
    let mut outcome = Ok(());
    for (at, step) in steps.iter().enumerate() {
        println!("\n== {} of {}: {} ({})", at + 1, steps.len(), step.title, step.name);
        let start = Instant::now();
        outcome = (step.work)().map_err(|why| format!("FAILED at {}: {why}", step.name));
        times.push((step.name, start.elapsed()));
        if outcome.is_err() {
            break;
        }
    }
    print!("\n{}", table(&times));
    outcome
}

/// Minutes per step, and their sum.
fn table(times: &[(&str, Duration)]) -> String {
    let sum = ("all", times.iter().map(|(_, time)| *time).sum());
    let line = |(name, time): &(&str, Duration)| format!("{:8.2}  {name}\n", time.as_secs_f64() / 60.0);
    let lines: String = times.iter().chain([&sum]).map(line).collect();
    format!(" minutes  step\n{lines}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::RefCell;

    #[test]
    fn the_first_failure_ends_it() {
        let done = RefCell::new(Vec::new());
        let step = |name: &'static str, outcome: Outcome| {
            let done = &done;
            let work = move || {
                done.borrow_mut().push(name);
                outcome.clone()
            };
            Step::new(name, "a thing", work)
        };
        let steps = [step("one", Ok(())), step("two", Err("no floor".into())), step("three", Ok(()))];
        assert_eq!(run(&steps), Err("FAILED at two: no floor".into()));
        assert_eq!(*done.borrow(), ["one", "two"]);
    }

    #[test]
    fn minutes_are_listed_and_summed() {
        let times = [("fmt", Duration::from_secs(6)), ("tests", Duration::from_secs(90))];
        assert_eq!(table(&times), " minutes  step\n    0.10  fmt\n    1.50  tests\n    1.60  all\n");
    }
}
