//! The one thread that owns the radios: it obeys, polls, says what changed, and rests until there is more.

use super::board::Board;
use super::lesson::Lesson;
use super::practice::{self, Practice};
use super::{Asked, Order, SharedClock};
use crate::forms::{DevicePlace, DeviceTaught, DeviceTeach, DeviceUse, DevicesView, Measures, TeachDeed};
use bluetooth::Moment;
use bluetooth::bridge::{Bridge, Told};
use bluetooth::profile::Shelf;
use bluetooth::radio::{InstrumentId, Radio};
use bluetooth::simulated::{LASER, LEVEL};
use judge::{Kind, Refusal};
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError};
use std::task::{Context, Poll, Wake, Waker};
use std::thread::Thread;
use std::time::Instant;

/// The owner of the practice radio and of this device's own.
pub(super) struct Actor {
    practice: Practice,
    played: Bridge,
    /// This device's own radio; not touched before somebody looks for instruments.
    air: Option<Bridge>,
    lesson: Option<Lesson>,
    folder: Option<PathBuf>,
    board: Board,
    publish: Box<dyn FnMut(DevicesView) + Send>,
    started: Instant,
}

/// Wakes the thread when a radio has something to tell.
struct Unpark(Thread);

impl Wake for Unpark {
    fn wake(self: Arc<Self>) {
        self.0.unpark();
    }
}

impl Actor {
    pub(super) fn new(
        clock: SharedClock,
        folder: Option<PathBuf>,
        publish: impl FnMut(DevicesView) + Send + 'static,
    ) -> Self {
        let practice = Practice::new(1);
        let played = Bridge::new(Box::new(practice.radio.clone()));
        let mut board = Board::new(clock);
        for id in [LASER, LEVEL] {
            let profile = practice::profile(id);
            let name = profile.as_ref().map(|profile| profile.name.clone()).unwrap_or_default();
            board.put(id, &name, true, profile);
        }
        let (publish, started) = (Box::new(publish), Instant::now());
        let mut actor = Self { practice, played, air: None, lesson: None, folder, board, publish, started };
        actor.say();
        actor
    }

    /// Works until nobody can give orders any more.
    pub(super) fn run(mut self, asked: &Receiver<Asked>) {
        let waker = Waker::from(Arc::new(Unpark(std::thread::current())));
        let mut context = Context::from_waker(&waker);
        loop {
            if !self.obey_all(asked) {
                return;
            }
            let now = self.started.elapsed();
            self.poll(now, &mut context);
            self.say();
            match self.due() {
                Some(due) => std::thread::park_timeout(due.saturating_sub(self.started.elapsed())),
                None => std::thread::park(),
            }
        }
    }

    /// Obeys every order that waits; whether more may come.
    fn obey_all(&mut self, asked: &Receiver<Asked>) -> bool {
        loop {
            match asked.try_recv() {
                Ok((order, back)) => {
                    let done = self.obey(order);
                    self.say();
                    // A screen that no longer waits has its answer in the view.
                    let _ = back.send(done);
                }
                Err(TryRecvError::Empty) => return true,
                Err(TryRecvError::Disconnected) => return false,
            }
        }
    }

    fn obey(&mut self, order: Order) -> Result<(), Refusal> {
        match order {
            Order::Look(on) => self.look(on),
            Order::SwitchOn => self.air().switch_on(),
            Order::Use(DeviceUse { device, on }) => return self.take_up(&device, on),
            Order::Measure(device) => return self.measure(&device),
            Order::Place(place) => self.place(place),
            Order::Practice(deed) => {
                let taught = self.lesson.as_mut().filter(|lesson| lesson.device() == deed.device);
                let own = taught.and_then(|lesson| lesson.practice.as_mut());
                return own.unwrap_or(&mut self.practice).act(&deed);
            }
            Order::Teach(about) => return self.teach(about),
            Order::Taught(said) => return self.taught(&said),
        }
        Ok(())
    }

    /// What was dealt with is taken first, so that it does not count as left over.
    fn place(&mut self, told: DevicePlace) {
        if let Some(id) = told.taken {
            self.board.taken(&id);
        }
        self.board.open(told.place, told.wants.unwrap_or(Measures::Length));
    }

    fn look(&mut self, on: bool) {
        self.board.looking = on;
        self.air().look(on);
    }

    /// This device's own radio, opened the first time it is asked for.
    fn air(&mut self) -> &mut Bridge {
        self.air.get_or_insert_with(|| Bridge::new(radio()))
    }

    fn bridge(&mut self, id: &str) -> &mut Bridge {
        if self.board.is_practice(id) { &mut self.played } else { self.air() }
    }

    fn take_up(&mut self, id: &str, on: bool) -> Result<(), Refusal> {
        let known = self.board.profile(id).ok_or_else(|| Refusal::not_found("instrument", id).field("device"))?;
        let profile = known.cloned().or_else(Shelf::open_standard);
        if on {
            let profile = profile.ok_or_else(|| Refusal::not_found("profile", id).field("device"))?;
            self.bridge(id).take_up(id.into(), profile);
        } else {
            self.bridge(id).put_away(&id.into());
        }
        self.board.in_use(id, on);
        Ok(())
    }

    fn measure(&mut self, id: &str) -> Result<(), Refusal> {
        let now = self.started.elapsed();
        if self.bridge(id).measure(&InstrumentId::from(id), now) {
            return Ok(());
        }
        Err(Refusal::new(Kind::NotReady, "The instrument cannot be asked now. Press its own button.").field("device"))
    }

    /// Listens to an instrument from now on to learn how it is read; it is put away meanwhile.
    fn teach(&mut self, about: DeviceTeach) -> Result<(), Refusal> {
        let device = about.device.clone();
        if self.board.profile(&device).is_none() {
            return Err(Refusal::not_found("instrument", &device).field("device"));
        }
        let lesson = Lesson::begin(about, radio)?;
        self.bridge(&device).put_away(&device.as_str().into());
        self.board.in_use(&device, false);
        self.lesson = Some(lesson);
        Ok(())
    }

    fn taught(&mut self, said: &DeviceTaught) -> Result<(), Refusal> {
        if said.deed == TeachDeed::Stop {
            self.lesson = None;
            return Ok(());
        }
        let Some(lesson) = &mut self.lesson else {
            return Err(Refusal::new(Kind::NotReady, "No instrument is being taught. Choose one first."));
        };
        let Some(learned) = lesson.go_on(said.deed, said.shown.as_deref())? else { return Ok(()) };
        // What is learned of a practice instrument was known before.
        if lesson.practice.is_none() {
            if let Some(folder) = &self.folder {
                learned.keep(folder)?;
            }
            let device = lesson.device().to_string();
            self.board.learned(&device, learned.profile);
        }
        Ok(())
    }

    fn view(&self) -> DevicesView {
        DevicesView { lesson: self.lesson.as_ref().map(Lesson::view), ..self.board.view() }
    }

    fn poll(&mut self, now: Moment, context: &mut Context<'_>) {
        if let Some(lesson) = &mut self.lesson {
            lesson.poll(now, context);
        }
        let Self { played, air, board, folder, .. } = self;
        for (bridge, own) in [(Some(played), false), (air.as_mut(), true)] {
            let Some(bridge) = bridge else { continue };
            while let Poll::Ready(told) = bridge.poll(now, context) {
                match told {
                    Told::Adapter(adapter) if own => board.radio(adapter),
                    Told::Adapter(_) => {}
                    Told::Found(found) => board.found(&found, |found| shelf(folder.as_ref()).find(found)),
                    Told::Instrument(id, heard) => board.hear(&id, heard),
                }
            }
        }
    }

    fn due(&self) -> Option<Moment> {
        [self.played.due(), self.air.as_ref().and_then(Bridge::due), self.lesson.as_ref().and_then(Lesson::due)]
            .into_iter()
            .flatten()
            .min()
    }

    fn say(&mut self) {
        let view = self.view();
        (self.publish)(view);
    }
}

/// The profiles that are built in and those kept beside the rooms.
fn shelf(folder: Option<&PathBuf>) -> Shelf {
    folder.map_or_else(Shelf::built_in, |folder| Shelf::with_folder(&folder.join("profiles")))
}

/// The radio of this device.
fn radio() -> Box<dyn Radio> {
    Box::new(bluetooth::real::RealRadio::new())
}
