//! Bytes copied and digested in one go.

use sha2::{Digest, Sha256};
use std::io::{self, Read, Write};

/// Copies all there is and gives the digest of it.
pub(super) fn copy(from: &mut (impl Read + ?Sized), to: &mut impl Write) -> io::Result<String> {
    let (mut digest, mut piece) = (Sha256::new(), [0; 65_536]);
    loop {
        let length = from.read(&mut piece)?;
        let Some(read) = piece.get(..length).filter(|read| !read.is_empty()) else {
            return Ok(data_encoding::HEXLOWER.encode(&digest.finalize()));
        };
        digest.update(read);
        to.write_all(read)?;
    }
}
