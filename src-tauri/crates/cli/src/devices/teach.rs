//! Teaching an instrument at the terminal: play, three readings or four, and one told before it is looked at.

use super::radio::{radio, unfit};
use crate::arguments::Teach;
use app::bluetooth::teach::{Display, DisplayUnit, Ear, Next, Overheard, Sample, Shown, Teaching};
use app::{Kind, Learned, Refusal};
use std::io::BufRead;
use std::path::Path;
use std::process::ExitCode;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::task::{Context, Poll, Wake, Waker};
use std::thread::Thread;
use std::time::Instant;

/// The instrument and the terminal, listened to by one thread.
struct Lesson {
    ear: Ear,
    lines: Receiver<String>,
    started: Instant,
    free: Vec<Sample>,
    latest: Option<Sample>,
}

struct Unpark(Thread);

impl Wake for Unpark {
    fn wake(self: Arc<Self>) {
        self.0.unpark();
    }
}

pub(super) fn teach(home: &Path, words: &Teach) -> Result<ExitCode, Refusal> {
    let unit = match words.shows.as_str() {
        "cm" => DisplayUnit::Cm,
        "mm" => DisplayUnit::Mm,
        "in" => DisplayUnit::In,
        "deg" => DisplayUnit::Deg,
        _ => DisplayUnit::M,
    };
    if !(words.accuracy.is_finite() && words.accuracy > 0.0) {
        return Err(Refusal::out_of_range("accuracy", "what its sheet states, more than nothing"));
    }
    let ear = Ear::new(radio(&words.device), words.device.as_str().into());
    let mut lesson = Lesson { ear, lines: terminal(), started: Instant::now(), free: Vec::new(), latest: None };
    println!("Play with the instrument: a dozen readings, short and long. Then press Enter.");
    lesson.line()?;
    let mut teaching = Teaching::new(Display { unit, decimals: words.decimals }, std::mem::take(&mut lesson.free));
    lesson.examples(&mut teaching)?;
    lesson.check(&teaching, words)?;
    keep(home, &teaching, words)
}

/// The lines of standard input.
fn terminal() -> Receiver<String> {
    let (thread, (tell, lines)) = (std::thread::current(), channel());
    std::thread::spawn(move || {
        for line in std::io::stdin().lock().lines().map_while(Result::ok) {
            if tell.send(line).is_err() {
                break;
            }
            thread.unpark();
        }
        drop(tell);
        thread.unpark();
    });
    lines
}

impl Lesson {
    /// The next line of the terminal; what the instrument sends meanwhile is heard.
    fn line(&mut self) -> Result<String, Refusal> {
        let waker = Waker::from(Arc::new(Unpark(std::thread::current())));
        let mut context = Context::from_waker(&waker);
        loop {
            while let Poll::Ready(heard) = self.ear.poll(self.started.elapsed(), &mut context) {
                self.hear(heard)?;
            }
            match self.lines.try_recv() {
                Ok(line) => return Ok(line.trim().to_string()),
                Err(TryRecvError::Disconnected) => return Err(ended()),
                Err(TryRecvError::Empty) => {}
            }
            match self.ear.due() {
                Some(due) => std::thread::park_timeout((self.started + due).saturating_duration_since(Instant::now())),
                None => std::thread::park(),
            }
        }
    }

    fn hear(&mut self, heard: Overheard) -> Result<(), Refusal> {
        match heard {
            Overheard::Adapter(adapter) => unfit(adapter)?,
            Overheard::Listening(0) => {
                return Err(Refusal::new(Kind::NotReady, "The instrument sends nothing by itself. Type its readings."));
            }
            Overheard::Listening(_) => println!("Connected, listening."),
            Overheard::Sample(sample) => {
                println!("heard");
                self.free.push(sample.clone());
                self.latest = Some(sample);
            }
            Overheard::Lost(trouble) => println!("The link is lost ({}); it is tried again.", trouble.name()),
        }
        Ok(())
    }

    /// Typed readings until one way is left.
    fn examples(&mut self, teaching: &mut Teaching) -> Result<(), Refusal> {
        loop {
            match teaching.next() {
                Next::Check => return Ok(()),
                Next::NothingFits => return Err(nothing_fits()),
                Next::Show => {}
            }
            println!("Take a reading unlike those before, and type what the display shows.");
            let typed = self.line()?;
            let Ok(shown) = typed.replace(',', ".").parse::<f64>() else {
                println!("{typed:?} is no number.");
                continue;
            };
            match teaching.show(self.latest.take().unwrap_or_default(), shown) {
                Shown::Taken => println!("{} ways are left.", teaching.ways()),
                Shown::TooAlike => println!("That is too much like one before. Another place."),
                Shown::NothingSent => {
                    println!("Nothing was sent since the last one. Press the instrument's button first.")
                }
            }
        }
    }

    /// One more reading is told before the display is looked at.
    fn check(&mut self, teaching: &Teaching, words: &Teach) -> Result<(), Refusal> {
        println!("Take one more reading, do not look at the display yet, and press Enter.");
        self.line()?;
        let guess = self.latest.take().and_then(|sample| teaching.guess(&sample)).ok_or_else(nothing_fits)?;
        println!("I read {guess:.*} {}: is that what it shows? (yes or no)", usize::from(words.decimals), words.shows);
        if self.line()?.eq_ignore_ascii_case("yes") { Ok(()) } else { Err(nothing_fits()) }
    }
}

fn keep(home: &Path, teaching: &Teaching, words: &Teach) -> Result<ExitCode, Refusal> {
    let learned = Learned::new(teaching, &words.name, words.accuracy).ok_or_else(nothing_fits)?;
    let file = learned.keep(home)?;
    let what = if learned.tilts { "tilts" } else { "distances" };
    println!("Learned. Its {what} are read by {} from now on.", file.display());
    Ok(ExitCode::SUCCESS)
}

fn nothing_fits() -> Refusal {
    let message = "No way of reading what it sends gives what was typed. Type its readings, or use it as a keyboard.";
    Refusal::new(Kind::NotUnderstood, message)
}

fn ended() -> Refusal {
    Refusal::new(Kind::NotUnderstood, "The input ended before the instrument was learned. Nothing was kept.")
}
