//! Hands quantities to the template as millimetres.

use serde::ser::{SerializeSeq, Serializer};
use survey::PlanPosition;
use survey::units::Length;

fn pair(at: &PlanPosition) -> [f64; 2] {
    [at.x.to_mm(), at.y.to_mm()]
}

pub(super) fn length<S: Serializer>(length: &Length, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_f64(length.to_mm())
}

pub(super) fn place<S: Serializer>(at: &PlanPosition, to: S) -> Result<S::Ok, S::Error> {
    to.collect_seq(pair(at))
}

pub(super) fn places<S: Serializer>(all: &[PlanPosition], to: S) -> Result<S::Ok, S::Error> {
    to.collect_seq(all.iter().map(pair))
}

pub(super) fn rings<S: Serializer>(all: &[Vec<PlanPosition>], to: S) -> Result<S::Ok, S::Error> {
    let mut rings = to.serialize_seq(Some(all.len()))?;
    for ring in all {
        rings.serialize_element(&ring.iter().map(pair).collect::<Vec<_>>())?;
    }
    rings.end()
}
