//! Rooms by their verdict: those that nobody has judged since their last change are judged now.

use crate::app::App;
use judge::findings::at_once;
use judge::forms::Verdict;
use judge::{Kind, Refusal};
use store::Listed;

/// So many rooms are judged in one search, which takes a fraction of a second.
const AT_ONCE: usize = 12;

impl App {
    /// Leaves only the rooms that stand so, judging some of those that nobody has judged; says how many are left.
    pub(crate) fn keep_those_standing(&self, rooms: &mut Vec<Listed>, verdict: Verdict) -> Result<u32, Refusal> {
        let unknown: Vec<&Listed> = rooms.iter().filter(|room| self.verdicts.known(room).is_none()).collect();
        let (now, later) = unknown.split_at(unknown.len().min(AT_ONCE));
        self.judge_rooms(now)?;
        let left = later.len() as u32;
        rooms.retain(|room| self.verdicts.known(room) == Some(verdict));
        Ok(left)
    }

    /// Judges every room that nobody has judged since its last change.
    ///
    /// # Errors
    /// Whatever keeps a room from being read.
    pub(crate) fn judge_all(&self) -> Result<(), Refusal> {
        let rooms = self.read(|read| Ok(read.rooms().listed()?))?;
        let unknown: Vec<&Listed> = rooms.iter().filter(|room| self.verdicts.known(room).is_none()).collect();
        unknown.chunks(AT_ONCE).try_for_each(|some| self.judge_rooms(some))
    }

    fn judge_rooms(&self, rooms: &[&Listed]) -> Result<(), Refusal> {
        let judged = rooms.iter().filter_map(|room| {
            let (head, id) = (room.last.as_ref()?.1.to_string(), room.room.id.to_string());
            Some(self.standing_of(&id).map(|verdict| (id, head, verdict)))
        });
        self.verdicts.keep(judged.collect::<Result<_, _>>()?);
        Ok(())
    }

    /// What its survey in hand came to; *out* where a test on the record failed.
    fn standing_of(&self, room: &str) -> Result<Verdict, Refusal> {
        let file = self.room_state(room)?;
        if judge::tests::tests(&file, &self.now()).iter().any(|test| test.verdict == Verdict::Out) {
            return Ok(Verdict::Out);
        }
        match at_once(&file, None) {
            Ok(view) => Ok(view.headline.verdict),
            Err(refusal) if refusal.kind == Kind::NotReady => Ok(Verdict::NotTested),
            Err(refusal) => Err(refusal),
        }
    }
}
