//! The numbers as a whole: no input breaks them, what does not matter changes nothing, and verdicts keep their word.

mod any_input;
mod honesty;
mod invariance;
