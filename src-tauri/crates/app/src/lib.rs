//! The use cases of Truefall: what every front end calls, and the only place that knows all of the core.

pub mod compute;
pub mod json;
pub mod refusal;
pub mod wire;

pub use compute::compute;
pub use refusal::{Kind, Refusal};
