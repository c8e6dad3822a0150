//! The name of a content: its SHA-256 (FIPS 180-4) in lower-case hexadecimal.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};
use sha2::{Digest as _, Sha256};

/// SHA-256 of some bytes; nothing else can be one, so it is safe in a file's name.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Fingerprint(String);

/// The text is no SHA-256 in lower-case hexadecimal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("a fingerprint is 64 figures and letters from a to f")]
pub struct NoFingerprint;

impl Fingerprint {
    /// Of these bytes.
    pub fn of(bytes: &[u8]) -> Self {
        Self(hex(&Sha256::digest(bytes)))
    }

    /// Of what a hasher was given.
    pub(crate) fn of_hasher(hasher: Sha256) -> Self {
        Self(hex(&hasher.finalize()))
    }

    /// The 64 letters and figures.
    pub fn text(&self) -> &str {
        &self.0
    }

    /// The folder it lies in: its first two letters.
    pub(crate) fn shelf(&self) -> String {
        self.0.chars().take(2).collect()
    }
}

/// The first sixteen digits of a fingerprint or a log's hash in groups of four, as on a packet's cover.
pub fn short(text: &str) -> String {
    let digits: Vec<char> = text.chars().take(16).collect();
    digits.chunks(4).map(|four| four.iter().collect::<String>()).collect::<Vec<_>>().join(" ")
}

impl fmt::Display for Fingerprint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl FromStr for Fingerprint {
    type Err = NoFingerprint;
    fn from_str(text: &str) -> Result<Self, NoFingerprint> {
        let fits = text.len() == 64 && text.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f'));
        if fits { Ok(Self(text.to_owned())) } else { Err(NoFingerprint) }
    }
}

impl TryFrom<String> for Fingerprint {
    type Error = NoFingerprint;
    fn try_from(text: String) -> Result<Self, NoFingerprint> {
        text.parse()
    }
}

impl From<Fingerprint> for String {
    fn from(fingerprint: Fingerprint) -> Self {
        fingerprint.0
    }
}

/// Lower-case hexadecimal.
pub(crate) fn hex(bytes: &[u8]) -> String {
    use std::fmt::Write as _;
    bytes.iter().fold(String::with_capacity(bytes.len() * 2), |mut text, byte| {
        // writing to a String cannot fail
        let _ = write!(text, "{byte:02x}");
        text
    })
}

#[cfg(test)]
mod tests {
    use super::Fingerprint;

    /// NIST's example for SHA-256, the message "abc" (FIPS 180-4 example file).
    #[test]
    fn it_is_the_published_digest() {
        let expected = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(Fingerprint::of(b"abc").text(), expected);
        assert!(expected.parse::<Fingerprint>().is_ok());
    }

    #[test]
    fn no_path_gets_through() {
        let upper = "BA7816BF8F01CFEA414140DE5DAE2223B00361A396177A9CB410FF61F20015AD";
        for text in ["", "../../etc/passwd", "ba78", upper, &format!("../{}", "a".repeat(61))] {
            assert!(text.parse::<Fingerprint>().is_err(), "{text}");
        }
    }
}
