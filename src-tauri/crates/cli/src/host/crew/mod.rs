//! The rooms open to other devices of the crew: by choice, on chosen networks, until a chosen time.
//!
//! A device joins once with a code and gets a key of its own; what it may do is decided here, for every request anew.
//! The home device alone appends to the journal, so whatever way the changes come, there is one order of them.

mod book;
mod certificate;
pub(crate) mod code;
pub(crate) mod image;
mod listener;
mod pass;
mod places;
mod rate;

use crate::{Limits, failed};
use app::forms::*;
use app::{App, CrewOrder, Kind, Refusal};
use book::Book;
pub(crate) use book::Member;
use code::{Code, Tried};
use listener::Door;
pub use places::places;
use rate::Rate;
use std::collections::HashMap;
use std::net::IpAddr;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError, Weak};
use std::time::Duration;
use tokio::sync::broadcast;

/// The longest the rooms stay open: one long day.
const MOST_MINUTES: u32 = 16 * 60;

/// Who is let in, what they look at, and the door while it is open.
pub struct Crew {
    app: Weak<App>,
    folder: Option<PathBuf>,
    limits: Limits,
    state: Mutex<State>,
    /// Every change, for whoever listens.
    changes: broadcast::Sender<String>,
}

struct State {
    book: Book,
    open: Option<Open>,
    rate: Rate,
    /// Screens that are on, by their device, and what each looks at; the empty name is the home device.
    here: HashMap<String, Presence>,
}

#[derive(Default)]
struct Presence {
    screens: usize,
    at: Option<CrewHere>,
}

struct Open {
    door: Door,
    until: String,
    code: Option<Code>,
    guessed: bool,
}

impl Crew {
    /// The crew of an app whose rooms are in `folder`, lent to it; it opens nothing yet.
    pub fn lend(app: &Arc<App>, folder: Option<PathBuf>, limits: Limits) -> Arc<Self> {
        let book = Book::open(folder.as_deref());
        let state = State { book, open: None, rate: Rate::default(), here: HashMap::new() };
        let (changes, _) = broadcast::channel(256);
        let teller = changes.clone();
        app.on_change(Box::new(move |change| {
            // Nobody listening is no mistake.
            let _ = teller.send(change.to_string());
        }));
        let crew = Arc::new(Self { app: Arc::downgrade(app), folder, limits, state: Mutex::new(state), changes });
        app.lend(Arc::new(Lent(Arc::clone(&crew))));
        crew
    }

    /// Opens the rooms; whatever was open before is closed.
    ///
    /// # Errors
    /// `out-of-range` for an address that is not this machine's or a time that is too long; `io` where no port is free.
    pub fn open(self: &Arc<Self>, ask: &CrewOpen, port: Option<u16>) -> Result<(), Refusal> {
        if !(1..=MOST_MINUTES).contains(&ask.minutes) {
            return Err(Refusal::out_of_range("minutes", "1 to 960: a long day"));
        }
        self.open_for(ask, port, Duration::from_secs(60 * u64::from(ask.minutes)))
    }

    /// The same for a time told to the instant.
    ///
    /// # Errors
    /// As [`Crew::open`].
    pub fn open_for(self: &Arc<Self>, ask: &CrewOpen, port: Option<u16>, lasts: Duration) -> Result<(), Refusal> {
        let addresses = addresses(&ask.at)?;
        let app = self.app.upgrade().ok_or_else(|| Refusal::new(Kind::Internal, "The rooms are closed."))?;
        self.close();
        let certificate = certificate::certificate(&addresses, self.folder.as_deref())?;
        let code = Code::draw(ask.role, &self.limits).map_err(|error| failed("No code could be drawn", &error))?;
        let kept = self.state().book.port;
        let door = listener::open(self, &app, &addresses, port.unwrap_or(kept), certificate, lasts)?;
        let mut state = self.state();
        state.book.port = door.port;
        state.book.keep()?;
        state.open = Some(Open { door, until: later(lasts), code: Some(code), guessed: false });
        drop(state);
        self.tell();
        Ok(())
    }

    /// Closes the rooms; every connection ends at once.
    pub fn close(&self) {
        let mut state = self.state();
        let open = state.open.take();
        state.here.retain(|name, _| name.is_empty());
        drop(state);
        if let Some(open) = open {
            // The sockets are closed before anybody is told so.
            drop(open);
            self.tell();
        }
    }

    /// How things stand, as the home device sees it.
    pub fn view(&self) -> CrewView {
        let state = self.state();
        let me = CrewMe { role: CrewRole::Home, name: String::new() };
        let open = state.open.as_ref().map(Open::shown);
        CrewView { me, can: true, open, places: places(), members: members(&state) }
    }

    /// How things stand, as a member sees it: who is there, not how to get in.
    pub(crate) fn view_of(&self, member: &Member) -> CrewView {
        let state = self.state();
        let me = CrewMe { role: member.role, name: member.name.clone() };
        let open = state.open.as_ref().map(|open| CrewDoor { addresses: Vec::new(), code: None, ..open.shown() });
        CrewView { me, can: false, open, places: Vec::new(), members: members(&state) }
    }

    /// Lets a device in by its code.
    ///
    /// # Errors
    /// `not-joined` where the code is wrong, old or used, or where somebody guessed too often.
    pub(crate) fn join(&self, ask: &CrewJoin) -> Result<(Member, String), Refusal> {
        let name = name(&ask.name)?;
        let mut state = self.state();
        if state.book.members.len() >= self.limits.members {
            return Err(Refusal::new(Kind::Full, "So many devices have joined already. Turn one away at home."));
        }
        let open = state.open.as_mut().ok_or_else(|| not_joined(CLOSED))?;
        let role = open.try_code(&ask.code);
        drop(state);
        // Whether right or wrong, the sign at home shows it.
        let joined = role.and_then(|role| self.state().book.let_in(&name, role, self.now()));
        self.tell();
        joined
    }

    /// The member that shows this key.
    pub(crate) fn who(&self, shown: &str) -> Option<Member> {
        self.state().book.who(shown).cloned()
    }

    /// Whether a device is let in still.
    pub(crate) fn lets_in(&self, id: &str) -> bool {
        id.is_empty() || self.state().book.members.iter().any(|member| member.id == id)
    }

    /// Whether one more request of this name is in order.
    pub(crate) fn allows(&self, name: &str) -> bool {
        self.state().rate.allows(name, &self.limits)
    }

    /// Says what a device looks at; the empty name is the home device.
    pub(crate) fn looks_at(&self, id: &str, at: CrewHere) {
        let mut state = self.state();
        let here = state.here.entry(id.to_string()).or_default();
        let news = here.at.as_ref() != Some(&at);
        here.at = Some(at);
        drop(state);
        if news {
            self.tell();
        }
    }

    /// One more screen of a device is on, until what is answered is dropped.
    pub(crate) fn screen_on(self: &Arc<Self>, id: &str) -> Screen {
        self.state().here.entry(id.to_string()).or_default().screens += 1;
        self.tell();
        Screen { crew: Arc::clone(self), id: id.to_string() }
    }

    /// Every change from now on.
    pub(crate) fn heard(&self) -> broadcast::Receiver<String> {
        self.changes.subscribe()
    }

    pub(crate) fn limits(&self) -> &Limits {
        &self.limits
    }

    fn change(&self, ask: &CrewChange) -> Result<(), Refusal> {
        if ask.role == CrewRole::Home {
            return Err(Refusal::out_of_range("role", "read or write: the home device stays where it is"));
        }
        let mut state = self.state();
        let member = state.book.members.iter_mut().find(|member| member.id == ask.member);
        member.ok_or_else(|| Refusal::not_found("device", &ask.member).field("member"))?.role = ask.role;
        state.book.keep()
    }

    fn revoke(&self, ask: &CrewRevoke) -> Result<(), Refusal> {
        let mut state = self.state();
        let before = state.book.members.len();
        state.book.members.retain(|member| member.id != ask.member);
        if state.book.members.len() == before {
            return Err(Refusal::not_found("device", &ask.member).field("member"));
        }
        state.here.remove(&ask.member);
        state.book.keep()
    }

    /// A new code in the place of the old one, seen on every screen.
    ///
    /// # Errors
    /// `not-ready` where the rooms are not open.
    pub(crate) fn draw_anew(&self, role: CrewRole) -> Result<(), Refusal> {
        self.draw(&CrewDraw { role })?;
        self.tell();
        Ok(())
    }

    fn draw(&self, ask: &CrewDraw) -> Result<(), Refusal> {
        let code = Code::draw(ask.role, &self.limits).map_err(|error| failed("No code could be drawn", &error))?;
        let mut state = self.state();
        let open = state.open.as_mut();
        let open = open.ok_or_else(|| Refusal::new(Kind::NotReady, "Open the rooms first, then a device may join."))?;
        (open.code, open.guessed) = (Some(code), false);
        Ok(())
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn now(&self) -> String {
        self.app.upgrade().map(|app| app.now()).unwrap_or_default()
    }

    fn tell(&self) {
        if let Some(app) = self.app.upgrade() {
            app.tell_of_crew();
        }
    }
}

impl Open {
    fn shown(&self) -> CrewDoor {
        let fingerprint = self.door.fingerprint.clone();
        let addresses = self.door.addresses();
        let code = self.code.as_ref().filter(|code| !code.is_over()).map(|code| code.shown(&addresses, &fingerprint));
        CrewDoor { until: self.until.clone(), addresses, fingerprint, code, guessed: self.guessed }
    }

    /// A right code is used up; after the last wrong one, none is right any more.
    fn try_code(&mut self, given: &str) -> Result<CrewRole, Refusal> {
        let code = self.code.as_mut().ok_or_else(|| not_joined(if self.guessed { SHUT } else { USED }))?;
        match code.try_it(given) {
            Tried::Right => Ok(self.code.take().map_or(CrewRole::Read, |code| code.role)),
            Tried::Wrong => Err(not_joined("That is not the code. Look at it once more at home.")),
            Tried::Expired => Err(not_joined(USED)),
            Tried::Shut => {
                (self.code, self.guessed) = (None, true);
                Err(not_joined(SHUT))
            }
        }
    }
}

const CLOSED: &str = "The rooms are not open. Open them at home.";
const USED: &str = "This code was used, or is too old. Ask at home for a new one.";
const SHUT: &str = "Too many wrong codes were tried. Ask at home for a new one.";

pub(crate) fn not_joined(message: &str) -> Refusal {
    Refusal::new(Kind::NotJoined, message)
}

/// One screen that is on.
pub(crate) struct Screen {
    crew: Arc<Crew>,
    id: String,
}

impl Drop for Screen {
    fn drop(&mut self) {
        let mut state = self.crew.state();
        if let Some(here) = state.here.get_mut(&self.id) {
            here.screens = here.screens.saturating_sub(1);
            if here.screens == 0 {
                here.at = None;
            }
        }
        drop(state);
        self.crew.tell();
    }
}

/// The crew as the app holds it.
struct Lent(Arc<Crew>);

impl app::Crew for Lent {
    fn order(&self, order: CrewOrder) -> Result<CrewView, Refusal> {
        let Self(crew) = self;
        let tells = !matches!(order, CrewOrder::Look | CrewOrder::Here(_));
        match order {
            CrewOrder::Look => {}
            CrewOrder::Open(ask) => crew.open(&ask, None)?,
            CrewOrder::Close => crew.close(),
            CrewOrder::Draw(ask) => crew.draw(&ask)?,
            CrewOrder::Change(ask) => crew.change(&ask)?,
            CrewOrder::Revoke(ask) => crew.revoke(&ask)?,
            CrewOrder::Here(at) => crew.looks_at("", at),
        }
        if tells {
            crew.tell();
        }
        Ok(crew.view())
    }
}

fn members(state: &State) -> Vec<CrewMember> {
    let here = |id: &str| state.here.get(id).filter(|here| here.screens > 0);
    let at = |id: &str| here(id).and_then(|here| here.at.clone());
    let home = CrewMember {
        id: String::new(),
        name: String::new(),
        role: CrewRole::Home,
        since: String::new(),
        here: true,
        at: state.here.get("").and_then(|here| here.at.clone()),
    };
    let others = state.book.members.iter().map(|member| CrewMember {
        id: member.id.clone(),
        name: member.name.clone(),
        role: member.role,
        since: member.since.clone(),
        here: here(&member.id).is_some(),
        at: at(&member.id),
    });
    std::iter::once(home).chain(others).collect()
}

/// A name as it stands beside readings: one line, forty letters at most.
fn name(text: &str) -> Result<String, Refusal> {
    let name = text.trim();
    let fits = (1..=40).contains(&name.chars().count()) && !name.chars().any(char::is_control);
    match fits {
        true => Ok(name.to_string()),
        false => Err(Refusal::out_of_range("name", "what you are called, in 1 to 40 letters on one line")),
    }
}

fn addresses(asked: &[String]) -> Result<Vec<IpAddr>, Refusal> {
    let ours = |text: &String| text.parse().ok().filter(|address| places::is_ours(*address));
    let found: Option<Vec<IpAddr>> = asked.iter().map(ours).collect();
    let found = found.filter(|found| !found.is_empty());
    found.ok_or_else(|| Refusal::out_of_range("at", "one or more of this machine's own addresses"))
}

/// The time after so long, RFC 3339 with its offset.
fn later(after: Duration) -> String {
    let seconds = i64::try_from(after.as_secs()).unwrap_or(0);
    let now = jiff::ZonedDateTime::now();
    let then = now.checked_add(jiff::SignedDuration::from_secs(seconds)).unwrap_or(now);
    then.strftime("%Y-%m-%dT%H:%M:%S%:z").to_string()
}
