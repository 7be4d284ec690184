//! What a terminal is told of the crew: how the next device gets in, who came, and when the rooms are closed again.

use crate::Crew;
use crate::crew::{code, image};
use app::CREW;
use app::forms::{Changes, CrewDoor, CrewMember, CrewRole, CrewView};
use std::io::{BufRead, IsTerminal};
use std::sync::Arc;
use tokio::sync::broadcast::error::RecvError;

/// Says how to get in, and from then on what changes. Where a person sits at the terminal, *Enter* draws a new code.
pub(crate) fn attend(crew: &Arc<Crew>, view: CrewView) {
    let Some(open) = &view.open else { return };
    let sits = std::io::stdin().is_terminal() && std::io::stdout().is_terminal();
    opened(open).iter().for_each(|line| println!("{line}"));
    invite(open, sits);
    tokio::spawn(tell(Arc::clone(crew), view.clone(), sits));
    if sits {
        let role = open.code.as_ref().map_or(CrewRole::Read, |code| code.role);
        let crew = Arc::clone(crew);
        std::thread::spawn(move || draw_on_enter(&crew, role));
    }
}

fn draw_on_enter(crew: &Crew, role: CrewRole) {
    for _ in std::io::stdin().lock().lines().map_while(Result::ok) {
        match crew.draw_anew(role) {
            Ok(()) => {
                if let Some(open) = &crew.view().open {
                    invite(open, true);
                }
            }
            Err(refusal) => println!("{refusal}"),
        }
    }
}

async fn tell(crew: Arc<Crew>, mut before: CrewView, sits: bool) {
    let mut heard = crew.heard();
    loop {
        match heard.recv().await {
            Ok(change) if !is_of_crew(&change) => continue,
            Ok(_) | Err(RecvError::Lagged(_)) => {}
            Err(RecvError::Closed) => return,
        }
        let now = crew.view();
        news(&before, &now, sits).iter().for_each(|line| println!("{line}"));
        before = now;
    }
}

fn is_of_crew(change: &str) -> bool {
    serde_json::from_str::<Changes>(change).is_ok_and(|change| change.room == CREW)
}

/// Where the rooms are, until when, and what proves it.
fn opened(open: &CrewDoor) -> Vec<String> {
    let addresses = open.addresses.iter().map(|address| format!("  {address}"));
    let proof = open.fingerprint.to_uppercase();
    let pairs: Vec<&str> = (0..proof.len() / 2).map(|pair| &proof[2 * pair..2 * pair + 2]).collect();
    let pairs = pairs.chunks(16).map(|row| format!("    {}", row.join(":")));
    let first = format!("OPEN TO CREW until {}. Ctrl-C closes it.", clock(&open.until));
    std::iter::once(first).chain(addresses).chain(WARNING.map(str::to_string)).chain(pairs).collect()
}

const WARNING: [&str; 2] = [
    "  The other browser warns that it does not know this machine. Go on only where the SHA-256",
    "  that it shows of the certificate is this:",
];

/// The colours that a scanner wants, whatever those of the terminal are: ECMA-48, select graphic rendition.
const WHITE_ON_BLACK: &str = "\x1b[97;40m";
const AS_BEFORE: &str = "\x1b[0m";

/// How one more device gets in.
fn invite(open: &CrewDoor, sits: bool) {
    let Some(code) = &open.code else { return };
    let may = if code.role == CrewRole::Read { "look" } else { "write" };
    println!();
    if let Some(address) = open.addresses.first().filter(|_| sits) {
        let link = code::link(address, &code.code, &open.fingerprint);
        image::lines(&link).iter().for_each(|line| println!("  {WHITE_ON_BLACK}{line}{AS_BEFORE}"));
    }
    let (left, right) = code.code.split_at(code.code.len() / 2);
    println!("  code {left} {right}: lets one device in, to {may}, until {}", clock(&code.until));
    if sits {
        println!("  Enter draws a new code for the next device.");
    }
}

/// What is new since the last look, a line each.
fn news(before: &CrewView, now: &CrewView, sits: bool) -> Vec<String> {
    let known = |members: &[CrewMember], id: &str| members.iter().any(|member| member.id == id);
    let came = now.members.iter().filter(|member| !known(&before.members, &member.id));
    let next = if sits { " Enter draws a code for the next device." } else { "" };
    let came = came.map(|member| format!("{} has joined.{next}", member.name));
    let went = before.members.iter().filter(|member| !known(&now.members, &member.id));
    let went = went.map(|member| format!("{} was turned away.", member.name));
    let guessed = |view: &CrewView| view.open.as_ref().is_some_and(|open| open.guessed);
    let shut = (guessed(now) && !guessed(before))
        .then(|| format!("Wrong codes were tried, so nobody can join now. Look who is on this network.{next}"));
    let closed = (before.open.is_some() && now.open.is_none())
        .then(|| "CLOSED to the crew. The screens on this machine go on.".to_string());
    came.chain(went).chain(shut).chain(closed).collect()
}

/// A time of today as a clock shows it, with the day before it.
fn clock(time: &str) -> String {
    time.get(..16).map_or_else(|| time.to_string(), |text| text.replace('T', " "))
}
