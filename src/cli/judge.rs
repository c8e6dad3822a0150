//! `judge`: what each rule of a book says of a build file, without a shop.

use std::path::Path;
use std::process::ExitCode;

use jiff::civil::Date;

use super::exits::{SAYS_NO, WRONG_CALL};
use super::reading;
use crate::clock::Clock;
use crate::domain::book;
use crate::domain::book::Force;
use crate::domain::book::in_force::OutOfForce;
use crate::domain::derived::build_file::BuildFile;
use crate::domain::derived::findings::Findings;
use crate::domain::judge::verdicts::Verdict;
use crate::domain::words::limits;
use crate::quantity::Units;
use crate::startup::StartError;

/// A build file is at most so large: thousands of photographs are named in it many times over.
const MOST_BYTES: u64 = 16 << 20;

/// Judges the build and prints every verdict; says no when a rule that must be kept is broken, and when the edition is not in
/// force on the day of the event, today where none is set: what it says is no yes for that day.
pub(super) fn judge(
    book: &Path,
    build: &Path,
    day: Option<Date>,
    units: Units,
    json: bool,
) -> Result<ExitCode, StartError> {
    let most_book = u64::try_from(limits::BOOK_BYTES).unwrap_or(u64::MAX);
    let (Some(toml), Some(text)) = (reading::text(book, most_book)?, reading::text(build, MOST_BYTES)?) else {
        return Ok(ExitCode::from(WRONG_CALL));
    };
    if let Err(mistakes) = book::read(&toml) {
        for mistake in &mistakes {
            eprintln!("{}", mistake.show(&toml, &book.display().to_string()));
        }
        return Ok(ExitCode::from(WRONG_CALL));
    }
    let facts = match BuildFile::read(&text) {
        Ok(file) => file.facts(&toml),
        Err(faults) => {
            for fault in faults {
                eprintln!("{}: {fault}", build.display());
            }
            return Ok(ExitCode::from(WRONG_CALL));
        }
    };
    let found = Findings::of(&facts, day.unwrap_or_else(|| Clock::of_machine().today()));
    let out_of_force = found.worked.out_of_force.as_ref().map(OutOfForce::describe);
    if json {
        // The verdicts alone are the data; what is wrong with judging by them goes beside it.
        if let Some(description) = &out_of_force {
            eprintln!("{description}");
        }
        println!("{}", serde_json::to_string(&found.worked.verdicts).unwrap_or_default());
    } else {
        if let Some(description) = &out_of_force {
            println!("{description} What follows is by that edition all the same.");
        }
        for verdict in &found.worked.verdicts {
            println!("{}", line(verdict, units));
        }
        println!("The tool approves nothing: the body's current book and its scrutineer decide.");
    }
    let broken = found.worked.verdicts.iter().any(|verdict| verdict.force == Force::Must && verdict.word.fails());
    Ok(if broken || out_of_force.is_some() { ExitCode::from(SAYS_NO) } else { ExitCode::SUCCESS })
}

/// A verdict as a line: clause, part, word, figure against limit, margin, what it rests on.
fn line(verdict: &Verdict, units: Units) -> String {
    let of = verdict.of.map(|of| format!(" {of}")).unwrap_or_default();
    let measure = verdict.measure.map(|measure| format!(" {}", measure.word())).unwrap_or_default();
    let limit = verdict.limit.as_ref().map(|limit| limit.text.as_str()).unwrap_or_default();
    let figure = match (verdict.describe_figure(units), limit.is_empty()) {
        (figure, true) => figure,
        (figure, false) if figure.is_empty() => limit.to_owned(),
        (figure, false) => format!("{figure} against {limit}"),
    };
    let parts = [figure, verdict.describe_margin(units), verdict.basis()];
    let parts: Vec<String> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    format!("{} {}{of}{measure}: {}. {}", verdict.clause, verdict.rule_id, verdict.describe(units), parts.join(". "))
}
