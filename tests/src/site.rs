//! Rooms that are open to the crew on this machine alone, and devices that come to their door as strangers would: with
//! bytes of their own choosing, over an encryption that trusts the one certificate and no other.

use app::forms::{CrewDraw, CrewOpen, CrewRole, CrewView};
use app::{App, Clock};
use data_encoding::HEXLOWER;
use host::{Crew, Limits};
use serde_json::{Value, json};
use sha2::{Digest, Sha256};
use std::io::{Read, Write};
use std::net::TcpStream;
use std::sync::Arc;
use tokio_rustls::rustls::client::danger::{HandshakeSignatureValid, ServerCertVerified, ServerCertVerifier};
use tokio_rustls::rustls::crypto::{CryptoProvider, ring, verify_tls12_signature, verify_tls13_signature};
use tokio_rustls::rustls::pki_types::{CertificateDer, ServerName, UnixTime};
use tokio_rustls::rustls::{
    ClientConfig, ClientConnection, DigitallySignedStruct, Error, SignatureScheme, StreamOwned,
};

/// Open rooms.
pub struct Site {
    pub app: Arc<App>,
    pub crew: Arc<Crew>,
    /// Host and port, as they stand in an address.
    pub at: String,
    tls: Arc<ClientConfig>,
    pub folder: tempfile::TempDir,
}

/// What was answered.
#[derive(Debug, Clone)]
pub struct Answer {
    pub status: u16,
    pub head: String,
    pub body: String,
}

/// One connection to the door.
pub type Line = StreamOwned<ClientConnection, TcpStream>;

impl Site {
    /// Rooms in a folder of their own, open under these limits.
    pub fn open(limits: Limits) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let app = Arc::new(App::open(folder.path(), Clock::default()).expect("rooms"));
        let crew = Crew::lend(&app, Some(folder.path().into()), limits);
        crew.open(&asked(), Some(0)).expect("open");
        let open = crew.view().open.expect("open");
        let at = open.addresses[0].trim_start_matches("https://").to_string();
        Self { tls: Arc::new(pinned(open.fingerprint)), app, crew, at, folder }
    }

    /// What the home device sees.
    pub fn view(&self) -> CrewView {
        self.crew.view()
    }

    /// One request of the home device.
    pub fn home(&self, name: &str, body: &Value) -> Value {
        let answer = self.app.dispatch(name, &body.to_string()).expect(name);
        serde_json::from_str(&answer).expect("JSON")
    }

    /// A fresh code for a role.
    pub fn code(&self, role: CrewRole) -> String {
        let view = self.home("crew-draw", &json!(CrewDraw { role }));
        view["open"]["code"]["code"].as_str().expect("a code").to_string()
    }

    /// A connection that has agreed on its encryption.
    pub fn line(&self) -> Line {
        let name = ServerName::try_from("127.0.0.1").expect("an address");
        let client = ClientConnection::new(Arc::clone(&self.tls), name).expect("a client");
        StreamOwned::new(client, TcpStream::connect(&self.at).expect("connected"))
    }

    /// Sends these bytes on a connection of their own and reads to its end.
    pub fn send(&self, bytes: &[u8]) -> Answer {
        let mut line = self.line();
        // A door that has heard enough closes before everything is sent.
        let _ = line.write_all(bytes).and_then(|()| line.flush());
        answer(&mut line)
    }

    /// A request as a browser on this site sends it, with these headers in the place of its own.
    pub fn ask(&self, method: &str, path: &str, headers: &[(&str, &str)], body: &str) -> Answer {
        self.send(request(&self.at, method, path, headers, body, "close").as_bytes())
    }

    /// Sends a request on a line that stays open; answers its status, once all of the answer was read.
    ///
    /// # Errors
    /// Where the line broke.
    pub fn over(&self, line: &mut Line, cookie: &str, name: &str, body: &str) -> std::io::Result<u16> {
        let path = format!("/dispatch/{name}");
        line.write_all(request(&self.at, "POST", &path, &[("cookie", cookie)], body, "keep-alive").as_bytes())?;
        let mut bytes = Vec::new();
        while !bytes.ends_with(b"\r\n\r\n") {
            let mut one = [0u8];
            line.read_exact(&mut one)?;
            bytes.push(one[0]);
        }
        let head = String::from_utf8_lossy(&bytes).to_lowercase();
        let length = head.lines().find_map(|line| line.strip_prefix("content-length: ")?.trim().parse().ok());
        let mut body = vec![0; length.unwrap_or(0)];
        line.read_exact(&mut body)?;
        Ok(head.split(' ').nth(1).and_then(|status| status.parse().ok()).unwrap_or(0))
    }

    /// Joins; answers what the device shows from now on, or how it was turned away.
    pub fn join(&self, code: &str, name: &str) -> Result<String, Answer> {
        let answer = self.ask("POST", "/join", &[], &json!({ "code": code, "name": name }).to_string());
        let shown = answer.head.lines().find_map(|line| line.strip_prefix("set-cookie: "));
        match (answer.status, shown) {
            (200, Some(cookie)) => Ok(cookie.split(';').next().unwrap_or_default().to_string()),
            _ => Err(answer),
        }
    }

    /// A device that has joined.
    pub fn member(&self, name: &str, role: CrewRole) -> String {
        self.join(&self.code(role), name).expect("joined")
    }

    /// One request of a device that has joined.
    pub fn of(&self, cookie: &str, name: &str, body: &Value) -> Answer {
        self.ask("POST", &format!("/dispatch/{name}"), &[("cookie", cookie)], &body.to_string())
    }
}

fn asked() -> CrewOpen {
    CrewOpen { at: vec!["127.0.0.1".into()], minutes: 60, role: CrewRole::Read }
}

/// The text of a request; `headers` stand in the place of those a browser sends.
pub fn request(at: &str, method: &str, path: &str, headers: &[(&str, &str)], body: &str, then: &str) -> String {
    let usual = [("host", at.to_string()), ("origin", format!("https://{at}")), ("connection", then.to_string())];
    let length = ("content-length", body.len().to_string());
    let usual = usual.into_iter().chain([length]).filter(|(name, _)| headers.iter().all(|(other, _)| other != name));
    let own = headers.iter().filter(|(_, value)| !value.is_empty()).map(|(name, value)| (*name, (*value).to_string()));
    let lines: String = usual.chain(own).map(|(name, value)| format!("{name}: {value}\r\n")).collect();
    format!("{method} {path} HTTP/1.1\r\n{lines}\r\n{body}")
}

/// What comes until the other end closes.
pub fn answer(line: &mut impl Read) -> Answer {
    let mut bytes = Vec::new();
    // A connection that is cut off has said what it had to say.
    let _ = line.read_to_end(&mut bytes);
    let text = String::from_utf8_lossy(&bytes).into_owned();
    let (head, body) = text.split_once("\r\n\r\n").unwrap_or((&text, ""));
    let status = head.split(' ').nth(1).and_then(|status| status.parse().ok()).unwrap_or(0);
    Answer { status, head: head.to_string(), body: body.to_string() }
}

/// A device that trusts the certificate with this SHA-256, as it was told by the code image, and no other.
fn pinned(fingerprint: String) -> ClientConfig {
    let provider = Arc::new(ring::default_provider());
    let verifier = Arc::new(Pinned { fingerprint, provider: Arc::clone(&provider) });
    let config = ClientConfig::builder_with_provider(provider).with_safe_default_protocol_versions().expect("TLS");
    config.dangerous().with_custom_certificate_verifier(verifier).with_no_client_auth()
}

#[derive(Debug)]
struct Pinned {
    fingerprint: String,
    provider: Arc<CryptoProvider>,
}

impl ServerCertVerifier for Pinned {
    fn verify_server_cert(
        &self,
        own: &CertificateDer<'_>,
        _: &[CertificateDer<'_>],
        _: &ServerName<'_>,
        _: &[u8],
        _: UnixTime,
    ) -> Result<ServerCertVerified, Error> {
        match HEXLOWER.encode(&Sha256::digest(own)) == self.fingerprint {
            true => Ok(ServerCertVerified::assertion()),
            false => Err(Error::General("another certificate".into())),
        }
    }

    fn verify_tls12_signature(
        &self,
        message: &[u8],
        own: &CertificateDer<'_>,
        signed: &DigitallySignedStruct,
    ) -> Result<HandshakeSignatureValid, Error> {
        verify_tls12_signature(message, own, signed, &self.provider.signature_verification_algorithms)
    }

    fn verify_tls13_signature(
        &self,
        message: &[u8],
        own: &CertificateDer<'_>,
        signed: &DigitallySignedStruct,
    ) -> Result<HandshakeSignatureValid, Error> {
        verify_tls13_signature(message, own, signed, &self.provider.signature_verification_algorithms)
    }

    fn supported_verify_schemes(&self) -> Vec<SignatureScheme> {
        self.provider.signature_verification_algorithms.supported_schemes()
    }
}
