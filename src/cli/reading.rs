//! Reading a text of bounded size; what is too large or no text is told with its line.

use std::fs::File;
use std::io::Read as _;
use std::path::Path;

use crate::startup::StartError;

/// The text of a file; none, and said so, when it is too large or no text.
pub(super) fn text(file: &Path, most: u64) -> Result<Option<String>, StartError> {
    let unread = |why| StartError::File { file: file.display().to_string(), why };
    let mut bytes = Vec::new();
    let opened = File::open(file).map_err(unread)?;
    let read = opened.take(most.saturating_add(1)).read_to_end(&mut bytes).map_err(unread)?;
    if u64::try_from(read).is_ok_and(|read| read > most) {
        eprintln!("{} has more than {most} bytes; no more are read.", file.display());
        return Ok(None);
    }
    match String::from_utf8(bytes) {
        Ok(text) => Ok(Some(text)),
        Err(error) => {
            let good = error.as_bytes().iter().take(error.utf8_error().valid_up_to());
            let line = good.filter(|byte| **byte == b'\n').count() + 1;
            eprintln!("{}:{line}: From here on this is no text. Save it as UTF-8.", file.display());
            Ok(None)
        }
    }
}
