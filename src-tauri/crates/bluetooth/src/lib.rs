//! bluetooth
