//! The framing plan: every alternative height with the work it asks of each joist.

use super::Answer;
use crate::forms::problems;
use super::grid::{Input, misfit};
use crate::forms::refusal::Refusal;
use schemars::JsonSchema;
use serde::Serialize;
use survey::framing::{Alternative, JoistWork, Name, plan};
use survey::units::Length;

#[derive(Debug, Serialize, JsonSchema)]
pub struct Output {
    /// Best first.
    alternatives: Vec<WireAlternative>,
    /// The name of the first, if it may be built without asking anybody.
    best: Option<&'static str>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct WireAlternative {
    name: &'static str,
    height: f64,
    tilt_x: f64,
    tilt_y: f64,
    objective: f64,
    needs_approval: bool,
    over_door_budget: bool,
    /// At each jamb; `null` where the first station is unread.
    door_rise: Vec<Option<f64>>,
    joists: Vec<WireWork>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct WireWork {
    id: String,
    action: &'static str,
    lifts: Vec<Option<f64>>,
    cuts: Vec<Option<f64>>,
    reasons: Vec<String>,
}

/// # Errors
/// `too-few-points` where nothing was read; `out-of-range` or `not-finite` naming the field.
pub fn run(input: Input) -> Result<Answer<Output>, Refusal> {
    let found = plan(&input.grid()?, &input.settings()?).map_err(misfit)?;
    let best = found.value.best.map(Name::name);
    let alternatives = found.value.alternatives.into_iter().map(WireAlternative::from).collect();
    Ok(Answer::new(Output { alternatives, best }, problems(found.problems)))
}

fn mm(lengths: Vec<Option<Length>>) -> Vec<Option<f64>> {
    lengths.into_iter().map(|length| length.map(Length::to_mm)).collect()
}

impl From<Alternative> for WireAlternative {
    fn from(alternative: Alternative) -> Self {
        Self {
            name: alternative.name.name(),
            height: alternative.target.height.to_mm(),
            tilt_x: alternative.target.tilt_x.to_ratio(),
            tilt_y: alternative.target.tilt_y.to_ratio(),
            objective: alternative.objective.to_f64(),
            needs_approval: alternative.needs_approval,
            over_door_budget: alternative.over_door_budget,
            door_rise: mm(alternative.door_rise),
            joists: alternative.joists.into_iter().map(WireWork::from).collect(),
        }
    }
}

impl From<JoistWork> for WireWork {
    fn from(work: JoistWork) -> Self {
        Self {
            id: work.id,
            action: work.action.name(),
            lifts: mm(work.lifts),
            cuts: mm(work.cuts),
            reasons: work.reasons.iter().map(ToString::to_string).collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::compute::compute;
    use crate::forms::refusal::Kind;
    use serde_json::{Value, json};

    fn joist(id: &str, x: f64, tops: Value) -> Value {
        json!({
            "id": id, "x": x, "tops": tops, "kind": "sawn", "depth": 234.95, "span": 3505.2, "first_bearing": -609.6,
            "sound": true, "approval": null,
        })
    }

    fn input() -> Value {
        json!({
            "station_y": [0.0, 762.0, 1524.0],
            "joists": [joist("J1", 0.0, json!([0.0, 6.35, 0.0])), joist("J2", 406.4, json!([0.0, null, 0.0]))],
            "u": 0.79375,
            "doorway": {"from": 0.0, "to": 203.2},
        })
    }

    fn answer(operation: &str, input: &Value) -> Value {
        serde_json::from_str(&compute(operation, &input.to_string()).unwrap()).unwrap()
    }

    #[test]
    fn the_plan_field_for_field() {
        let answer = answer("framing-plan", &input());
        assert_eq!(answer["best"], "level-nothing-cut");
        let first = &answer["alternatives"][0];
        let expected = json!({
            "name": "level-nothing-cut", "height": 6.35, "tilt_x": 0.0, "tilt_y": 0.0,
            "objective": 2.0 + 1.0 + 0.02 * 25.4 + 0.5 * 6.35, "needs_approval": false, "over_door_budget": false,
            "door_rise": [6.35, 6.35],
            "joists": [
                {"id": "J1", "action": "strip", "lifts": [6.35, 0.0, 6.35], "cuts": [0.0, 0.0, 0.0], "reasons": []},
                {"id": "J2", "action": "strip", "lifts": [6.35, null, 6.35], "cuts": [0.0, null, 0.0], "reasons": []},
            ],
        });
        assert_eq!(*first, expected);
        assert_eq!(answer["problems"][0]["kind"], "missing-reading");
        assert_eq!(answer["problems"][0]["at"], "joists[1].tops[1]");
    }

    #[test]
    fn the_joists_field_for_field() {
        let joists = answer("joists", &input())["joists"].take();
        let crown = &joists[0]["crown_or_sag"];
        assert_eq!((crown["value"].as_f64(), crown["station"].as_f64()), (Some(6.35), Some(762.0)));
        assert!((crown["u"].as_f64().unwrap() - 0.79375 * 1.5_f64.sqrt()).abs() < 1e-12);
        assert_eq!(joists[0]["twist"], json!([null, null, null]));
        assert_eq!(joists[1]["crown_or_sag"], Value::Null);
        assert_eq!(joists[1]["of_the_rest"][1], Value::Null);
        assert_eq!((&joists[0]["out_of_level"], &joists[0]["sagging"]), (&json!(0.0), &json!(false)));
    }

    #[test]
    fn refusals_name_the_field() {
        let check = |change: fn(&mut Value), kind: Kind, field: &str| {
            let mut input = input();
            change(&mut input);
            for operation in ["framing-plan", "joists"] {
                let refusal = compute(operation, &input.to_string()).unwrap_err();
                assert_eq!((refusal.kind, refusal.field.as_deref()), (kind, Some(field)), "{refusal}");
            }
        };
        check(|input| input["joists"] = json!([]), Kind::TooFewPoints, "joists");
        check(|input| input["station_y"][1] = json!(0.0), Kind::OutOfRange, "station_y[1]");
        check(|input| input["joists"][1]["tops"] = json!([1.0]), Kind::OutOfRange, "joists[1].tops");
        check(|input| input["joists"][0]["tops"][1] = json!(1e300), Kind::NotFinite, "joists[0].tops[1]");
        check(|input| input["joists"][0]["span"] = json!(0.0), Kind::OutOfRange, "joists[0].span");
        check(|input| input["joists"][0]["kind"] = json!("steel"), Kind::UnknownField, "joists[0].kind");
        check(|input| input["strip"] = json!({"leest": 1.0}), Kind::UnknownField, "strip.leest");
        check(|input| input["u"] = json!(-1.0), Kind::OutOfRange, "u");
        check(|input| input["max_tilt"] = json!(-0.1), Kind::OutOfRange, "max_tilt");
        check(|input| drop(input.as_object_mut().unwrap().remove("u")), Kind::MissingField, "u");
    }
}
