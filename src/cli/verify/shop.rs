//! `verify --folder`: nothing kept was altered, or what was.

use std::path::Path;
use std::process::ExitCode;

use crate::actions;
use crate::cli::exits::SAYS_NO;
use crate::cli::opened::opened_to_read;
use crate::clock::Clock;
use crate::startup::StartError;

/// Checks a shop's folder and prints what is wrong with it.
pub(in crate::cli) async fn verify(folder: &Path) -> Result<ExitCode, StartError> {
    let store = opened_to_read(folder).await?;
    let report = actions::shop::health::verify(&store).await?;
    actions::shop::checks::remember(&store, &report, &Clock::of_machine()).await?;
    store.close().await;
    println!(
        "{} log entries, {} records, {} photographs, {} packets, {} mails and {} views were checked.",
        report.log.entries,
        report.rows,
        report.photos,
        report.packets,
        report.mails,
        report.views + report.unmarked_views
    );
    if report.unmarked_views > 0 {
        println!(
            "{} views were made by an earlier Tackbook and do not say of which photograph they are: they are shown to \
             nobody, and made again.",
            report.unmarked_views
        );
    }
    for stray in &report.strays {
        println!("No row names the file {stray}; it harms nothing.");
    }
    if report.good() {
        println!("All are as they were kept.");
        return Ok(ExitCode::SUCCESS);
    }
    for bad in &report.bad {
        println!("{bad}");
    }
    Ok(ExitCode::from(SAYS_NO))
}
