//! Why nothing could be read back.

use std::fmt;

/// Why nothing could be read back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NotCarried {
    /// The bytes are no PDF.
    NotPdf,
    /// It is a PDF, but cut off or altered where its parts are listed.
    Unreadable,
    /// The part of this name unfolds to more than is read.
    TooLarge(String),
    /// The part of this name is damaged.
    Damaged(String),
}

impl fmt::Display for NotCarried {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotPdf => f.write_str("The file is not a PDF."),
            Self::Unreadable => f.write_str("The PDF is cut off or damaged: its parts cannot be found."),
            Self::TooLarge(name) => write!(f, "The PDF is not read: {name} in it unfolds to far more than it should."),
            Self::Damaged(name) => write!(f, "{name} inside the PDF is damaged."),
        }
    }
}

impl std::error::Error for NotCarried {}
