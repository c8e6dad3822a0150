//! `builds`: what is in the shop.

use std::path::Path;
use std::process::ExitCode;

use serde_json::json;

use crate::domain::hold::Hold;
use crate::startup::StartError;
use crate::store::Store;

/// Prints a line for each build.
pub(super) async fn list(folder: &Path, as_json: bool) -> Result<ExitCode, StartError> {
    let store = Store::open(folder).await?;
    let mut lines = Vec::new();
    for build in store.builds().await? {
        let hold = Hold::of(&store.rounds(build.id).await?, &store.replies(build.id).await?);
        let hold = match (&build.book, hold) {
            (None, _) => "no book".to_owned(),
            (_, Hold::NothingIssued) => "held, nothing issued".to_owned(),
            (_, Hold::Waiting(round)) => format!("held, round {round} waits"),
            (_, Hold::NotYet(round)) => format!("held, questions on round {round}"),
            (_, Hold::Early(early)) => format!("held, single joints released by round {}", early.round),
            (_, Hold::Released { round, .. }) => format!("released by round {round}"),
        };
        lines.push((build.slug, build.name, hold));
    }
    store.close().await;
    if as_json {
        let rows: Vec<_> =
            lines.iter().map(|(slug, name, hold)| json!({ "build": slug, "name": name, "hold": hold })).collect();
        println!("{}", serde_json::Value::Array(rows));
    } else {
        for (slug, name, hold) in &lines {
            println!("{slug:30}  {name:30}  {hold}");
        }
    }
    Ok(ExitCode::SUCCESS)
}
