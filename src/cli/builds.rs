//! `builds`: what is in the shop.

use std::path::Path;
use std::process::ExitCode;

use serde_json::json;

use super::opened::opened;
use crate::clock::Clock;
use crate::domain::derived::findings::Findings;
use crate::startup::StartError;

/// Prints a line for each build.
pub(super) async fn list(folder: &Path, as_json: bool) -> Result<ExitCode, StartError> {
    let store = opened(folder).await?;
    let today = Clock::of_machine().today();
    let mut lines = Vec::new();
    for build in store.builds().await? {
        let hold = match &build.book {
            None => "log only".to_owned(),
            Some(_) => Findings::of(&store.facts(build.id).await?, today).hold_short(),
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
