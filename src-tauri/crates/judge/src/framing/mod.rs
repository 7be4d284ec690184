//! What to build the joists to: the alternatives, their strips and sisters, the boards, the engineer's question.

pub mod alternatives;
pub mod boards;
pub mod cutting;
pub mod doorway;
pub mod engineer;
pub mod reasons;
pub mod stiffness;
