//! `packet`: the packet of a build as it stands, or a round as it was issued.

use std::fs::File;
use std::io::Write as _;
use std::path::Path;
use std::process::ExitCode;

use super::exits::SAYS_NO;
use super::opened::opened_to_read;
use crate::actions::recorded::{looking, packet};
use crate::actions::shop::signing::fingerprint;
use crate::actions::{ActionError, Context};
use crate::clock::Clock;
use crate::domain::recorded::rounds::ReleaseRequest;
use crate::domain::shop::signing::RoundSignature;
use crate::domain::words::ids::BuildId;
use crate::quantity::Units;
use crate::startup::StartError;

/// Writes the draft of a build's packet, or a round's packet byte for byte, into a file.
pub(super) async fn write(
    folder: &Path,
    slug: &str,
    round: Option<u32>,
    units: Units,
    out: &Path,
) -> Result<ExitCode, StartError> {
    let file = |why| StartError::File { file: out.display().to_string(), why };
    let store = opened_to_read(folder).await?;
    let Some(build) = store.build_by_slug(slug).await? else {
        eprintln!("There is no build “{slug}” in this shop. `tackbook builds` lists them.");
        return Ok(ExitCode::from(SAYS_NO));
    };
    let ctx = Context::of_the_machine(store.clone(), Clock::of_machine());
    let program = std::env::current_exe().map_err(file)?;
    let look = looking::in_child(store.clone(), program);
    let made = match round {
        Some(number) => issued(&ctx, build.id, number).await,
        None => packet::draft(&ctx, build.id, ReleaseRequest::WholeCage, units, &look).await.map(|pdf| (pdf, None)),
    };
    store.close().await;
    let (pdf, signature) = match made {
        Ok(made) => made,
        Err(ActionError::Held(why)) => {
            eprintln!("{why}");
            return Ok(ExitCode::from(SAYS_NO));
        }
        Err(ActionError::NotFound(what)) => {
            eprintln!("There is no such {what} of “{slug}”.");
            return Ok(ExitCode::from(SAYS_NO));
        }
        Err(other) => return Err(other.into()),
    };
    File::create(out).and_then(|mut file| file.write_all(&pdf)).map_err(file)?;
    println!("{}: {} kB", out.display(), pdf.len().div_ceil(1000));
    if let Some(signed) = signature {
        let beside = format!("{}.sig", out.display());
        let file = |why| StartError::File { file: beside.clone(), why };
        File::create(&beside).and_then(|mut file| file.write_all(signed.signature.as_bytes())).map_err(file)?;
        println!("{beside}: its signature, by the key {}", fingerprint(&signed.public));
    } else if round.is_some() {
        println!("It was issued before packets were signed: it has no signature.");
    }
    Ok(ExitCode::SUCCESS)
}

/// A round's packet with its signature.
async fn issued(ctx: &Context, build: BuildId, round: u32) -> Result<(Vec<u8>, Option<RoundSignature>), ActionError> {
    let pdf = packet::issued(ctx, build, round).await?.1;
    Ok((pdf, packet::signature(ctx, build, round).await?))
}
