//! `look-at-photo`: the bounded process in which a photograph from outside is decoded.

use std::path::Path;
use std::process::ExitCode;

use crate::imaging;

/// Looks at a photograph and leaves its copies, and what was seen, in a folder.
pub(super) fn look(file: &Path, out: &Path) -> ExitCode {
    let code = imaging::run_as_child(file, out);
    u8::try_from(code).map_or(ExitCode::FAILURE, ExitCode::from)
}
