//! Files of a test's own folder put in place, altered or taken away behind the program's back.

use std::path::Path;

/// Writes a file, over what was there.
#[expect(clippy::disallowed_methods, reason = "a test writes only to its own folder")]
pub(crate) fn put(file: &Path, bytes: &[u8]) {
    std::fs::write(file, bytes).unwrap();
}

/// Takes a file away.
#[expect(clippy::disallowed_methods, reason = "a test takes away only from its own folder")]
pub(crate) fn gone(file: &Path) {
    std::fs::remove_file(file).unwrap();
}
