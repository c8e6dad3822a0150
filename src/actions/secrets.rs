//! Tokens, and the hashes that passwords and tokens are kept as.

use argon2::password_hash::phc::PasswordHash;
use argon2::{Algorithm, Argon2, Params, PasswordHasher as _, PasswordVerifier as _, Version};

use super::error::ActionError;
use crate::domain::words::fingerprint::{Fingerprint, hex};

/// Argon2id's memory in KiB, passes and lanes: the least that OWASP's Password Storage Cheat Sheet names (19 MiB, 2, 1).
const WORK: (u32, u32, u32) = (19_456, 2, 1);
/// Bits of a token, over eight: 256 bits where ASVS 5.0 7.2.3 asks for 128.
const TOKEN_BYTES: usize = 32;

/// A new token, for a cookie or a link; only its hash is ever stored.
pub(super) fn token() -> String {
    let mut bytes = [0_u8; TOKEN_BYTES];
    rand::fill(&mut bytes);
    hex(&bytes)
}

/// Letters that no hand and no voice takes for another: without I, L, O and U.
const LETTERS: &[u8; 22] = b"ABCDEFGHJKMNPQRSTVWXYZ";
/// Letters that are typed: 35 bits, where ASVS 5.0 6.5.4 asks for 20.
pub(super) const TYPED_LETTERS: usize = 8;

/// New letters to type where no code can be read.
pub(super) fn letters() -> String {
    (0..TYPED_LETTERS)
        .filter_map(|_| LETTERS.get(rand::random_range(0..LETTERS.len())))
        .copied()
        .map(char::from)
        .collect()
}

/// What a token (or a name that failed to sign in) is stored as.
pub(super) fn hashed(token: &str) -> String {
    Fingerprint::of(token.as_bytes()).text().to_owned()
}

/// Hashes a password, off the threads that serve pages.
pub(super) async fn hash_password(password: String) -> Result<String, ActionError> {
    work(move || {
        let hash = argon2id()?.hash_password(password.as_bytes()).map_err(|error| error.to_string())?;
        Ok(hash.to_string())
    })
    .await
}

/// Whether a password is the one of a stored hash. Without a hash the same work is done and the answer is no, so that
/// time does not tell which names are somebody's.
pub(super) async fn is_password(password: String, stored: Option<String>) -> Result<bool, ActionError> {
    work(move || {
        let Some(stored) = stored else {
            argon2id()?.hash_password(password.as_bytes()).map_err(|error| error.to_string())?;
            return Ok(false);
        };
        let stored = PasswordHash::new(&stored).map_err(|error| error.to_string())?;
        Ok(argon2id()?.verify_password(password.as_bytes(), &stored).is_ok())
    })
    .await
}

fn argon2id() -> Result<Argon2<'static>, String> {
    let (memory, passes, lanes) = WORK;
    let params = Params::new(memory, passes, lanes, None).map_err(|error| error.to_string())?;
    Ok(Argon2::new(Algorithm::Argon2id, Version::V0x13, params))
}

async fn work<T: Send + 'static>(work: impl FnOnce() -> Result<T, String> + Send + 'static) -> Result<T, ActionError> {
    let done = tokio::task::spawn_blocking(work).await.map_err(|error| error.to_string());
    done.and_then(|done| done).map_err(ActionError::NotWorked)
}
