//! Cars' files: a build saved whole, loaded into another shop, and looked through by whoever was handed one.

mod loading;
mod pattern;
mod rounds_fit;
mod rounds_seen;
mod saving;

use std::io::Read;

use rounds_seen::RoundsSeen;

use super::signing::{self, Checked};
use crate::actions::error::ActionError;
use crate::domain::recorded::car_file::{CarFault, Manifest};
use crate::domain::words::faults::Fault;
use crate::store::car_file::{self, Asked, AskedOfPacket, NotRead, Spool, Texts, WholeFile};
use crate::store::form;

pub use loading::{Loaded, load};
pub use pattern::{Begun, BookFor, NewByPattern, begin_by};
pub use rounds_seen::{PacketSeen, RoundSeen};
pub use saving::{Saving, prepare};

/// Where the fault of a file stands.
pub const FILE: &str = "file";

/// Told of each step: how many bytes, photographs or packets are done.
pub type Tell<'a> = &'a (dyn Fn(u64) + Send + Sync);

/// The public key that signed these bytes; none where the signature does not say so.
fn signer_of(bytes: &[u8], signature: &str) -> Option<String> {
    match signing::check(bytes, signature) {
        Checked::Unaltered { public } => Some(public),
        Checked::Altered | Checked::NoSignature(_) => None,
    }
}

/// Reads a file to its end, comparing every byte; nothing is known of a file of which this says less.
fn read(from: &mut dyn Read, spool: Spool, tell: Tell<'_>) -> Result<(WholeFile, String), NotRead> {
    read_asking(from, spool, tell, &mut |_, _, _| Ok(()))
}

/// The same, with whoever is asked about each packet that is not kept aside.
fn read_asking(
    from: &mut dyn Read,
    spool: Spool,
    tell: Tell<'_>,
    packet: AskedOfPacket<'_>,
) -> Result<(WholeFile, String), NotRead> {
    let signed = |bytes: &[u8], signature: &str| signer_of(bytes, signature).is_some();
    let whole = car_file::read(from, form(), Asked { signed: &signed, packet }, spool, tell)?;
    let public = signer_of(whole.list.as_bytes(), &whole.signature).ok_or(CarFault::Signature)?;
    Ok((whole, public))
}

/// What is known of a file by itself, all of which was read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LookedThrough {
    /// Its list.
    pub manifest: Manifest,
    /// The public key that signed the list.
    pub public: String,
    /// Its rounds, each of whose packets was compared with its signature and its contents list.
    pub rounds: Vec<RoundSeen>,
}

/// Looks a file through, without a shop: says what it is, or why it is none or not what was signed. The list is signed by whoever
/// saved the car, a round's packet by the shop that issued it: each is compared by itself.
///
/// # Errors
/// `Refused` with what is wrong with it; `Store` where it cannot be read here.
pub fn look_through(from: &mut dyn Read, tell: Tell<'_>) -> Result<LookedThrough, ActionError> {
    let mut rounds = RoundsSeen::default();
    let mut packet = |round, packet: &[u8], texts: &Texts| rounds.see(round, packet, texts);
    let (whole, public) = read_asking(from, Spool::nothing(), tell, &mut packet).map_err(refused)?;
    let rounds = rounds.of(&whole).map_err(|fault| fault_of(&fault))?;
    Ok(LookedThrough { manifest: whole.manifest, public, rounds })
}

/// Runs what takes its time, and may stop at what nobody foresaw, where it holds nobody up.
async fn apart<T: Send + 'static>(work: impl FnOnce() -> T + Send + 'static) -> Result<T, ActionError> {
    tokio::task::spawn_blocking(work).await.map_err(|error| ActionError::NotWorked(error.to_string()))
}

fn refused(why: NotRead) -> ActionError {
    match why {
        NotRead::Fault(fault) => fault_of(&fault),
        NotRead::Here(error) => error.into(),
    }
}

fn fault_of(fault: &CarFault) -> ActionError {
    ActionError::Refused(vec![Fault::new(FILE, fault.to_string())])
}
