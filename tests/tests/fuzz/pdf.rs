//! Records that come back: a PDF with files inside, or a ZIP of them.

use crate::room_file::journaled;
use crate::said::{Heard, refused, sentence};
use crate::trial;
use lopdf::{Document, Object, Stream, dictionary};
use site_tests::app;

/// A sheet with these files inside, pressed or not.
fn sheet(files: &[(&str, &[u8])], pressed: bool) -> Vec<u8> {
    let mut pdf = Document::with_version("1.7");
    let mut listed: Vec<Object> = Vec::new();
    for (name, bytes) in files {
        let mut stream = Stream::new(dictionary! { "Type" => "EmbeddedFile" }, bytes.to_vec());
        if pressed {
            stream.compress().expect("it is pressed");
        }
        let stream = pdf.add_object(stream);
        let name = Object::string_literal(*name);
        let held = dictionary! { "F" => stream };
        let about = dictionary! { "Type" => "Filespec", "F" => name.clone(), "UF" => name.clone(), "EF" => held };
        let about = pdf.add_object(about);
        listed.extend([name, about.into()]);
    }
    let names = dictionary! { "EmbeddedFiles" => dictionary! { "Names" => listed } };
    let pages = pdf.add_object(dictionary! { "Type" => "Pages", "Kids" => vec![], "Count" => 0 });
    let catalog = pdf.add_object(dictionary! { "Type" => "Catalog", "Pages" => pages, "Names" => names });
    pdf.trailer.set("Root", catalog);
    let mut bytes = Vec::new();
    let saved = if pressed { pdf.save_modern(&mut bytes) } else { pdf.save_to(&mut bytes) };
    saved.expect("memory");
    bytes
}

#[test]
fn pdf_reading() {
    let room = journaled();
    let files: [(&str, &[u8]); 2] = [("bath.room.json", &room), ("note.txt", b"wet")];
    let zip = {
        let app = app();
        let room = app.import_bytes("i", &room, None).expect("the room").room;
        app.everything_bytes(&app::forms::ExportAsk { room, black_out: false }).expect("a ZIP")
    };
    let check = |bytes: &[u8]| {
        if let Err(refusal) = app::verify(bytes) {
            refused(&refusal, bytes);
        }
        let app = app();
        match app.import_bytes("i", bytes, None) {
            Ok(imported) => {
                sentence(&app.room_state(&imported.room).expect("the room").room.name, bytes);
                Heard::Read(String::new())
            }
            Err(refusal) => refused(&refusal, bytes),
        }
    };
    let seeds = vec![sheet(&files[..1], false), sheet(&files, true), zip];
    println!("seeds of {:?} bytes", seeds.iter().map(Vec::len).collect::<Vec<_>>());
    trial::run("pdf", 300, seeds, Box::new(check));
}
