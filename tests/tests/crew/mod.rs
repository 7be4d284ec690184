//! The crew's door, tried as strangers, members and bad links would try it.

mod crowd;
mod door;
mod merge;
mod roles;
mod slow;
