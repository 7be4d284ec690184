//! What is chosen once and replaced whole: rules, tile, layers, the height to build to, ticks.

use super::{Apply, Page, inverse};
use crate::fault::Fault;
use crate::forms::{DecisionSet, FallsSet, LayersSet, RuleSet, Rules, TargetSet, TickSet, TileSet};
use judge::Refusal;
use judge::finish::build_up::check_layers;
use judge::forms::json;
use judge::room::rules;
use serde::Serialize;
use serde::de::DeserializeOwned;
use store::{Document, Inverse, Tick};

impl Page<'_> {
    /// The document of a name; none if there is none.
    pub(super) fn document<T: DeserializeOwned>(&self, name: &str) -> Result<Option<T>, Fault> {
        let body = self.tx.documents().get(Some(self.room), name)?;
        Ok(body.map(|body| json::read(&body)).transpose()?)
    }

    /// Puts a document in the place of the one of its name; none takes it away.
    pub(super) fn put<T: Serialize>(&self, name: &str, value: Option<&T>) -> Result<(), Fault> {
        match value {
            Some(value) => {
                let body = json::write(value)?;
                self.tx.documents().put(&Document { room: Some(self.room.clone()), name: name.to_string(), body })?;
            }
            None => self.tx.documents().remove(Some(self.room), name)?,
        }
        Ok(())
    }

    /// The rules of the room as they were changed.
    pub(crate) fn rules(&self) -> Result<Rules, Fault> {
        Ok(self.document("rules")?.unwrap_or_default())
    }

    fn change_rules<T>(&self, change: impl FnOnce(&mut Rules) -> T) -> Result<T, Fault> {
        let mut rules = self.rules()?;
        let old = change(&mut rules);
        let none_left = rules == Rules::default();
        self.put("rules", (!none_left).then_some(&rules))?;
        Ok(old)
    }
}

impl Apply for RuleSet {
    fn check(&self, _page: &Page<'_>) -> Result<(), Fault> {
        Ok(rules::check_change(&self.rule, self.value)?)
    }

    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let old = page.change_rules(|rules| match self.value {
            Some(value) => rules.changed.insert(self.rule.clone(), value),
            None => rules.changed.remove(&self.rule),
        })?;
        inverse(&RuleSet { rule: self.rule.clone(), value: old })
    }
}

impl Apply for DecisionSet {
    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let old = page.change_rules(|rules| std::mem::replace(&mut rules.decision, self.decision))?;
        inverse(&DecisionSet { decision: old })
    }
}

impl Apply for TileSet {
    fn check(&self, _page: &Page<'_>) -> Result<(), Fault> {
        match &self.tile {
            Some(tile) if tile.longest_edge <= 0.0 => {
                Err(Refusal::out_of_range("tile.longest_edge", "more than zero").into())
            }
            _ => Ok(()),
        }
    }

    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let old = page.change_rules(|rules| std::mem::replace(&mut rules.tile, self.tile.clone()))?;
        inverse(&TileSet { tile: old })
    }
}

impl Apply for FallsSet {
    fn check(&self, _page: &Page<'_>) -> Result<(), Fault> {
        Ok(self.falls.as_deref().map_or(Ok(()), rules::falls::check)?)
    }

    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let old = page.change_rules(|rules| std::mem::replace(&mut rules.falls, self.falls.clone()))?;
        inverse(&FallsSet { falls: old })
    }
}

impl Apply for LayersSet {
    fn check(&self, page: &Page<'_>) -> Result<(), Fault> {
        let plan = page.document("plan")?.unwrap_or_default();
        self.layers.as_ref().map_or(Ok(()), |layers| Ok(check_layers(layers, &plan)?))
    }

    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let old = page.document("layers")?;
        page.put("layers", self.layers.as_ref())?;
        inverse(&LayersSet { layers: old })
    }
}

impl Apply for TargetSet {
    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let old = page.document("target")?;
        page.put("target", self.target.as_ref())?;
        inverse(&TargetSet { target: old })
    }
}

impl Apply for TickSet {
    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let ticks = page.tx.ticks();
        let old = ticks.get(page.room, &self.item)?.unwrap_or(false);
        match self.done {
            true => ticks.put(&Tick { room: page.room.clone(), item: self.item.clone(), done: true })?,
            false => ticks.remove(page.room, &self.item)?,
        }
        inverse(&TickSet { item: self.item.clone(), done: old })
    }
}
