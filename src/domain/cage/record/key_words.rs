//! Keys of parts as a person reads them.

/// The words a key reads as.
pub fn words(key: &str) -> String {
    key.replace(['-', '/'], " ")
}
