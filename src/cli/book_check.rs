//! `book check`: a rule book's mistakes, each with its line, what is wrong and what was expected.

use std::path::Path;
use std::process::ExitCode;

use super::exits::{SAYS_NO, WRONG_CALL};
use super::reading;
use crate::domain::book;
use crate::domain::words::limits;
use crate::startup::StartError;

/// Reads the book and prints what is wrong with it.
pub(super) fn check(file: &Path) -> Result<ExitCode, StartError> {
    let most = u64::try_from(limits::BOOK_BYTES).unwrap_or(u64::MAX);
    let Some(toml) = reading::text(file, most)? else { return Ok(ExitCode::from(WRONG_CALL)) };
    match book::read(&toml) {
        Ok(book) => {
            println!("{} reads without a mistake: {} rules.", file.display(), book.rules().count());
            Ok(ExitCode::SUCCESS)
        }
        Err(mistakes) => {
            for mistake in &mistakes {
                println!("{}", mistake.show(&toml, &file.display().to_string()));
            }
            Ok(ExitCode::from(SAYS_NO))
        }
    }
}
