//! A target tried with many inputs: none may panic, last, or fill the memory.

use crate::HEAP;
use crate::bend::{Bend, bend};
use crate::said::Heard;
use data_encoding::HEXLOWER;
use proptest::prelude::*;
use proptest::sample::Index;
use proptest::test_runner::{Config, RngSeed, TestCaseError, TestError, TestRunner};
use sha2::{Digest, Sha256};
use site_tests::top;
use std::cell::Cell;
use std::collections::HashSet;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::sync::Once;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;
use std::time::{Duration, Instant};

/// An answer that has not come after so many seconds does not come.
const PATIENCE: u32 = 60;

/// The most bytes the whole test may hold while inputs of at most 256 KiB are tried.
const MOST_HELD: usize = 1 << 30;

/// So many inputs are tried before those that were answered in a new way become seeds themselves.
const ROUND: u32 = 128;

/// The most seeds that are kept.
const MOST_SEEDS: usize = 400;

/// How a target answers an input; panics where what must hold does not.
pub(crate) type Check = Box<dyn Fn(&[u8]) -> Heard + Send>;

/// Tries a target: with every seed, which must be read; with what broke it once; with so many bent inputs, or in the
/// long form for as long as is said.
pub(crate) fn run(name: &'static str, cases: u32, seeds: Vec<Vec<u8>>, check: Check) {
    let target = Target::of(name, check);
    let mut trial = Trial { name, good: seeds, odd: Vec::new(), known: HashSet::new(), target, tried: 0, read: 0 };
    for seed in trial.good.clone() {
        let heard = trial.target.answer(&seed).unwrap_or_else(|why| panic!("{name}, a seed: {why}"));
        assert!(matches!(heard, Heard::Read(_)), "{name}: a seed is not read: {heard:?}");
    }
    for (path, bytes) in found(name) {
        trial.target.answer(&bytes).unwrap_or_else(|why| panic!("{}: {why}", path.display()));
    }
    let start = Instant::now();
    match long_form() {
        Some(time) => {
            while start.elapsed() < time {
                trial.round(ROUND, None);
            }
        }
        // The same ones each time.
        None => (0..cases.div_ceil(ROUND)).for_each(|k| trial.round(ROUND.min(cases), Some(u64::from(k)))),
    }
    let (Trial { tried, read, good, odd, .. }, seconds) = (trial, start.elapsed().as_secs());
    println!(
        "{name}: {tried} inputs in {seconds} s, {read} read; {} seeds were read, {} refused",
        good.len(),
        odd.len()
    );
}

/// How long each target is tried in the long form.
fn long_form() -> Option<Duration> {
    std::env::var_os("TRUEFALL_LONG")?;
    let minutes = std::env::var("TRUEFALL_FUZZ_MINUTES").ok().and_then(|text| text.parse().ok()).unwrap_or(10.0);
    Some(Duration::from_secs_f64(60.0 * minutes))
}

struct Trial {
    name: &'static str,
    /// Seeds that are read.
    good: Vec<Vec<u8>>,
    /// Seeds that are refused, each for another reason.
    odd: Vec<Vec<u8>>,
    /// How the target has answered so far.
    known: HashSet<Heard>,
    target: Target,
    tried: usize,
    read: usize,
}

/// What an input is made from.
#[derive(Debug, Clone)]
enum From {
    Good(Index),
    Odd(Index),
    Bytes(Vec<u8>),
}

/// One input as it is drawn.
type Drawn = (From, Vec<Bend>);

fn drawn() -> impl Strategy<Value = Drawn> {
    let bytes = prop::collection::vec(any::<u8>(), 0..200);
    let from = prop_oneof![
        14 => any::<Index>().prop_map(From::Good),
        5 => any::<Index>().prop_map(From::Odd),
        1 => bytes.prop_map(From::Bytes),
    ];
    (from, prop_oneof![prop::collection::vec(bend(), 1..3), prop::collection::vec(bend(), 1..6)])
}

impl Trial {
    /// Tries so many inputs; the smallest that breaks the target is kept and told.
    fn round(&mut self, cases: u32, draw: Option<u64>) {
        let rng_seed = draw.map_or(RngSeed::Random, RngSeed::Fixed);
        let config = Config { cases, rng_seed, failure_persistence: None, max_shrink_iters: 1000, ..Config::default() };
        let new = std::cell::RefCell::new(Vec::new());
        let outcome = TestRunner::new(config).run(&drawn(), |drawn| {
            let bytes = self.bent(&drawn);
            let heard = self.target.answer(&bytes).map_err(TestCaseError::fail)?;
            new.borrow_mut().push((heard, bytes));
            Ok(())
        });
        match outcome {
            Ok(()) => new.into_inner().into_iter().for_each(|(heard, bytes)| self.learn(heard, bytes)),
            Err(TestError::Fail(why, drawn)) => self.broken(&why.to_string(), &self.bent(&drawn)),
            Err(TestError::Abort(why)) => panic!("{}: {why}", self.name),
        }
    }

    fn bent(&self, (from, bends): &Drawn) -> Vec<u8> {
        let start = match from {
            From::Odd(which) if !self.odd.is_empty() => which.get(&self.odd).clone(),
            From::Good(which) | From::Odd(which) => which.get(&self.good).clone(),
            From::Bytes(bytes) => bytes.clone(),
        };
        bends.iter().fold(start, |bytes, bend| bend.apply(bytes, &self.good))
    }

    /// What was answered in a new way leads on.
    fn learn(&mut self, heard: Heard, bytes: Vec<u8>) {
        self.tried += 1;
        let seeds = match heard {
            Heard::Read(_) => &mut self.good,
            Heard::Refused(_) => &mut self.odd,
        };
        self.read += usize::from(matches!(heard, Heard::Read(_)));
        if seeds.len() < MOST_SEEDS && self.known.insert(heard) {
            seeds.push(bytes);
        }
    }

    fn broken(&self, why: &str, bytes: &[u8]) -> ! {
        panic!("{}: {why}\nkept as {}", self.name, keep(self.name, bytes).display());
    }
}

/// Where what broke a target lies.
fn shelf(name: &str) -> PathBuf {
    top().join("tests/tests/fuzz/found").join(name)
}

fn found(name: &str) -> Vec<(PathBuf, Vec<u8>)> {
    let entries = std::fs::read_dir(shelf(name)).into_iter().flatten().flatten();
    entries.map(|entry| entry.path()).map(|path| (path.clone(), std::fs::read(&path).expect("it is there"))).collect()
}

/// Keeps an input that broke the target, so that it is tried from now on.
fn keep(name: &str, bytes: &[u8]) -> PathBuf {
    let path = shelf(name).join(HEXLOWER.encode(&Sha256::digest(bytes)[..6]));
    std::fs::create_dir_all(shelf(name)).and_then(|()| std::fs::write(&path, bytes)).expect("it can be kept");
    path
}

/// A target on a thread of its own, so that one that never answers is seen, and one that goes too deep meets the end
/// of the same stack as in the host.
struct Target {
    name: &'static str,
    ask: Sender<Vec<u8>>,
    answers: Receiver<Result<Heard, String>>,
}

impl Target {
    fn of(name: &'static str, check: Check) -> Self {
        hear_panics();
        let ((ask, asked), (answer, answers)) = (channel::<Vec<u8>>(), channel());
        let work = move || {
            PANIC.set(Some(String::new()));
            for bytes in asked {
                if answer.send(tried(&check, &bytes)).is_err() {
                    break;
                }
            }
        };
        thread::Builder::new().name(name.into()).spawn(work).expect("a thread");
        Self { name, ask, answers }
    }

    /// How the target answers; an error where it broke.
    fn answer(&self, bytes: &[u8]) -> Result<Heard, String> {
        // An abort takes the test with it: what was asked last is left where it can be found.
        let last = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(format!("fuzz-{}", self.name));
        std::fs::write(&last, bytes).expect("a place for the last input");
        self.ask.send(bytes.to_vec()).expect("the target listens");
        for _ in 0..PATIENCE {
            match self.answers.recv_timeout(Duration::from_secs(1)) {
                Ok(answer) => return answer,
                // What fills the memory is ended before it takes the machine with it, and every other target too.
                Err(_) if HEAP.current_usage() > 2 * MOST_HELD => {
                    println!("{}: the memory fills; kept as {}", self.name, keep(self.name, bytes).display());
                    std::process::exit(101);
                }
                Err(_) => {}
            }
        }
        Err(format!("no answer within {PATIENCE} s"))
    }
}

/// How the target answers. Other targets may be tried at the same time: too much is held if it is so a second time.
fn tried(check: &Check, bytes: &[u8]) -> Result<Heard, String> {
    let (heard, held) = weighed(check, bytes);
    let again = || weighed(check, bytes).1.min(held);
    match (held > MOST_HELD).then(again).filter(|held| *held > MOST_HELD) {
        Some(held) => Err(format!("{held} bytes were held at once")),
        None => heard,
    }
}

/// The same with the most bytes that all targets held meanwhile.
fn weighed(check: &Check, bytes: &[u8]) -> (Result<Heard, String>, usize) {
    HEAP.reset_peak_usage();
    let heard = catch_unwind(AssertUnwindSafe(|| check(bytes))).map_err(|_| PANIC.take().unwrap_or_default());
    PANIC.set(Some(String::new()));
    (heard, HEAP.peak_usage())
}

thread_local! {
    /// On the thread of a target: what was panicked last. Elsewhere nothing, and panics are printed as usual.
    static PANIC: Cell<Option<String>> = const { Cell::new(None) };
}

/// Panics of targets are told with the input that led to them, and not printed by the hundred.
fn hear_panics() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        let usual = std::panic::take_hook();
        std::panic::set_hook(Box::new(move |panic| match PANIC.take() {
            Some(_) => PANIC.set(Some(panic.to_string())),
            None => usual(panic),
        }));
    });
}
