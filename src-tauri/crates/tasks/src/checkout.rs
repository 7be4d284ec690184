//! Where things lie in this checkout.

use crate::outcome::Outcome;
use std::path::{Path, PathBuf};

/// The top of the checkout and the folder that holds everything made from it.
pub(crate) struct Checkout {
    root: PathBuf,
    target: PathBuf,
}

impl Checkout {
    /// The checkout whose cargo runs this program.
    pub(crate) fn find() -> Outcome<Self> {
        let package = std::env::var_os("CARGO_MANIFEST_DIR").ok_or("Run this through cargo: `cargo verify`.")?;
        let root = Path::new(&package).ancestors().nth(3).ok_or("The checkout has no top folder.")?.to_path_buf();
        let program = std::env::current_exe().map_err(|e| format!("This program cannot find itself: {e}"))?;
        let target = program.ancestors().nth(2).ok_or("There is no target folder.")?.to_path_buf();
        Ok(Self { root, target })
    }

    pub(crate) fn root(&self) -> &Path {
        &self.root
    }

    pub(crate) fn ui(&self) -> PathBuf {
        self.root.join("ui")
    }

    pub(crate) fn peers(&self) -> PathBuf {
        self.root.join("tests/peers")
    }

    /// What runs a program in WebAssembly.
    pub(crate) fn wasi(&self) -> PathBuf {
        self.root.join("tests/wasi.mjs")
    }

    /// A file or folder among the things made here.
    pub(crate) fn made(&self, name: &str) -> PathBuf {
        self.target.join(name)
    }

    /// A program of this workspace, as cargo builds it.
    pub(crate) fn program(&self, name: &str) -> PathBuf {
        self.target.join("debug").join(format!("{name}{}", std::env::consts::EXE_SUFFIX))
    }
}
