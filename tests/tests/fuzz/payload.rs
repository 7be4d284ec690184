//! What instruments send: whole payloads in every form, and lines cut anywhere.

use crate::said::Heard;
use crate::trial;
use bluetooth::decode::{
    Encoding, Field, FixedPoint, Kind, Lines, MAX_LINE, Message, Scale, TextLine, TextNumber, described, sentence,
};
use bluetooth::profile::Form;
use bluetooth::reading::NotAReading;
use std::time::Duration;

const MESSAGES: [&[u8]; 12] = [
    &[0x00, 0x61, 0xBC, 0x00],
    &[0x10, 0xFC, 0x01, 0x27, 0x01, 0, 0],
    &[0x39, 0x30, 0x00, 0x00, 0x12, 0x99],
    &[0xFF; 8],
    &[0x00, 0x00, 0xC0, 0x3F, 0xA5],
    b"1.234 m",
    b"-0,25\xc2\xb0",
    b"44.125 in",
    b"$YXXDR,D,1.234,M,LASER*25",
    b"X=+0.10;Y=-1.25",
    b"12345678901234567890",
    b"1e308 mm",
];

/// Every form in which a message can be read.
fn forms() -> Vec<Form> {
    let scales = [(1.0, 0.0), (-0.001, 25.4), (1e308, 0.0), (1e-320, -1e300)];
    let scale = |k: usize, kind| Scale { kind, factor: scales[k].0, offset: scales[k].1 };
    let of_number = |k: usize, kind| {
        let fields = Encoding::ALL.into_iter().flat_map(move |encoding| {
            [(0, false, None), (1, true, Some(6)), (usize::MAX, false, None), (3, true, Some(0))].map(
                |(at, big_endian, length)| Field {
                    at,
                    big_endian,
                    length,
                    sum8: at == 1,
                    counter_at: (at == 3).then_some(usize::MAX),
                    not_known: (at == 0).then_some(u32::MAX),
                    ..Field::new(encoding, scale(k, kind))
                },
            )
        });
        let texts = [(0, false), (2, true), (usize::MAX, false)].map(|(nth, decimal_comma)| Form::Number {
            of: TextNumber { nth, decimal_comma, scale: scale(k, kind) },
            lines: false,
        });
        fields.map(Form::Field).chain(texts)
    };
    let whole =
        [FixedPoint::LENGTH, FixedPoint::LINEAR_POSITION, FixedPoint::PRACTICE_LENGTH, FixedPoint::PRACTICE_TILT];
    let lines = [(false, false), (false, true), (true, false), (true, true)]
        .map(|(summed, decimal_comma)| Form::Lines(TextLine { summed, decimal_comma }));
    let numbers = (0..scales.len())
        .flat_map(|k| [Kind::Length, Kind::Angle].into_iter().flat_map(move |kind| of_number(k, kind)));
    whole.map(Form::Whole).into_iter().chain(lines).chain(numbers).chain([Form::Serial, Form::Described]).collect()
}

/// A message is a finite number; why it is none is said in a word.
fn sound(heard: &Result<Message, NotAReading>) -> bool {
    if let Ok(message) = heard {
        assert!(message.value.number().is_finite(), "{message:?}");
    }
    heard.is_ok()
}

#[test]
fn payload_decoder() {
    let forms = forms();
    let check = move |bytes: &[u8]| {
        let read: Vec<usize> =
            forms.iter().enumerate().filter(|(_, form)| sound(&form.decode(bytes))).map(|(k, _)| k).collect();
        sound(&sentence(bytes));
        let by_itself = bytes.get(..7).and_then(described).map(|field| sound(&field.decode(&bytes[7..])));
        Heard::Read(format!("{read:?} {by_itself:?}").chars().take(200).collect())
    };
    let seeds = MESSAGES.iter().map(|bytes| bytes.to_vec());
    trial::run("payload", 1500, seeds.collect(), Box::new(check));
}

/// The bytes of a stream are pairs: how long a piece is, and the piece; so cuts are bent as the text is.
#[test]
fn line_framer() {
    let check = |bytes: &[u8]| {
        let pieces = pieces(bytes);
        let whole: Vec<u8> = pieces.concat();
        let late = Duration::from_secs(5);
        for summed in [false, true] {
            let (mut cut, mut uncut) = (Lines::new(summed), Lines::new(summed));
            let lines: Vec<Vec<u8>> = pieces.iter().flat_map(|piece| cut.take(piece, late)).collect();
            assert_eq!(lines, uncut.take(&whole, late), "however it is cut");
            for line in &lines {
                assert!(!line.is_empty() && line.len() <= MAX_LINE && !line.contains(&b'\n'));
                let forms = [Form::Serial, Form::Lines(TextLine { summed, decimal_comma: false })];
                assert!(forms.iter().filter(|form| sound(&form.decode(line))).count() <= forms.len());
            }
            lost_and_late(&pieces, summed);
        }
        Heard::Read(format!("{}", pieces.len().min(9)))
    };
    let seeds = [
        b"\x031.2\x0334 \x03m\r\n\x103.4 m\r\n\n44.1 in\r\n".to_vec(),
        b"\x20$YXXDR,D,1.234,M,LASER*25\r\n$YXXDR".to_vec(),
        [vec![200], vec![b'7'; 200], b"\x05\n1 m\n".to_vec()].concat(),
    ];
    trial::run("framer", 1500, seeds.to_vec(), Box::new(check));
}

fn pieces(mut bytes: &[u8]) -> Vec<&[u8]> {
    let mut all = Vec::new();
    while let Some((length, rest)) = bytes.split_first() {
        let (piece, after) = rest.split_at(usize::from(*length).min(rest.len()));
        all.push(piece);
        bytes = after;
    }
    all
}

/// With the link lost or a pause before every third piece, no line is made that was not sent in one go.
fn lost_and_late(pieces: &[&[u8]], summed: bool) {
    let (mut lines, mut now, mut unbroken) = (Lines::new(summed), Duration::ZERO, Vec::new());
    for (k, piece) in pieces.iter().enumerate() {
        match k % 6 {
            2 => lines.lose(now),
            5 => now += Duration::from_secs(2),
            _ => {}
        }
        if k % 3 == 2 {
            unbroken.clear();
        }
        unbroken.extend_from_slice(piece);
        for line in lines.take(piece, now) {
            assert!(unbroken.windows(line.len()).any(|part| part == line), "joined over a loss");
        }
    }
}
