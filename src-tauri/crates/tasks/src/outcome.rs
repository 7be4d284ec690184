//! What a verb comes to.

/// Done, or a sentence that says what is wrong and how to put it right.
pub(crate) type Outcome<T = ()> = Result<T, String>;
