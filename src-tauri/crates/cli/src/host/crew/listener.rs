//! The open door itself: its sockets, its encryption, and what a connection may take.

use super::Crew;
use super::certificate::Certificate;
use super::pass::{self, Peer};
use crate::{Host, Limits, failed};
use app::{App, Refusal};
use axum::{Extension, Router};
use hyper::server::conn::http1;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::service::TowerToHyperService;
use std::collections::HashMap;
use std::net::{IpAddr, SocketAddr};
use std::sync::mpsc::{self, RecvTimeoutError, Sender};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;
use tokio::net::{TcpListener, TcpStream};
use tokio::runtime::Runtime;
use tokio::sync::Semaphore;
use tokio::time::timeout;
use tokio_rustls::TlsAcceptor;

/// The sockets that are open. Dropped, they and every connection close.
pub(super) struct Door {
    pub(super) port: u16,
    at: Vec<IpAddr>,
    pub(super) fingerprint: String,
    runtime: Option<Runtime>,
    /// Its end stops the clock.
    _clock: Sender<()>,
}

impl Door {
    /// What a browser is to open.
    pub(super) fn addresses(&self) -> Vec<String> {
        self.at.iter().map(|at| format!("https://{at}:{}", self.port)).collect()
    }
}

impl Drop for Door {
    fn drop(&mut self) {
        if let Some(runtime) = self.runtime.take() {
            // What is being written to disk is waited for, not for long.
            runtime.shutdown_timeout(Duration::from_secs(2));
        }
    }
}

/// Opens the sockets and serves at them; after `lasts` the crew closes by itself.
pub(super) fn open(
    crew: &Arc<Crew>,
    app: &Arc<App>,
    at: &[IpAddr],
    port: u16,
    certificate: Certificate,
    lasts: Duration,
) -> Result<Door, Refusal> {
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build();
    let runtime = runtime.map_err(|error| failed("The door could not be opened", &error))?;
    let (port, listeners) = runtime.block_on(bound(at, port))?;
    let names = at.iter().map(|at| SocketAddr::new(*at, port).to_string()).collect();
    let router = pass::router(Host { app: Arc::clone(app), crew: Arc::clone(crew) }, Arc::clone(crew), names);
    let places = Arc::new(Places::new(crew.limits()));
    for listener in listeners {
        let (router, acceptor) = (router.clone(), certificate.acceptor.clone());
        runtime.spawn(listen(listener, acceptor, router, Arc::clone(&places), crew.limits().patience));
    }
    let clock = clock(crew, lasts);
    Ok(Door { port, at: at.to_vec(), fingerprint: certificate.fingerprint, runtime: Some(runtime), _clock: clock })
}

/// A socket at each address, all at one port: the one asked for, else any that is free.
async fn bound(at: &[IpAddr], port: u16) -> Result<(u16, Vec<TcpListener>), Refusal> {
    match bind(at, port).await {
        Err(_) if port != 0 => bind(at, 0).await,
        other => other,
    }
    .map_err(|error| failed("No port could be opened for the crew", &error))
}

async fn bind(at: &[IpAddr], port: u16) -> std::io::Result<(u16, Vec<TcpListener>)> {
    let (mut port, mut listeners) = (port, Vec::new());
    for address in at {
        let listener = TcpListener::bind((*address, port)).await?;
        port = listener.local_addr()?.port();
        listeners.push(listener);
    }
    Ok((port, listeners))
}

/// Closes the crew after a while, unless it is closed before.
fn clock(crew: &Arc<Crew>, lasts: Duration) -> Sender<()> {
    let (stop, stopped) = mpsc::channel();
    let crew = Arc::downgrade(crew);
    std::thread::spawn(move || {
        if stopped.recv_timeout(lasts) == Err(RecvTimeoutError::Timeout)
            && let Some(crew) = crew.upgrade()
        {
            crew.close();
        }
    });
    stop
}

/// How many connections there are, in all and from each address.
struct Places {
    all: Arc<Semaphore>,
    of: Mutex<HashMap<IpAddr, usize>>,
    most: usize,
}

impl Places {
    fn new(limits: &Limits) -> Self {
        Self { all: Arc::new(Semaphore::new(limits.connections)), of: Mutex::default(), most: limits.per_address }
    }

    /// A place for one more connection from an address, unless it has too many.
    fn take(self: &Arc<Self>, from: IpAddr) -> Option<Place> {
        let mut of = self.of.lock().unwrap_or_else(PoisonError::into_inner);
        let count = of.entry(from).or_default();
        let free = *count < self.most;
        *count += usize::from(free);
        drop(of);
        free.then(|| Place { places: Arc::clone(self), from })
    }
}

struct Place {
    places: Arc<Places>,
    from: IpAddr,
}

impl Drop for Place {
    fn drop(&mut self) {
        let mut of = self.places.of.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(count) = of.get_mut(&self.from) {
            *count -= 1;
            if *count == 0 {
                of.remove(&self.from);
            }
        }
    }
}

async fn listen(listener: TcpListener, tls: TlsAcceptor, router: Router, places: Arc<Places>, patience: Duration) {
    loop {
        let Ok(free) = Arc::clone(&places.all).acquire_owned().await else { return };
        // What cannot be taken up just now, such as for want of file handles, is left to the next round.
        let Ok((stream, peer)) = listener.accept().await else {
            tokio::task::yield_now().await;
            continue;
        };
        let Some(place) = places.take(peer.ip()) else { continue };
        let (tls, router) = (tls.clone(), router.clone());
        tokio::spawn(async move {
            serve(stream, peer.ip(), tls, router, patience).await;
            drop((free, place));
        });
    }
}

/// One connection to its end, which is nobody's mistake whatever it is.
async fn serve(stream: TcpStream, peer: IpAddr, tls: TlsAcceptor, router: Router, patience: Duration) {
    let Ok(Ok(stream)) = timeout(patience, tls.accept(stream)).await else { return };
    let answers = TowerToHyperService::new(router.layer(Extension(Peer(peer))));
    let mut connection = http1::Builder::new();
    connection.timer(TokioTimer::new()).header_read_timeout(patience).max_buf_size(64 << 10);
    let _ = connection.serve_connection(TokioIo::new(stream), answers).await;
}
