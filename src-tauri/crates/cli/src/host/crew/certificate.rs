//! The certificate of the open door: made here, signed by itself, the same as long as its addresses are.

use crate::failed;
use app::Refusal;
use rcgen::{CertificateParams, DnType, KeyPair};
use sha2::{Digest, Sha256};
use std::net::IpAddr;
use std::path::Path;
use std::sync::Arc;
use tokio_rustls::TlsAcceptor;
use tokio_rustls::rustls::ServerConfig;
use tokio_rustls::rustls::crypto::ring;
use tokio_rustls::rustls::pki_types::pem::PemObject;
use tokio_rustls::rustls::pki_types::{CertificateDer, PrivateKeyDer};

/// What proves to a browser that it speaks to this door.
pub(super) struct Certificate {
    pub(super) acceptor: TlsAcceptor,
    /// SHA-256 of the whole certificate, in hexadecimal: what a browser shows of it.
    pub(super) fingerprint: String,
}

/// The certificate for these addresses: the one that is kept, else a new one.
///
/// # Errors
/// `io` where it cannot be made or kept.
pub(super) fn certificate(addresses: &[IpAddr], folder: Option<&Path>) -> Result<Certificate, Refusal> {
    let pem = match folder.and_then(|folder| kept(folder, addresses)) {
        Some(pem) => pem,
        None => made(addresses, folder)?,
    };
    let broken = |error: &dyn std::fmt::Display| failed("The certificate cannot be used", error);
    let own = CertificateDer::from_pem_slice(pem.as_bytes()).map_err(|error| broken(&error))?;
    let key = PrivateKeyDer::from_pem_slice(pem.as_bytes()).map_err(|error| broken(&error))?;
    let fingerprint = super::book::hex(&Sha256::digest(&own));
    let config = ServerConfig::builder_with_provider(Arc::new(ring::default_provider()));
    let config = config.with_safe_default_protocol_versions().map_err(|error| broken(&error))?;
    let config = config.with_no_client_auth().with_single_cert(vec![own], key).map_err(|error| broken(&error))?;
    Ok(Certificate { acceptor: TlsAcceptor::from(Arc::new(config)), fingerprint })
}

/// The file is named by its addresses, so another set of them makes another.
fn file_name(addresses: &[IpAddr]) -> String {
    let mut names: Vec<String> = addresses.iter().map(ToString::to_string).collect();
    names.sort();
    format!("crew-{}.pem", names.join("-").replace(':', "_"))
}

fn kept(folder: &Path, addresses: &[IpAddr]) -> Option<String> {
    std::fs::read_to_string(folder.join(file_name(addresses))).ok().filter(|pem| pem.contains("PRIVATE KEY"))
}

fn made(addresses: &[IpAddr], folder: Option<&Path>) -> Result<String, Refusal> {
    let unmade = |error: rcgen::Error| failed("The certificate could not be made", &error);
    let names: Vec<String> = addresses.iter().map(ToString::to_string).collect();
    let mut params = CertificateParams::new(names).map_err(unmade)?;
    params.distinguished_name.push(DnType::CommonName, "Truefall on this site");
    let key = KeyPair::generate().map_err(unmade)?;
    let own = params.self_signed(&key).map_err(unmade)?;
    let pem = format!("{}{}", own.pem(), key.serialize_pem());
    if let Some(folder) = folder {
        let path = folder.join(file_name(addresses));
        app::write_whole(&path, pem.as_bytes())?;
        for_us_alone(&path)?;
    }
    Ok(pem)
}

/// Nobody else on this machine reads the key.
fn for_us_alone(path: &Path) -> Result<(), Refusal> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let only_us = std::fs::Permissions::from_mode(0o600);
        std::fs::set_permissions(path, only_us).map_err(|error| failed("The key could not be locked away", &error))?;
    }
    let _ = path;
    Ok(())
}
