//! The shop's own key: made when the first packet is signed, recorded with each change, and what a signature says of a file.

use serde_json::json;
use ssh_key::private::{Ed25519Keypair, KeypairData};
use ssh_key::{HashAlg, LineEnding, PrivateKey, PublicKey, SshSig};
use tokio::sync::Mutex;

use crate::actions::context::Context;
use crate::actions::error::ActionError;
use crate::domain::shop::signing::{NAMESPACE, SigningKey};

/// Two first packets at once make one key.
static ONE_MAKES: Mutex<()> = Mutex::const_new(());
/// What the key says of itself.
const COMMENT: &str = "tackbook-packets";
const ROOM: &str = "rounds";

/// The key that signs, and its number among those that are recorded.
#[derive(Debug)]
pub struct Signer {
    key: PrivateKey,
    number: i64,
}

impl Signer {
    /// The number of the recorded key.
    pub const fn number(&self) -> i64 {
        self.number
    }

    /// The detached signature of some bytes, armoured.
    pub fn sign(&self, bytes: &[u8]) -> Result<String, ActionError> {
        worked(self.key.sign(NAMESPACE, HashAlg::Sha512, bytes).and_then(|made| made.to_pem(LineEnding::LF)))
    }
}

fn worked<T>(result: ssh_key::Result<T>) -> Result<T, ActionError> {
    result.map_err(|error| ActionError::NotWorked(error.to_string()))
}

/// The private key of a text; only one of the kind that the shop makes.
fn private(text: &str) -> Result<PrivateKey, ActionError> {
    let unread = "the key in the folder's keys/packets_ed25519 does not read. Put it aside, or restore it";
    let key = PrivateKey::from_openssh(text).map_err(|error| ActionError::NotWorked(format!("{unread}: {error}")))?;
    if matches!(key.key_data(), KeypairData::Ed25519(_)) {
        Ok(key)
    } else {
        Err(ActionError::NotWorked(format!("{unread}: it is no Ed25519 key that is open")))
    }
}

fn public(key: &PrivateKey) -> Result<String, ActionError> {
    let mut public = key.public_key().clone();
    public.set_comment(COMMENT);
    worked(public.to_openssh())
}

/// The fingerprint of the private key in a text, where it is one that the shop could sign with.
pub(in crate::actions) fn fingerprint_of_private(text: &str) -> Result<String, ActionError> {
    Ok(fingerprint(&public(&private(text)?)?))
}

/// A public key's SHA-256 as OpenSSH prints it: "SHA256:…"; the key itself where it does not read.
pub fn fingerprint(public: &str) -> String {
    PublicKey::from_openssh(public)
        .map_or_else(|_| public.to_owned(), |key| key.fingerprint(HashAlg::Sha256).to_string())
}

/// The shop's key, made where there is none.
pub(in crate::actions) async fn signer(ctx: &Context) -> Result<Signer, ActionError> {
    let _turn = ONE_MAKES.lock().await;
    let key = if let Some(text) = ctx.store.private_key().await? {
        private(&text)?
    } else {
        let mut seed = [0_u8; 32];
        rand::fill(&mut seed);
        let mut key = PrivateKey::from(Ed25519Keypair::from_seed(&seed));
        key.set_comment(COMMENT);
        let text = worked(key.to_openssh(LineEnding::LF))?;
        ctx.store.keep_private_key(text.to_string()).await?;
        key
    };
    let number = recorded(ctx, public(&key)?).await?;
    Ok(Signer { key, number })
}

/// The detached signature of some bytes by the shop's key, armoured. Where the key is the one that was recorded last, nothing
/// is written: so it works beside another program that serves the shop.
pub(in crate::actions) async fn sign(ctx: &Context, bytes: &[u8]) -> Result<String, ActionError> {
    if let Some(text) = ctx.store.private_key().await?
        && let Some(last) = ctx.store.signing_keys().await?.last()
    {
        let key = private(&text)?;
        if public(&key)? == last.public {
            return Signer { key, number: last.number }.sign(bytes);
        }
    }
    signer(ctx).await?.sign(bytes)
}

/// The number under which a public key is in use; where it was not, it is recorded with a log entry.
async fn recorded(ctx: &Context, public: String) -> Result<i64, ActionError> {
    let (at, by) = (ctx.clock.now(), ctx.by.name.clone());
    let mut entry = ctx.shop_entry(ROOM, String::new(), json!({ "public": public }));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let all = write.signing_keys().await?;
                if let Some(last) = all.last().filter(|last| last.public == public) {
                    return Ok((last.number, None));
                }
                write.add_signing_key(&public, at, &by).await?;
                let number = all.last().map_or(1, |last| last.number + 1);
                entry.what = all.last().map_or_else(
                    || format!("Packets are signed from now on; the shop's key is {}.", fingerprint(&public)),
                    |before| {
                        let (now, before) = (fingerprint(&public), fingerprint(&before.public));
                        format!("The key that packets are signed by is another one: {now}, in place of {before}.")
                    },
                );
                Ok((number, Some(entry)))
            })
        })
        .await
}

/// Sees to the key when a shop is opened to be served: a shop that never had one gets it, so that whoever reads beside can
/// sign too; one that is another than was used last is recorded. A key that is gone is not made anew unasked.
pub async fn notice(ctx: &Context) -> Result<(), ActionError> {
    match ctx.store.private_key().await? {
        Some(text) => recorded(ctx, public(&private(&text)?)?).await.map(drop),
        None if ctx.store.signing_keys().await?.is_empty() => signer(ctx).await.map(drop),
        None => Ok(()),
    }
}

/// How the key in the folder stands to those that are recorded.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Stands {
    /// No packet was signed yet, and there is no key.
    NotYet,
    /// It is the one that was recorded last.
    AsRecorded,
    /// It is another one; nothing was signed by it yet. Its fingerprint.
    Another(String),
    /// It is not there any more.
    Gone,
    /// It does not read; why.
    Unread(String),
}

/// The key's standing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Standing {
    /// How the key in the folder stands.
    pub stands: Stands,
    /// Every key that was in use, with its fingerprint; the newest last.
    pub keys: Vec<(String, SigningKey)>,
}

/// How the shop's key stands.
pub async fn standing(ctx: &Context) -> Result<Standing, ActionError> {
    let keys: Vec<(String, SigningKey)> =
        ctx.store.signing_keys().await?.into_iter().map(|key| (fingerprint(&key.public), key)).collect();
    let here = ctx.store.private_key().await?.map(|text| private(&text).and_then(|key| public(&key)));
    let stands = match (here, keys.last()) {
        (None, None) => Stands::NotYet,
        (None, Some(_)) => Stands::Gone,
        (Some(Err(why)), _) => Stands::Unread(why.to_string()),
        (Some(Ok(here)), Some((_, last))) if last.public == here => Stands::AsRecorded,
        (Some(Ok(here)), _) => Stands::Another(fingerprint(&here)),
    };
    Ok(Standing { stands, keys })
}

/// What a signature says of some bytes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Checked {
    /// They are the bytes that were signed, by the key of this public key.
    Unaltered {
        /// The public key that the signature names.
        public: String,
    },
    /// They are not the bytes that this key signed: they, or the signature, were altered, or it is another file's.
    Altered,
    /// The signature does not read, or was made for something else: nothing is known of the bytes.
    NoSignature(String),
}

/// What a signature, armoured, says of some bytes.
pub fn check(bytes: &[u8], signature: &str) -> Checked {
    let read = match SshSig::from_pem(signature) {
        Ok(read) => read,
        Err(error) => return Checked::NoSignature(error.to_string()),
    };
    if read.namespace() != NAMESPACE {
        return Checked::NoSignature(format!("it was made for “{}”, not for a file", read.namespace()));
    }
    let key = PublicKey::from(read.public_key().clone());
    match (key.verify(NAMESPACE, bytes, &read), key.to_openssh()) {
        (Ok(()), Ok(public)) => Checked::Unaltered { public },
        _ => Checked::Altered,
    }
}

/// Whether two public keys are one, whatever they say of themselves beside.
pub fn same_key(one: &str, other: &str) -> bool {
    let plain = |public: &str| PublicKey::from_openssh(public).map(|key| key.key_data().clone());
    matches!((plain(one), plain(other)), (Ok(one), Ok(other)) if one == other)
}

/// The public keys in a text: a list of allowed signers, or public keys as OpenSSH writes them, one a line.
pub fn keys_in(text: &str) -> Vec<String> {
    let key = |line: &str| {
        let words: Vec<&str> = line.split_whitespace().collect();
        let pairs = words.iter().zip(words.iter().skip(1));
        pairs.filter(|(kind, _)| kind.starts_with("ssh-")).find_map(|(kind, data)| {
            PublicKey::from_openssh(&format!("{kind} {data}")).and_then(|key| key.to_openssh()).ok()
        })
    };
    text.lines().filter(|line| !line.trim_start().starts_with('#')).filter_map(key).collect()
}
