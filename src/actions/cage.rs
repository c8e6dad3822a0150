//! Saving a build's cage.

use serde_json::json;

use super::context::{Context, refuse};
use super::error::ActionError;
use crate::domain::faults::Fault;
use crate::domain::fingerprint::Fingerprint;
use crate::domain::ids::BuildId;
use crate::domain::limits;
use crate::domain::people::Deed;

/// Saves a cage that nobody else has saved since `version` (0 when there was none); gives the new version.
pub async fn save(ctx: &Context, build: BuildId, version: i64, json: String) -> Result<i64, ActionError> {
    ctx.allow(Deed::SetUpBuilds)?;
    refuse(faults(&json))?;
    let detail = json!({ "version": version + 1, "sha256": Fingerprint::of(json.as_bytes()) });
    let what = if version == 0 { "The cage was laid out." } else { "The cage was changed." };
    let entry = ctx.entry("cage", build, what.to_owned(), detail);
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.build(build).await?;
                let saved = write.save_cage(build, version, &json).await?;
                Ok((saved, Some(entry)))
            })
        })
        .await
}

fn faults(json: &str) -> Vec<Fault> {
    if json.len() > limits::FORM_BYTES {
        return vec![Fault::new("cage", "A cage's record has at most 512 KiB.")];
    }
    match serde_json::from_str::<serde_json::Value>(json) {
        Ok(value) if value.is_object() => Vec::new(),
        Ok(_) => vec![Fault::new("cage", "A cage's record is a JSON object.")],
        Err(error) => vec![Fault::new("cage", format!("The cage's record does not read as JSON: {error}."))],
    }
}
