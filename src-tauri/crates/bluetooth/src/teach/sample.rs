//! What a device sent when a reading was made.

use crate::radio::Uuid;
use std::collections::BTreeMap;

/// What each characteristic sent last when a reading was made.
pub type Sample = BTreeMap<Uuid, Vec<u8>>;
