//! A host on the loopback address, and readings sent to it.

use app::forms::Write;
use serde_json::json;
use std::io::{self, BufRead, BufReader, Read, Write as _};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, ChildStdout, Stdio};

/// A started host and one connection to it.
pub(crate) struct Host {
    pub(crate) child: Child,
    /// Kept open: a host whose output nobody holds might end for that.
    _said: BufReader<ChildStdout>,
    stream: BufReader<TcpStream>,
    address: String,
    cookie: String,
}

impl Host {
    pub(crate) fn start(home: &Path) -> Self {
        let mut command = site_tests::truefall();
        let mut child =
            command.arg("host").env("TRUEFALL_HOME", home).stdout(Stdio::piped()).spawn().expect("the host starts");
        let mut said = BufReader::new(child.stdout.take().expect("its output"));
        let mut line = String::new();
        said.read_line(&mut line).expect("its address");
        let (_, url) = line.trim().split_once("http://").expect("an address");
        let (address, key) = url.split_once("/?key=").expect("a key");
        let stream = BufReader::new(TcpStream::connect(address).expect("it listens"));
        let mut host = Self { child, _said: said, stream, address: address.to_owned(), cookie: String::new() };
        let ask = format!("GET /?key={key} HTTP/1.1\r\nHost: {address}\r\n\r\n");
        host.send(&ask).expect("asked");
        let (_, head) = host.answer().expect("let in");
        let cookie = head.lines().find_map(|line| line.strip_prefix("set-cookie: ")).expect("a cookie");
        host.cookie = cookie.split(';').next().unwrap_or_default().to_owned();
        host
    }

    fn send(&mut self, text: &str) -> io::Result<()> {
        self.stream.get_mut().write_all(text.as_bytes())
    }

    /// Sends a change without waiting for the answer.
    pub(crate) fn send_write(&mut self, write: &Write) -> io::Result<()> {
        let body = json!(write).to_string();
        let head = format!(
            "POST /dispatch/write HTTP/1.1\r\nHost: {}\r\nCookie: {}\r\nContent-Length: {}\r\n\r\n",
            self.address,
            self.cookie,
            body.len()
        );
        self.send(&(head + &body))
    }

    /// The status and the head of the next answer.
    pub(crate) fn answer(&mut self) -> io::Result<(u16, String)> {
        let mut head = String::new();
        while !head.ends_with("\r\n\r\n") {
            if self.stream.read_line(&mut head)? == 0 {
                return Err(io::ErrorKind::UnexpectedEof.into());
            }
        }
        let length = head.lines().find_map(|line| line.strip_prefix("content-length: "));
        let length: usize = length.and_then(|length| length.parse().ok()).unwrap_or(0);
        self.stream.read_exact(&mut vec![0; length])?;
        let status = head.split(' ').nth(1).and_then(|status| status.parse().ok()).unwrap_or(0);
        Ok((status, head))
    }
}
