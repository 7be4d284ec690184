//! The three demo rooms and their right answers, in the core and on the command line.

mod as_told;
mod command_line;
mod guard_in_lists;
mod pours;
mod scenario_a;
mod scenario_a_room;
mod scenario_b;
mod scenario_c;
mod scenario_c_put_right;
