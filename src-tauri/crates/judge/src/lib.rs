//! The trade: from what is known of a room to what to do about it.
//!
//! Every answer is a plain function of a [`RoomFile`](forms::RoomFile) and what is asked. Nothing here reads a file, a
//! clock or the network, keeps state between two calls, or starts a thread. [`compute`](compute()) answers without
//! any room.

pub mod compute;
pub mod demo;
pub mod findings;
pub mod finish;
pub mod forms;
pub mod framing;
pub mod reading;
pub mod room;
pub mod tests;
pub mod words;

pub use compute::compute;
pub use demo::demo;
pub use findings::findings;
pub use finish::build_up::build_up;
pub use finish::fall::fall;
pub use finish::ledges::ledges;
pub use finish::pour::pour;
pub use finish::tiling::tiling;
pub use forms::refusal::{Kind, Refusal};
pub use framing::alternatives::height;
pub use framing::cutting::cutting;
pub use tests::tests;
