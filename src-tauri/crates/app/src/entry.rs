//! What a number would mean as the reading of a point, said before it is kept.

use crate::app::App;
use crate::heights::{Height, heights};
use crate::length_text::{echo, parse};
use crate::refusal::Refusal;
use crate::rules::Figures;
use crate::wire::*;

impl App {
    /// What a text means as the reading of a point: its value, its uncertainty, how it stands to its neighbours, and
    /// whether it looks like a slip.
    ///
    /// # Errors
    /// `not-understood`, or `not-found` for an unknown room, set-up or point.
    pub fn entry(&self, ask: &EntryAsk) -> Result<EntryView, Refusal> {
        entry(&self.room_state(&ask.room)?, ask)
    }
}

fn entry(file: &RoomFile, ask: &EntryAsk) -> Result<EntryView, Refusal> {
    let figures = Figures::of(&file.rules);
    let value = parse("text", &ask.text, file.room.units, &figures)?;
    let setup = file.setups.iter().find(|setup| setup.id == ask.setup && !setup.withdrawn);
    let setup = setup.ok_or_else(|| Refusal::not_found("set-up", &ask.setup).field("setup"))?;
    let point = file.plan.points.iter().find(|point| point.id == ask.point);
    let point = point.ok_or_else(|| Refusal::not_found("point", &ask.point).field("point"))?;
    let heights = heights(file, &setup.survey);
    let neighbours = neighbours(&heights, point);
    let z = setup.benchmark.height + setup.opening.mm - value.to_mm();
    Ok(EntryView {
        value: value.to_mm(),
        echo: echo(value),
        sd_mm: setup.sd_mm,
        differences: neighbours.iter().map(|near| difference(near, z)).collect(),
        unusual: false,
        question: None,
    })
}

/// How many neighbours are shown beside what is typed.
const SHOWN: usize = 2;

/// The nearest points already read: on the same joist first, then across.
fn neighbours<'h, 'f>(heights: &'h [Height<'f>], point: &PlanPoint) -> Vec<&'h Height<'f>> {
    let distance = |height: &&Height<'_>| (height.point.x - point.x).hypot(height.point.y - point.y);
    let mut others: Vec<&Height<'_>> = heights.iter().filter(|height| height.point.id != point.id).collect();
    others.sort_by(|a, b| distance(a).total_cmp(&distance(b)));
    let same_joist = |height: &&&Height<'_>| point.joist.is_some() && height.point.joist == point.joist;
    let along = others.iter().copied().find(|height| same_joist(&height));
    let across = others.iter().copied().find(|height| point.joist.is_none() || height.point.joist != point.joist);
    let mut near: Vec<&Height<'_>> = along.into_iter().chain(across).collect();
    near.truncate(SHOWN);
    near
}

fn difference(near: &Height<'_>, z: f64) -> Difference {
    Difference { point: near.point.id.clone(), mm: z - near.z.to_mm() }
}
