//! How a packet's signature is handed on and checked: in the OpenSSH signature format (OpenSSH's `PROTOCOL.sshsig`), by the
//! shop's own key.

use jiff::Timestamp;

use crate::domain::words::ids::RoundId;

/// What the signatures are for, so that one made for something else does not count (`PROTOCOL.sshsig`, namespace).
pub const NAMESPACE: &str = "file";
/// Whose key it is, in a list of allowed signers (ssh-keygen(1), ALLOWED SIGNERS).
pub const SIGNER: &str = "shop";
/// What such a list is called where it is handed out.
pub const SIGNERS_FILE: &str = "allowed_signers";

/// A public key by which packets were signed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SigningKey {
    /// The store's number for it; the highest is the one in use.
    pub number: i64,
    /// The public key, one line as OpenSSH writes it.
    pub public: String,
    /// When the shop first knew of it.
    pub recorded: Timestamp,
    /// Who worked then.
    pub by: String,
}

/// The signature of a round's packet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RoundSignature {
    /// The round.
    pub round: RoundId,
    /// The public key of the key that made it.
    pub public: String,
    /// The signature, armoured.
    pub signature: String,
}

/// The list of allowed signers that names this one public key, for `ssh-keygen -Y verify`.
pub fn allowed_signers(public: &str) -> String {
    let key: Vec<&str> = public.split_whitespace().take(2).collect();
    format!("{SIGNER} namespaces=\"{NAMESPACE}\" {}\n", key.join(" "))
}

/// The command that checks a packet of this name with its signature and the list of allowed signers beside it.
pub fn command(packet: &str) -> String {
    command_of(packet, &format!("{packet}.sig"))
}

/// The same where the signature has this name.
pub fn command_of(packet: &str, signature: &str) -> String {
    format!("ssh-keygen -Y verify -f {SIGNERS_FILE} -I {SIGNER} -n {NAMESPACE} -s {signature} < {packet}")
}

/// What the command is for, before it.
pub const CHECKS: &str = "this command says whether the packet is the one that was signed:";
/// What no signature says by itself.
pub const WHOSE_KEY: &str = "Compare it with what the shop told you some other way: whoever alters a packet can put \
    another key beside it.";

/// What a round's packet is called where it is handed out.
pub fn packet_name(slug: &str, round: u32) -> String {
    format!("{slug}-round-{round}.pdf")
}
