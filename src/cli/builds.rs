//! `builds`: what is in the shop.

use std::path::Path;
use std::process::ExitCode;

use serde_json::json;

use super::opened::opened_to_read;
use crate::actions::{Context, Looked};
use crate::clock::Clock;
use crate::startup::StartError;

/// Prints a line for each build.
pub(super) async fn list(folder: &Path, as_json: bool) -> Result<ExitCode, StartError> {
    let store = opened_to_read(folder).await?;
    let ctx = Context::of_the_machine(store.clone(), Clock::of_machine());
    let line = |Looked { facts, found }: Looked| {
        let hold = if facts.build.book.is_none() { "log only".to_owned() } else { found.hold_short() };
        (facts.build.slug.clone(), facts.build.name.clone(), hold)
    };
    let lines: Vec<_> = ctx.looked_at_all().await?.into_iter().map(line).collect();
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
