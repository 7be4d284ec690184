//! What was planned beyond the framing, each part replaced whole.

use super::{Apply, Page, inverse};
use crate::fault::Fault;
use crate::forms::{DoorSet, FallPlanSet, LedgesSet, PourSet, StockSet, TilingSet, Works};
use judge::finish::fall;
use judge::finish::ledges;
use judge::finish::pour;
use judge::finish::tiling;
use judge::framing::boards;
use judge::framing::doorway;
use store::Inverse;

impl Page<'_> {
    /// Puts what was planned in the place of what was planned before.
    pub(super) fn put_works(&self, works: &Works) -> Result<(), Fault> {
        self.put("works", (*works != Works::default()).then_some(works))
    }

    fn change_works<T>(&self, change: impl FnOnce(&mut Works) -> T) -> Result<T, Fault> {
        let mut works: Works = self.document("works")?.unwrap_or_default();
        let old = change(&mut works);
        self.put_works(&works)?;
        Ok(old)
    }
}

impl Apply for PourSet {
    fn check(&self, _page: &Page<'_>) -> Result<(), Fault> {
        Ok(self.pour.as_ref().map_or(Ok(()), pour::check_new)?)
    }

    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let old = page.change_works(|works| std::mem::replace(&mut works.pour, self.pour.clone()))?;
        inverse(&PourSet { pour: old })
    }
}

impl Apply for FallPlanSet {
    fn check(&self, page: &Page<'_>) -> Result<(), Fault> {
        let plan = page.document("plan")?.unwrap_or_default();
        self.fall.as_ref().map_or(Ok(()), |fall| Ok(fall::check_new(fall, &plan)?))
    }

    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let old = page.change_works(|works| std::mem::replace(&mut works.fall, self.fall.clone()))?;
        inverse(&FallPlanSet { fall: old })
    }
}

impl Apply for LedgesSet {
    fn check(&self, _page: &Page<'_>) -> Result<(), Fault> {
        Ok(ledges::check(&self.ledges)?)
    }

    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let old = page.change_works(|works| std::mem::replace(&mut works.ledges, self.ledges.clone()))?;
        inverse(&LedgesSet { ledges: old })
    }
}

impl Apply for TilingSet {
    fn check(&self, _page: &Page<'_>) -> Result<(), Fault> {
        Ok(self.tiling.as_ref().map_or(Ok(()), tiling::check_new)?)
    }

    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let old = page.change_works(|works| std::mem::replace(&mut works.tiling, self.tiling.clone()))?;
        inverse(&TilingSet { tiling: old })
    }
}

impl Apply for DoorSet {
    fn check(&self, _page: &Page<'_>) -> Result<(), Fault> {
        Ok(self.door.as_ref().map_or(Ok(()), doorway::check)?)
    }

    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let old = page.change_works(|works| std::mem::replace(&mut works.door, self.door.clone()))?;
        inverse(&DoorSet { door: old })
    }
}

impl Apply for StockSet {
    fn check(&self, _page: &Page<'_>) -> Result<(), Fault> {
        Ok(self.stock.as_ref().map_or(Ok(()), boards::check)?)
    }

    fn apply(&self, page: &Page<'_>) -> Result<Option<Inverse>, Fault> {
        let old = page.change_works(|works| std::mem::replace(&mut works.stock, self.stock.clone()))?;
        inverse(&StockSet { stock: old })
    }
}
