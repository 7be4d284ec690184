//! The alternatives side by side, best first.

use super::alternatives::{Proposal, proposals};
use super::cost::objective;
use super::doorway::{door_rise, larger};
use super::site::Site;
use super::work::{JoistWork, work};
use super::{Name, Reason, Settings, Target};
use crate::guard::dressing_most;
use crate::joists::{Grid, Misfit};
use crate::units::{Length, Ratio};
use crate::{Analysis, Problem, ProblemKind};

/// One way to make the floor flat, and what it asks of every joist.
#[derive(Debug, Clone, PartialEq)]
pub struct Alternative {
    pub name: Name,
    pub target: Target,
    /// What it counts: smaller is better.
    pub objective: Ratio,
    pub needs_approval: bool,
    pub over_door_budget: bool,
    /// The rise at each jamb, up positive; empty without a doorway, `None` where the first station is unread.
    pub door_rise: Vec<Option<Length>>,
    /// In the order of the grid.
    pub joists: Vec<JoistWork>,
}

/// All alternatives, and the one to build to.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// Best first; those that may be built without asking anybody before the others.
    pub alternatives: Vec<Alternative>,
    /// The first, if it may be built without asking anybody.
    pub best: Option<Name>,
    pub governs: Option<Governs>,
}

/// The one reading that the height hangs on where nothing is cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Governs {
    pub joist: String,
    /// Where the joist was read highest, from the door wall.
    pub station: Length,
    /// Its neighbouring readings on that joist: between them the true high point is to be sought.
    pub from: Length,
    pub to: Length,
}

/// The framing plan: every alternative height with the work it asks of each joist, best first.
///
/// # Units
/// Heights are lengths over the datum, up positive; places along the joists count from the door wall.
///
/// # Problems reported
/// `missing-reading` for each top that was not read; `not-looked-at` for each joist nobody has called sound or unsound;
/// `old-top-above` where a sistered joist is in the way of a height that asks for no approval;
/// `no-sound-joist` where every joist is sistered, so that only a height that is asked for can be planned;
/// `dry-rooms-only` beside the tilted alternative in a wet room; `setting-held` where dressing was asked deeper than
/// 1/8 in.
///
/// # Errors
/// [`Misfit`] where the tops do not fit the stations or nothing was read.
///
/// # Source
/// Stops, dressing and the order of thought (first the joist, then the lift) are common practice; cuts are judged by
/// the [guard](crate::guard).
///
/// ```
/// use survey::framing::{Action, Name, Settings, plan};
/// use survey::guard::{Member, MemberKind};
/// use survey::joists::{Grid, Joist};
/// use survey::units::Length;
///
/// let inches = Length::inches;
/// let (depth, span, first_bearing) = (inches(9.25), inches(138.0), inches(-24.0));
/// let member = Member { kind: MemberKind::Sawn, depth, span, first_bearing };
/// let joist = |id: &str, x: f64, tops: [f64; 3]| Joist {
///     id: id.into(),
///     x: inches(x),
///     tops: tops.map(|z| Some(inches(z))).to_vec(),
///     other_edge: vec![],
///     member,
///     sound: Some(true),
///     approval: None,
/// };
/// let joists = vec![joist("J1", 0.0, [0.0, 0.0, 0.0]), joist("J2", 16.0, [0.0, 0.25, 0.0])];
/// let grid = Grid { stations: [0.0, 45.0, 90.0].map(inches).to_vec(), joists, u: inches(1.0 / 32.0) };
/// let plan = plan(&grid, &Settings::default())?.value;
/// assert_eq!(plan.best, Some(Name::LevelNothingCut));
/// assert_eq!(plan.alternatives[0].target.height, inches(0.25));
/// assert_eq!(plan.alternatives[0].joists[0].action, Action::Strip);
/// assert_eq!(plan.alternatives[0].joists[1].strips.len(), 2); // bare between, where it is high
/// # Ok::<(), survey::joists::Misfit>(())
/// ```
pub fn plan(grid: &Grid, settings: &Settings) -> Result<Analysis<Plan>, Misfit> {
    grid.check()?;
    let site = Site::of(grid, settings);
    let mut alternatives: Vec<Alternative> = proposals(&site).iter().map(|proposal| built(&site, proposal)).collect();
    let asks = |one: &Alternative| one.needs_approval || (one.name == Name::FlatNotLevel && settings.wet_room);
    // Equal counts keep the order of the names, whatever arithmetic left in their last digits.
    let counted = |one: &Alternative| (one.objective.to_f64() * 1e9).round();
    alternatives.sort_by(|one, other| {
        let key = |one: &Alternative| (asks(one), one.over_door_budget);
        key(one).cmp(&key(other)).then(counted(one).total_cmp(&counted(other)))
    });
    let best = alternatives.first().filter(|first| !asks(first)).map(|first| first.name);
    let problems = grid.missing().into_iter().chain(problems(&site, &alternatives)).collect();
    Ok(Analysis { value: Plan { best, governs: governs(&site), alternatives }, problems })
}

fn built(site: &Site, proposal: &Proposal) -> Alternative {
    let Proposal { name, target, .. } = *proposal;
    let joists: Vec<JoistWork> =
        site.joists.iter().enumerate().map(|(j, studied)| work(site, j, studied, proposal)).collect();
    let door_rise = door_rise(site.grid, &target, site.settings.doorway);
    let over = |budget: Length| larger(&door_rise).is_some_and(|rise| !rise.at_most(budget));
    Alternative {
        name,
        target,
        objective: objective(&joists, &door_rise, site.settings),
        needs_approval: name.needs_approval(&joists),
        over_door_budget: site.settings.door_budget.is_some_and(over),
        door_rise,
        joists,
    }
}

fn governs(site: &Site) -> Option<Governs> {
    let studied = site.joists.get(site.governing()?)?;
    let points = studied.profile.points();
    let high = points.iter().map(|&(_, z)| z).reduce(f64::max)?;
    let at = points.iter().position(|&(_, z)| z == high)?;
    let place = |k: usize| points.get(k.min(points.len() - 1)).map(|&(y, _)| Length::mm(y));
    let (from, to) = (place(at.saturating_sub(1))?, place(at + 1)?);
    Some(Governs { joist: studied.joist.id.clone(), station: place(at)?, from, to })
}

fn problems(site: &Site, alternatives: &[Alternative]) -> Vec<Problem> {
    let unseen = site.grid.joists.iter().filter(|joist| joist.sound.is_none());
    let mut found: Vec<Problem> = unseen.map(|joist| not_looked_at(&joist.id)).collect();
    if site.setting().next().is_none() {
        let message =
            "Every joist that was read needs a sister: none is left to set the height. Say which height to hold.";
        found.push(Problem::new(ProblemKind::NoSoundJoist, message));
    }
    found.extend(site.grid.joists.iter().enumerate().filter_map(|(j, joist)| old_top(j, &joist.id, alternatives)));
    let tilted = alternatives.iter().any(|one| one.name == Name::FlatNotLevel);
    if tilted && site.settings.wet_room {
        let message = "Flat but not level is for dry rooms: spilled water runs down the tilt.";
        found.push(Problem::at(ProblemKind::DryRoomsOnly, Name::FlatNotLevel.name(), message));
    }
    if !site.settings.dress.most.at_most(dressing_most()) {
        let message = "Dressing goes to 1/8 in (3.175 mm) and no deeper: anything more takes an approval.";
        found.push(Problem::at(ProblemKind::SettingHeld, "dress.most", message));
    }
    found
}

/// A problem where a sistered joist's old top stands above a height that could be built without asking anybody.
fn old_top(j: usize, id: &str, alternatives: &[Alternative]) -> Option<Problem> {
    let stands = |work: &JoistWork| work.reasons.iter().any(|reason| matches!(reason, Reason::OldTopAbove { .. }));
    let above = |one: &&Alternative| !one.needs_approval && one.joists.get(j).is_some_and(stands);
    let names: Vec<&str> = alternatives.iter().filter(above).map(|one| one.name.name()).collect();
    let message = format!(
        "{id} is sistered, and its old top stands above the target ({}): ask before it is cut down.",
        names.join(", ")
    );
    (!names.is_empty()).then(|| Problem::at(ProblemKind::OldTopAbove, id, message))
}

fn not_looked_at(id: &str) -> Problem {
    Problem::at(
        ProblemKind::NotLookedAt,
        id,
        format!("Nobody has looked whether {id} is sound; the plan knows only its shape."),
    )
}
