//! Tokens, and the hashes that passwords and tokens are kept as.

use std::sync::mpsc::{Sender, channel};
use std::sync::{Arc, LazyLock, Mutex, PoisonError};
use std::thread::Builder;

use argon2::password_hash::phc::PasswordHash;
use argon2::{Algorithm, Argon2, Params, PasswordHasher as _, PasswordVerifier as _, Version};
use tokio::sync::oneshot;

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

/// Hashes a password, off the threads that serve pages, two at a time.
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

type Job = Box<dyn FnOnce() + Send>;

/// Threads that hash, one password at a time each: however many sign in, it takes the memory of two hashes and leaves the
/// pages their turns.
const THREADS: usize = 2;

/// The way to those threads; they begin with the first password and end with the program.
fn hashing() -> Sender<Job> {
    static WAY: LazyLock<Mutex<Sender<Job>>> = LazyLock::new(|| {
        let (way, jobs) = channel::<Job>();
        let jobs = Arc::new(Mutex::new(jobs));
        for _ in 0..THREADS {
            let jobs = Arc::clone(&jobs);
            let next = move || jobs.lock().unwrap_or_else(PoisonError::into_inner).recv();
            let working = move || {
                while let Ok(job) = next() {
                    job();
                }
            };
            if let Err(error) = Builder::new().name("hashing".to_owned()).spawn(working) {
                tracing::error!(%error, "a thread that hashes passwords could not be begun");
            }
        }
        Mutex::new(way)
    });
    WAY.lock().unwrap_or_else(PoisonError::into_inner).clone()
}

async fn work<T: Send + 'static>(work: impl FnOnce() -> Result<T, String> + Send + 'static) -> Result<T, ActionError> {
    let (answer, answered) = oneshot::channel();
    let job: Job = Box::new(move || {
        // whoever asked may have gone away: what nobody waits for is not worked
        if !answer.is_closed() {
            let _ = answer.send(work());
        }
    });
    let not_worked = || ActionError::NotWorked("nothing hashes passwords any more".to_owned());
    hashing().send(job).map_err(|_| not_worked())?;
    answered.await.map_err(|_| not_worked())?.map_err(ActionError::NotWorked)
}
