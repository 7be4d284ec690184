//! The Kestrel Lane hall bath as a filled sheet: an invented room whose joists are out of plane.

mod floor;
mod framing;

use report::model::*;

pub(crate) fn sheet() -> Sheet {
    Sheet {
        paper: Paper::Letter,
        title: title(),
        evidence: Some(evidence()),
        finding: Some(finding()),
        verdicts: verdicts(),
        cautions: cautions(),
        tests: vec![],
        photographs: vec![],
        lists: vec![],
        signatures: vec![],
        not_looked_at: texts(&["rot and moisture under the tub", "bounce", "the underside of J6 by the door wall"]),
        map: Some(floor::map()),
        alternatives: Some(framing::alternatives()),
        cut_list: Some(framing::cut_list()),
        profiles: Some(floor::profiles()),
        readings: Some(floor::readings()),
        method: method(),
        attachments: attachments(),
    }
}

pub(crate) fn texts(all: &[&str]) -> Vec<String> {
    all.iter().map(|&text| text.to_owned()).collect()
}

fn title() -> TitleBlock {
    TitleBlock {
        kind: "Findings and cut list".into(),
        room: "Kestrel Lane hall bath".into(),
        place: Some("upper floor, an invented house".into()),
        date: Moment::new(2026, 3, 14, [14, 20, 0], -300).expect("a real day"),
        who: Some("R. Example".into()),
        instrument: Some("line laser and steel rule".into()),
    }
}

fn evidence() -> Evidence {
    let head = "5f2c9a0de1b47786a3c05d9e4b1f6270c8d3e5fa917b2c46d08e1f3a5b7c9d20".to_owned();
    Evidence { code: Some(format!("truefall 28 {head}")), head }
}

fn finding() -> Finding {
    Finding {
        mark: Mark::Out,
        sentence: "Out: two joists. The rest is one even slope, 3/8 in toward J7.".into(),
        todo: texts(&[
            "J4 crowns 7/16 in at 60. J6 is low by 9/16 in there and drops 1/2 in within 30 in of the door wall: \
             look underneath for a notch, split or cut before anything else.",
            "Hold 43-7/8 below the line: nothing is cut, J6 is sistered, six joists get strips.",
        ]),
    }
}

fn cautions() -> Vec<Caution> {
    vec![Caution {
        title: "Ask an engineer about J6.".into(),
        text: "It sags 17/32 in over the 90 in read, over the full span probably more; L/240 of the span is 9/16 in."
            .into(),
    }]
}

fn framing_target() -> Option<Clause> {
    Some(Clause {
        clause: "common practice, framing target".into(),
        edition: None,
        provenance: Some("editable in the room's rules".into()),
    })
}

fn verdict(mark: Mark, sentence: &str, figures: [&str; 3], clause: Option<Clause>) -> Verdict {
    let [value, limit, uncertainty] = figures.map(|f| (!f.is_empty()).then(|| f.to_owned()));
    Verdict { mark, sentence: sentence.into(), value, limit, uncertainty, clause, retake: None, note: None }
}

fn verdicts() -> Vec<Verdict> {
    let eighth = "at most 1/8 in in 8 ft";
    let across = "straightedge across at 60: a bar on J4 and J7 has its gap at J6.";
    let sag = "J6 sags over its own ends, 0 to 90.";
    let j2 = "J2 along, the longest bar that fits, 90 in.";
    vec![
        Verdict {
            note: Some("A perfect floor read this way would show up to 1/8 one time in twenty.".into()),
            ..verdict(Mark::Out, across, ["11/16 in", eighth, "±5/64 in, k = 2"], framing_target())
        },
        verdict(Mark::Out, sag, ["17/32 in", "at most L/360, 1/4 in over 90 in", "±5/64 in, k = 2"], framing_target()),
        Verdict {
            retake: Some("J2 at 0, 60 and 90".into()),
            ..verdict(Mark::TooClose, j2, ["1/8 in", eighth, "±5/64 in, k = 2"], framing_target())
        },
        verdict(
            Mark::Within,
            "J3 along, the longest bar that fits, 90 in.",
            ["0 in", eighth, "±5/64 in, k = 2"],
            framing_target(),
        ),
        verdict(
            Mark::Within,
            "the set-up closes on the benchmark at the door.",
            ["1/16 in", "at most 1/16 in", ""],
            None,
        ),
        verdict(
            Mark::NotTested,
            "a 2 ft bar: the readings stand 30 in apart.",
            ["", "at most 1/16 in in 2 ft", ""],
            None,
        ),
    ]
}

fn method() -> Vec<Method> {
    let line = |name: &str, text: &str| Method { name: name.into(), text: text.into() };
    vec![
        line(
            "straightedge",
            "A rigid bar rests on two supports of the surface; the gap is taken between them. The surface is straight \
             between neighbouring readings. Length 8 ft, or the longest that fits, which is said.",
        ),
        line("instrument", "Line laser, one set-up, read down from the line with a steel rule."),
        line("closing", "Benchmark at the door 44-1/4 at the start, 44-5/16 at the close: closes 1/16 in."),
        line("uncertainty", "±1/16 in a reading at k = 2, tape against a line, common practice."),
        line("decision rule", "Guarded: within at a probability of 0.95 or more, out at 0.05 or less, else too close."),
        line("slip", "J1 at 90 was first typed 43-1/8, an inch above its neighbours; asked and corrected."),
    ]
}

fn attachments() -> Vec<Attachment> {
    let one = |name: &str, mime: &str, bytes: &[u8], relationship, description: &str| Attachment {
        name: name.into(),
        mime: mime.into(),
        bytes: bytes.into(),
        relationship,
        description: description.into(),
    };
    vec![
        one(
            "kestrel.json",
            "application/json",
            br#"{"room":"Kestrel Lane hall bath"}"#,
            Relationship::Source,
            "The room.",
        ),
        one("readings.csv", "text/csv", b"joist,station,reading\nJ1,0,44-1/8\n", Relationship::Data, "The readings."),
    ]
}
