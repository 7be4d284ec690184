//! What layers must be before anything is made of them.

use crate::forms::refusal::Refusal;
use crate::forms::{Layer, Layers, Plan};
use survey::units::Length;

/// Whether every layer is some thickness, none thicker than the joists are deep, and the deck no deeper than they.
///
/// # Errors
/// `out-of-range` or `not-finite`, naming the layer and what it may be.
pub fn check_layers(layers: &Layers, plan: &Plan) -> Result<(), Refusal> {
    let deep = plan.joists.iter().map(|joist| joist.depth).fold(f64::INFINITY, f64::min);
    layers.room.iter().chain(&layers.shower).try_for_each(|layer| check_layer(layer, deep))?;
    let lengths = [("layers: deck", Some(layers.shower_deck)), ("layers: membrane lap", layers.membrane_lap)];
    let riser = layers.riser.as_ref();
    let riser =
        [("layers: riser, pipe", riser.map(|riser| riser.pipe)), ("layers: riser, body", riser.map(|r| r.body))];
    for (field, length) in lengths.into_iter().chain(riser) {
        if length.is_some_and(|length| !length.is_finite()) {
            return Err(Refusal::not_finite(field));
        }
    }
    if layers.membrane_lap.is_some_and(|lap| lap < 0.0) {
        return Err(Refusal::out_of_range("layers: membrane lap", "zero or more"));
    }
    if layers.shower_deck > deep {
        let must = "no farther over the subfloor than the joists are deep. Look at the unit";
        return Err(Refusal::out_of_range("layers: deck", must));
    }
    if layers.shower_deck < -deep {
        let must = "above the underside of the joists. A deck hangs between them, never below";
        return Err(Refusal::out_of_range("layers: deck", must));
    }
    Ok(())
}

fn check_layer(layer: &Layer, deep: f64) -> Result<(), Refusal> {
    let field = format!("layers: thickness of {}", layer.name);
    let all = [Some(layer.thickness), layer.at_drain, layer.tolerance];
    if !all.into_iter().flatten().all(|part| part >= 0.0) {
        return Err(Refusal::out_of_range(field, "zero or more"));
    }
    if all.into_iter().flatten().any(|part| part > deep) {
        let must = "no more than the joists are deep: nothing that thick fits between them. Look at the unit";
        return Err(Refusal::out_of_range(field, must));
    }
    Ok(())
}

/// The standard uncertainty of a layer: that of a thickness anywhere within its tolerance, else the usual one.
pub(super) fn spread(layer: &Layer, usual: Length) -> Length {
    layer.tolerance.map_or(usual, |tolerance| Length::mm(tolerance / 3f64.sqrt()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::forms::refusal::Kind;

    #[test]
    fn what_no_layer_can_be_is_refused_by_name() {
        let file = crate::demo("rowan").expect("the demo room");
        let layers = file.layers.clone().expect("layers");
        let check = |change: fn(&mut Layers), words: &str| {
            let mut layers = layers.clone();
            change(&mut layers);
            let refused = check_layers(&layers, &file.plan).expect_err(words);
            assert!(matches!(refused.kind, Kind::OutOfRange | Kind::NotFinite), "{refused:?}");
            assert!(refused.message.contains(words), "{refused:?}");
        };
        check_layers(&layers, &file.plan).expect("those of the room are right");
        check(|layers| layers.room[0].thickness = -1.0, "zero or more");
        check(|layers| layers.shower[1].at_drain = Some(-0.1), "zero or more");
        check(|layers| layers.shower[1].tolerance = Some(f64::NAN), "zero or more");
        check(
            |layers| layers.shower[1].thickness = 240.0,
            "thickness of tray must be no more than the joists are deep",
        );
        check(|layers| layers.shower_deck = -300.0, "above the underside");
        check(|layers| layers.shower_deck = 300.0, "Look at the unit");
        check(|layers| layers.membrane_lap = Some(-1.0), "lap must be zero or more");
        check(|layers| layers.shower_deck = f64::INFINITY, "finite");
    }
}
