//! Why something was not done.

use jiff::SignedDuration;

use crate::domain::words::faults::Fault;
use crate::store::StoreError;

/// Why something was not done. Each has its own words on screen.
#[derive(Debug, thiserror::Error)]
pub enum ActionError {
    /// What was entered will not do; all that is wrong with it.
    #[error("what was entered will not do")]
    Refused(Vec<Fault>),
    /// This person's role does not do this.
    #[error("this is not for this person's role")]
    NotAllowed,
    /// Name and password do not belong together; the same for a name that nobody has.
    #[error("name and password do not belong together")]
    WrongSignIn,
    /// Too many guesses under this name or from this address; wait this long.
    #[error("too many failed sign-ins; wait")]
    Wait(SignedDuration),
    /// So many are signing in that another has to try again later.
    #[error("too many are signing in")]
    Busy,
    /// The one-time link was used, is too old or never was.
    #[error("the link was used, is too old or never was")]
    LinkSpent,
    /// The code to pair a phone was used, is too old, never was, or was guessed at.
    #[error("the pairing code was used, is too old or never was")]
    PairingSpent,
    /// The reading link was withdrawn, or its days are over.
    #[error("the reading link was withdrawn, or its days are over")]
    ReadingLinkOver,
    /// The hold point, or an issued round, forbids it; the sentence says which.
    #[error("{0}")]
    Held(String),
    /// Somebody else saved first; the version that stands now.
    #[error("somebody else saved first; version {now} stands")]
    Stale {
        /// The version that stands now.
        now: i64,
    },
    /// The phone's name for a photograph is another content's already.
    #[error("this name is another photograph's already")]
    OtherContent,
    /// More than one person may do in a while; the sentence says what, and until when.
    #[error("{0}")]
    TooMany(String),
    /// There is no such thing here.
    #[error("there is no such {0} here")]
    NotFound(&'static str),
    /// The work itself could not be done on this machine.
    #[error("it could not be worked: {0}")]
    NotWorked(String),
    /// The records' trouble.
    #[error("the records could not be used")]
    Store(#[source] StoreError),
}

impl From<StoreError> for ActionError {
    fn from(error: StoreError) -> Self {
        match error {
            StoreError::Stale { now } => Self::Stale { now },
            StoreError::NotFound(what) => Self::NotFound(what),
            other => Self::Store(other),
        }
    }
}
