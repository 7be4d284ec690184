//! Bounds beyond which a plain number is a slip of the finger or of the unit. They are wide, and our own choice: what
//! is merely unusual is left to who types it.

use crate::forms::refusal::Refusal;
use survey::units::INCH_MM;

/// From what to what a number may be, and how the unit is said behind it.
#[derive(Clone, Copy)]
pub struct Bounds {
    pub least: f64,
    pub most: f64,
    pub unit: BoundUnit,
}

/// The unit in which bounds are said.
#[derive(Clone, Copy)]
pub enum BoundUnit {
    /// Said in inches too.
    Mm,
    Kg,
    KgOnM2,
    Litres,
    LitresAMinute,
    Hours,
    Minutes,
    Ohms,
    /// A share, said per cent.
    Share,
    /// Rise over run, said as one in so many.
    Slope,
    None,
}

const fn upto(most: f64, unit: BoundUnit) -> Bounds {
    Bounds { least: 0.0, most, unit }
}

/// The share on top for waste: twice of everything at most.
pub const WASTE: Bounds = upto(1.0, BoundUnit::Share);
/// What one bag weighs; the largest lifted by a crane.
pub const BAG: Bounds = upto(2000.0, BoundUnit::Kg);
/// What one bag yields.
pub const YIELD: Bounds = upto(2000.0, BoundUnit::Litres);
/// What a floor may carry.
pub const LOAD: Bounds = upto(10_000.0, BoundUnit::KgOnM2);
/// What a shower gives, all its heads together.
pub const FLOW: Bounds = upto(200.0, BoundUnit::LitresAMinute);
/// What stands on a product's sheet or is watched on site: thirty years.
pub const HOURS: Bounds = upto(262_800.0, BoundUnit::Hours);
/// Water watched while it runs off: a day.
pub const MINUTES: Bounds = upto(1440.0, BoundUnit::Minutes);
/// What a heating cable reads.
pub const OHMS: Bounds = upto(1.0e6, BoundUnit::Ohms);

/// What an instrument may be off by, in mm or degrees: beyond it, it measures nothing here.
pub const ACCURACY: Bounds = upto(100.0, BoundUnit::None);

/// Whether a number lies within its bounds; one that is absent does.
///
/// # Errors
/// `out-of-range`, naming the field and both bounds.
pub fn within(field: &str, value: Option<f64>, bounds: Bounds) -> Result<(), Refusal> {
    match value {
        Some(value) if !(bounds.least..=bounds.most).contains(&value) => {
            Err(Refusal::out_of_range(field, &bounds.said()))
        }
        _ => Ok(()),
    }
}

impl Bounds {
    /// Both bounds and what to look at: completes "must be \u{2026}".
    pub fn said(&self) -> String {
        let [least, most] = [self.least, self.most].map(short);
        let both = match self.unit {
            BoundUnit::Mm => format!("from {least} to {most} mm ({} in)", short(self.most / INCH_MM)),
            BoundUnit::Kg => format!("from {least} to {most} kg ({} lb)", (self.most / KG_IN_LB).round()),
            BoundUnit::KgOnM2 => format!("from {least} to {most} kg on a square metre"),
            BoundUnit::Litres => format!("from {least} to {most} litres"),
            BoundUnit::LitresAMinute => format!("from {least} to {most} litres a minute"),
            BoundUnit::Hours => format!("from {least} to {most} hours"),
            BoundUnit::Minutes => format!("from {least} to {most} minutes"),
            BoundUnit::Ohms => format!("from {least} to {most} ohms"),
            BoundUnit::Share => format!("from {} to {} per cent", short(self.least * 100.0), short(self.most * 100.0)),
            BoundUnit::Slope => format!("from level to 1 in {}", short(1.0 / self.most)),
            BoundUnit::None => format!("from {least} to {most}"),
        };
        format!("{both}. Look at the unit and the point")
    }
}

/// Kilograms in a pound.
const KG_IN_LB: f64 = 0.453_592_37;

/// A bound to two places at most.
fn short(value: f64) -> String {
    format!("{}", (value * 100.0).round() / 100.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::forms::{EdgeShape, FallPlan, Origin, Pour, PourKind};

    #[test]
    fn what_is_put_in_anew_keeps_the_bounds() {
        let plan = crate::demo("banksia").expect("the demo room").plan;
        let fall = |flow: f64| FallPlan {
            edge: EdgeShape::Level,
            origin: Origin::Centre,
            rise: None,
            flow: Some(flow),
            stack: None,
            trap_arm: None,
            trough: None,
        };
        assert!(crate::finish::fall::check_new(&fall(9.5), &plan).is_ok());
        let refused = crate::finish::fall::check_new(&fall(9500.0), &plan).expect_err("a river");
        assert_eq!(refused.field.as_deref(), Some("fall: flow"));
        assert!(crate::finish::fall::check(&fall(9500.0), &plan).is_ok(), "what is there already is looked at still");
        let pour = |bag_kg: f64, waste: f64| Pour {
            kind: PourKind::Compound,
            product: String::new(),
            over: 3.0,
            rise: None,
            yield_litres: None,
            bag_kg: Some(bag_kg),
            waste,
            least: None,
            most: None,
            load_most: None,
        };
        assert!(crate::finish::pour::check_new(&pour(25.0, 0.1)).is_ok());
        let field = |refused: Result<(), Refusal>| refused.expect_err("absurd").field;
        assert_eq!(field(crate::finish::pour::check_new(&pour(25_000.0, 0.1))).as_deref(), Some("pour: a bag"));
        assert_eq!(field(crate::finish::pour::check_new(&pour(25.0, 10.0))).as_deref(), Some("pour: waste"));
    }

    #[test]
    fn only_what_no_site_has_is_refused_and_both_bounds_are_said() {
        assert!(within("fall: flow", None, FLOW).is_ok());
        assert!(within("fall: flow", Some(9.5), FLOW).is_ok());
        let refused = within("fall: flow", Some(9500.0), FLOW).expect_err("a slip of the point");
        assert_eq!(
            refused.message,
            "fall: flow must be from 0 to 200 litres a minute. Look at the unit and the point."
        );
        assert!(within("pour: waste", Some(12.0), WASTE).expect_err("12 is no share").message.contains("100 per cent"));
        assert!(within("pour: a bag", Some(f64::NAN), BAG).expect_err("no number").message.contains("4409 lb"));
    }
}
