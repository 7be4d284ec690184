//! A WebDriver client of the few calls these tests make, over plain HTTP on loopback.

use serde_json::{Value, json};
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{TcpListener, TcpStream};
use std::os::unix::process::CommandExt;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// How long anything may take to appear before the test gives up.
const PATIENCE: Duration = Duration::from_secs(60);

/// The window under a display and a message bus of its own; both end with this.
pub(crate) struct Window {
    port: u16,
    session: String,
    children: Child,
}

impl Window {
    /// Starts the program with its rooms in `home`, and waits for its page.
    pub(crate) fn open(program: &Path, home: &Path) -> Self {
        let port = free_port();
        let children = Command::new("dbus-run-session")
            .args(["--", "xvfb-run", "-a", "-s", "-screen 0 1200x900x24", "WebKitWebDriver"])
            .arg(format!("--port={port}"))
            .env("TRUEFALL_HOME", home)
            .env("TAURI_WEBVIEW_AUTOMATION", "true")
            .env("WEBKIT_DISABLE_DMABUF_RENDERER", "1")
            .env("NO_AT_BRIDGE", "1")
            .process_group(0)
            .stdin(Stdio::null())
            // What the desktop's own programs say about a display without a desktop is of no use here.
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("dbus-run-session, xvfb-run and WebKitWebDriver are installed");
        let mut window = Self { port, session: String::new(), children };
        until("the driver answers", || TcpStream::connect(("127.0.0.1", port)).ok());
        let wanted = json!({"capabilities": {"alwaysMatch": {"webkitgtk:browserOptions": {"binary": program}}}});
        let opened = window.call("POST", "/session", &wanted).expect("the window opens");
        window.session = opened["sessionId"].as_str().expect("a session has a name").to_owned();
        window
    }

    /// What a script in the page returns.
    pub(crate) fn script(&self, script: &str) -> Value {
        self.in_session("execute/sync", &json!({"script": script, "args": []})).expect("the script runs")
    }

    /// What a promise of the page comes to.
    pub(crate) fn promise(&self, promise: &str) -> Value {
        let script = format!("const done = arguments[0]; ({promise}).then(done, (e) => done({{refused: e}}))");
        self.in_session("execute/async", &json!({"script": script, "args": []})).expect("the promise is kept")
    }

    /// Taps a key of the pad once the glove's bounce is over.
    pub(crate) fn touch(&self, key: &str) {
        self.waits_for("[data-ready='true']");
        self.tap(key);
    }

    /// Taps the first element that matches, once it is there.
    pub(crate) fn tap(&self, selector: &str) {
        let element = self.waits_for(selector);
        self.in_session(&format!("element/{element}/click"), &json!({})).expect("the element is tapped");
    }

    /// The name of the first element that matches, once it is there.
    pub(crate) fn waits_for(&self, selector: &str) -> String {
        let wanted = json!({"using": "css selector", "value": selector});
        let found = until(selector, || self.in_session("element", &wanted).ok());
        let name = found.as_object().and_then(|element| element.values().next()).and_then(Value::as_str);
        name.expect("an element has a name").to_owned()
    }

    /// Waits until the page shows this text.
    pub(crate) fn shows(&self, text: &str) {
        until(text, || self.text().contains(text).then_some(()));
    }

    /// All text the page shows.
    pub(crate) fn text(&self) -> String {
        self.script("return document.body.innerText").as_str().unwrap_or_default().to_owned()
    }

    fn in_session(&self, call: &str, body: &Value) -> Result<Value, Value> {
        self.call("POST", &format!("/session/{}/{call}", self.session), body)
    }

    fn call(&self, method: &str, path: &str, body: &Value) -> Result<Value, Value> {
        let body = body.to_string();
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).expect("the driver listens");
        let head = format!("{method} {path} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nConnection: close", self.port);
        write!(stream, "{head}\r\nContent-Type: application/json\r\nContent-Length: {}\r\n\r\n{body}", body.len())
            .expect("the driver reads");
        let (status, answer) = answer(stream);
        let value = answer["value"].clone();
        if status == 200 { Ok(value) } else { Err(value) }
    }
}

impl Drop for Window {
    fn drop(&mut self) {
        if !self.session.is_empty() {
            let _ = self.call("DELETE", &format!("/session/{}", self.session), &json!({}));
        }
        let group = format!("-{}", self.children.id());
        let _ = Command::new("kill").args(["-TERM", "--", &group]).status();
        let _ = self.children.wait();
    }
}

fn answer(stream: TcpStream) -> (u16, Value) {
    let mut reader = BufReader::new(stream);
    let mut line = String::new();
    reader.read_line(&mut line).expect("the driver answers");
    let status = line.split(' ').nth(1).and_then(|code| code.parse().ok()).expect("an answer has a status");
    let mut length = 0;
    while line.trim() != "" {
        if let Some(value) = line.to_lowercase().strip_prefix("content-length:") {
            length = value.trim().parse().expect("a length is a number");
        }
        line.clear();
        reader.read_line(&mut line).expect("the driver answers");
    }
    let mut body = vec![0; length];
    reader.read_exact(&mut body).expect("the driver answers in full");
    (status, serde_json::from_slice(&body).unwrap_or(Value::Null))
}

fn free_port() -> u16 {
    let listener = TcpListener::bind(("127.0.0.1", 0)).expect("loopback has a free port");
    listener.local_addr().expect("it has an address").port()
}

/// Asks again until there is an answer.
fn until<T>(what: &str, mut ask: impl FnMut() -> Option<T>) -> T {
    let start = Instant::now();
    loop {
        if let Some(answer) = ask() {
            return answer;
        }
        assert!(start.elapsed() < PATIENCE, "waited in vain: {what}");
        std::thread::park_timeout(Duration::from_millis(50));
    }
}
