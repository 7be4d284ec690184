//! What standards, published tables and worked examples say, the source beside each check.

mod drainage;
mod flatness;
mod framing;
mod levelling;
mod plane;
mod rules;
mod slopes;
mod straightedge;
mod surface;
mod tilt;
mod units;
mod verdict;
mod wood;
