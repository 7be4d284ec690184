//! The salt of a private text, as it travels.

use data_encoding::HEXLOWER_PERMISSIVE;
use judge::Refusal;

/// The salt written in hexadecimal digits.
pub(crate) fn salt(digits: &str) -> Result<[u8; store::SALT_BYTES], Refusal> {
    HEXLOWER_PERMISSIVE
        .decode(digits.as_bytes())
        .ok()
        .and_then(|bytes| bytes.try_into().ok())
        .ok_or_else(|| Refusal::out_of_range("private.salt", &format!("{} hexadecimal digits", 2 * store::SALT_BYTES)))
}
