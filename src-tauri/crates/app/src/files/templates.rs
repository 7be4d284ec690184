//! The strips of a cut list at full size, to print and lay on the wood.

use crate::app::App;
use crate::files::file_name::file_name;
use crate::files::record::moment;
use crate::forms::*;
use data_encoding::BASE64;
use judge::framing::alternatives::height;
use judge::framing::cutting::{barred, is_ripped, named};
use judge::words::{self, Say};
use judge::{Kind, Refusal};
use report::model::{FullSize, FullSizeStop, FullSizeStrip, Paper};
use survey::units::Length;

impl App {
    /// The strips of a room's cut list at full size as a PDF.
    ///
    /// # Errors
    /// `not-found` for an unknown room, `not-ready` where no height was chosen or nothing is ripped.
    pub fn templates(&self, room: &str, alternative: Option<&str>) -> Result<FileBytes, Refusal> {
        let file = self.room_state(room)?;
        let set = full_size(&file, alternative, &self.now())?;
        let pdf = report::full_size(&set)
            .map_err(|error| Refusal::new(Kind::Internal, format!("The strips could not be set: {error}.")))?;
        let name = format!("{}-strips.pdf", file_name(&file.room.name));
        Ok(FileBytes { name, mime: "application/pdf".to_string(), base64: BASE64.encode(&pdf) })
    }
}

fn full_size(file: &RoomFile, alternative: Option<&str>, now: &str) -> Result<FullSize, Refusal> {
    let view = height(file, None)?;
    let chosen = named(&view, alternative)?;
    let say = Say::new(file.room.units);
    let ripped = chosen.joists.iter().filter(|work| is_ripped(work) && !barred(chosen, work));
    let strips: Vec<FullSizeStrip> = ripped.flat_map(|work| of_joist(work, say)).collect();
    if strips.is_empty() {
        let message = "Nothing is ripped at this height, so there is nothing to print.";
        return Err(Refusal::new(Kind::NotReady, message));
    }
    check_fits_paper(&strips)?;
    Ok(FullSize {
        paper: if file.room.units == Units::In { Paper::Letter } else { Paper::A4 },
        room: file.room.name.clone(),
        height: words::alternative(chosen, say),
        date: moment(now)?,
        notes: notes(),
        strips,
    })
}

/// The most that is printed of all strips together, mm, and the thickest: beyond any room (ours).
const MOST_PRINTED: (f64, f64) = (500_000.0, 400.0);

/// A point that was typed far off would be pages without end.
fn check_fits_paper(strips: &[FullSizeStrip]) -> Result<(), Refusal> {
    let reach = |strip: &FullSizeStrip, of: fn(&FullSizeStop) -> Length| {
        strip.stops.iter().map(|stop| of(stop).to_mm()).fold(0.0, f64::max)
    };
    let long: f64 = strips.iter().map(|strip| reach(strip, |stop| stop.along)).sum();
    let thick = strips.iter().map(|strip| reach(strip, |stop| stop.thick)).fold(0.0, f64::max);
    if long <= MOST_PRINTED.0 && thick <= MOST_PRINTED.1 {
        return Ok(());
    }
    let message = format!(
        "The strips are {:.0} m long in all and up to {thick:.0} mm thick, which is too much to print. A point or a reading is far off: see to it.",
        long / 1000.0
    );
    Err(Refusal::new(Kind::OutOfRange, message).field("plan.points"))
}

fn notes() -> Vec<String> {
    [
        "Print at 100 %, not fitted to the page. Measure both rulers before anything is cut: if they are off, so is all.",
        "The lower line lies on the joist as found. The dashed ends meet: lay the pages on, stretch by stretch.",
        "After a sister or a dressing, read the top again and print again before ripping.",
    ]
    .map(str::to_string)
    .to_vec()
}

fn of_joist(work: &JoistWork, say: Say) -> Vec<FullSizeStrip> {
    let all = work.strips.len();
    let name = |at: usize| match all {
        1 => format!("{}, one strip", work.id),
        _ => format!("{}, strip {} of {all}", work.id, at + 1),
    };
    let stop = |from: f64, figure: &Figure| FullSizeStop {
        along: Length::mm(figure.station - from),
        thick: Length::mm(figure.thickness),
        figure: say.bare(figure.thickness),
        station: say.bare(figure.station),
    };
    let strip = |(at, strip): (usize, &StripView)| FullSizeStrip {
        name: name(at),
        stops: strip.figures.iter().map(|figure| stop(strip.from, figure)).collect(),
    };
    work.strips.iter().enumerate().map(strip).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_strip_of_the_hall_bath_is_set_at_full_size() {
        let file = judge::demo("kestrel").expect("the demo room");
        let set = full_size(&file, None, "2026-03-02T08:15:00+00:00").expect("strips");
        let names: Vec<&str> = set.strips.iter().map(|strip| strip.name.as_str()).collect();
        assert_eq!(names.iter().filter(|name| name.starts_with("J4, strip")).count(), 2, "{names:?}");
        assert!(!names.iter().any(|name| name.starts_with("J6")), "a sister is no strip");
        let thick: Vec<&str> = set.strips[0].stops.iter().map(|stop| stop.figure.as_str()).collect();
        assert_eq!(thick.first(), Some(&"1/4"), "{thick:?}");
        assert!(report::full_size(&set).is_ok());
    }
}
