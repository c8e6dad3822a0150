//! `look-at-photo`: the bounded process in which a photograph from outside is decoded.

use std::process::ExitCode;

use crate::imaging;

/// Looks at the photograph at the standard input and gives its copies, and what was seen, at the standard output.
pub(super) fn look() -> ExitCode {
    let code = imaging::run_as_child(std::io::stdin().lock(), std::io::stdout().lock());
    u8::try_from(code).map_or(ExitCode::FAILURE, ExitCode::from)
}
