//! The checks of the level and of the hand that reads it.

use crate::forms::fields::positive;
use crate::forms::refusal::{Kind, Refusal};
use crate::forms::*;
use crate::reading::length_text::parse;
use crate::room::rules::{Figures, LengthId};
use crate::room::verdict;
use survey::two_peg::Sights;
use survey::units::{Estimate, Length};

/// Whether a level is true, from two looks at two marks.
///
/// # Errors
/// `not-understood` for a text that is no length, `out-of-range` for marks that are not apart.
pub fn two_peg(file: &RoomFile, ask: &TwoPegAsk) -> Result<TwoPeg, Refusal> {
    positive("sd_mm", ask.sd_mm)?;
    let figures = Figures::of(&file.rules);
    let length = |field: &str, text: &str| parse(field, text, file.room.units, &figures);
    let sights = |field: &str, (near, far): &(String, String)| {
        Ok::<_, Refusal>(Sights {
            near: length(&format!("{field}[0]"), near)?,
            far: length(&format!("{field}[1]"), far)?,
        })
    };
    let (apart, reach) = (length("apart", &ask.apart)?, length("reach", &ask.reach)?);
    positive("apart", apart.to_mm())?;
    positive("reach", reach.to_mm())?;
    let tilt = survey::two_peg::tilt(
        sights("middle", &ask.middle)?,
        sights("beside", &ask.beside)?,
        apart,
        Length::mm(ask.sd_mm),
    );
    let error = survey::two_peg::error_at(tilt, reach);
    let limit = figures.length(LengthId::Closing);
    let (verdict, _) = verdict::at_most(&figures, Estimate::new(error.value.abs(), error.u), limit);
    Ok(TwoPeg {
        tilt: tilt.value.to_ratio(),
        u: tilt.u.to_ratio(),
        error: error.value.to_mm(),
        u_error: error.u.to_mm(),
        reach: reach.to_mm(),
        limit: limit.to_mm(),
        verdict,
    })
}

/// How closely one reads, from the same point read several times.
///
/// # Errors
/// `not-understood` for a text that is no length, `too-few-points` for fewer than two.
pub fn repeatability(file: &RoomFile, ask: &RepeatAsk) -> Result<Repeatability, Refusal> {
    let figures = Figures::of(&file.rules);
    let read = |(k, text): (usize, &String)| parse(&format!("texts[{k}]"), text, file.room.units, &figures);
    let values: Vec<Length> = ask.texts.iter().enumerate().map(read).collect::<Result<_, _>>()?;
    let found = survey::repeatability::repeatability(&values).map_err(|error| {
        let message = error.to_string();
        Refusal::new(Kind::TooFewPoints, format!("{}.", message)).field("texts")
    })?;
    Ok(Repeatability {
        values: values.iter().map(|value| value.to_mm()).collect(),
        mean: found.mean.value.to_mm(),
        sd_mm: found.sd.to_mm(),
        range: found.range.to_mm(),
        sd_most: found.sd_most.to_mm(),
    })
}
