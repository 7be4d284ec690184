//! What the trade knows about floors, as arithmetic: planes, straightedges, joists, framing, verdicts.
//!
//! Pure: no input or output, no clock, no entropy, no serialisation, and no panic on any input.
//! Heights are positive upward; plan positions are measured from the room's named corner.
//! An analysis answers with [`Analysis`]: the value and whatever was wrong with the data.
//! It refuses (`Err`) only when nothing can be computed at all.

mod analysis;
pub mod bed;
pub mod blunders;
mod boundary;
pub mod build_up;
pub mod contours;
mod delaunay;
pub mod door_budget;
pub mod drain_window;
pub mod drainage;
pub mod f_numbers;
pub mod fall_correction;
pub mod fall_run;
pub mod fill;
pub mod flatness_zone;
pub mod flood_test;
pub mod framing;
mod golden_section;
pub mod guard;
pub mod heat_cable;
pub mod hold;
pub mod joists;
mod least_squares;
pub mod ledge;
pub mod length_text;
pub mod level_net;
pub mod level_perimeter;
mod mesh;
pub mod misclosure;
pub mod mortar_bed;
pub mod nesting;
mod normal;
mod overlap;
pub mod perimeter_marks;
pub mod plane;
mod point;
pub mod pond_probability;
mod prism;
pub mod repeatability;
pub mod rise_share;
pub mod rules;
mod same_place;
pub mod shim_stock;
pub mod shrinkage;
pub mod slips;
pub mod span;
pub mod straightedge;
pub mod straightedge_surface;
pub mod structure_gate;
pub mod surface;
pub mod tile;
pub mod tile_run;
pub mod tilt_walk;
pub mod triangulation;
pub mod two_peg;
pub mod union_jack;
pub mod units;
pub mod verdict;
pub mod water_load;

pub use analysis::{Analysis, Problem, ProblemKind};
pub use boundary::is_outline;
pub use point::{PlanPosition, Point};
