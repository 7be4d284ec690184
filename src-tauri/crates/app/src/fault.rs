//! What stops a use case that works on the store: a refusal, or a fault of the store itself.

use judge::{Kind, Refusal};
use store::StoreError;

/// Why a piece of work on the store was given up. A caller outside sees it as a [`Refusal`].
#[derive(Debug)]
pub(crate) enum Fault {
    Refused(Refusal),
    Store(StoreError),
}

impl From<Refusal> for Fault {
    fn from(refusal: Refusal) -> Self {
        Self::Refused(refusal)
    }
}

impl From<StoreError> for Fault {
    fn from(error: StoreError) -> Self {
        Self::Store(error)
    }
}

impl From<Fault> for Refusal {
    fn from(fault: Fault) -> Self {
        match fault {
            Fault::Refused(refusal) => refusal,
            Fault::Store(error) => {
                let refusal = Self::new(kind_of(&error), error.to_string());
                if matches!(error, StoreError::Locked) { refusal.worth_a_retry() } else { refusal }
            }
        }
    }
}

/// A fault of the store as a caller outside sees it.
pub(crate) fn refused(error: StoreError) -> Refusal {
    Fault::from(error).into()
}

fn kind_of(error: &StoreError) -> Kind {
    match error {
        StoreError::Damaged { .. } => Kind::Damaged,
        StoreError::Newer { .. } => Kind::NewerVersion,
        StoreError::NotOurs => Kind::NotOurs,
        StoreError::Locked => Kind::Locked,
        StoreError::ReadOnly => Kind::ReadOnly,
        StoreError::Full => Kind::Full,
        StoreError::Io { .. } => Kind::Io,
        StoreError::IdReused { .. } => Kind::IdReused,
        StoreError::DoesNotFit { .. } | StoreError::Refused { .. } => Kind::DoesNotFit,
        StoreError::Internal { .. } => Kind::Internal,
    }
}
