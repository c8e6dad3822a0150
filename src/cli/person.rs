//! `person`: sign-ins from the shop's own machine, for when nobody can sign in to give one.

use std::path::Path;
use std::process::ExitCode;

use clap::Subcommand;

use super::exits::WRONG_CALL;
use super::opened::opened;
use crate::actions::{self, ActionError, Context};
use crate::clock::Clock;
use crate::domain::shop::people::{Person, Role};
use crate::startup::StartError;

/// What is done with a sign-in.
#[derive(Debug, Subcommand)]
pub(super) enum Deed {
    /// List everybody with a sign-in.
    List,
    /// Add a sign-in; its password is made and printed, once.
    Add {
        /// The name to sign in with.
        name: String,
        /// What the person is to the shop.
        #[arg(long, value_parser = ["fabricator", "office", "scrutineer"], default_value = "fabricator")]
        role: String,
    },
    /// Give a sign-in another password, made and printed once; it is signed out everywhere.
    Reset {
        /// The name to sign in with.
        name: String,
    },
    /// Remove a sign-in. What was recorded stays, under its name.
    Remove {
        /// The name to sign in with.
        name: String,
    },
}

/// Does it and prints what came of it.
pub(super) async fn act(folder: &Path, deed: &Deed) -> Result<ExitCode, StartError> {
    let store = opened(folder).await?;
    let ctx = Context::of_the_machine(store.clone(), Clock::of_machine());
    let done = done(&ctx, deed).await;
    store.close().await;
    match done {
        Ok(said) => {
            println!("{said}");
            Ok(ExitCode::SUCCESS)
        }
        Err(ActionError::Refused(faults)) => {
            for fault in &faults {
                eprintln!("{}", fault.why);
            }
            Ok(ExitCode::from(WRONG_CALL))
        }
        Err(ActionError::NotFound(_)) => {
            eprintln!("Nobody here is called that. `tackbook person --folder FOLDER list` names everybody.");
            Ok(ExitCode::from(WRONG_CALL))
        }
        Err(other) => Err(other.into()),
    }
}

async fn done(ctx: &Context, deed: &Deed) -> Result<String, ActionError> {
    match deed {
        Deed::List => {
            let people = ctx.store.people().await?;
            let line = |person: &Person| format!("{:30}  {}", person.name, person.role.word());
            Ok(people.iter().map(line).collect::<Vec<_>>().join("\n"))
        }
        Deed::Add { name, role } => {
            let password = actions::shop::people::made_password();
            let role = Role::of(role).ok_or(ActionError::NotFound("role"))?;
            let person = actions::shop::people::add(ctx, name, role, &password).await?;
            Ok(format!("{} was added, {}. Password, shown once: {password}", person.name, role.word()))
        }
        Deed::Reset { name } => {
            let password = actions::shop::people::made_password();
            let person = actions::shop::people::reset_password(ctx, named(ctx, name).await?.id, &password).await?;
            Ok(format!("{} is signed out everywhere. New password, shown once: {password}", person.name))
        }
        Deed::Remove { name } => {
            let person = named(ctx, name).await?;
            actions::shop::people::remove(ctx, person.id).await?;
            Ok(format!("{} was removed. What they recorded stays.", person.name))
        }
    }
}

/// The person of a name, capitals or not.
async fn named(ctx: &Context, name: &str) -> Result<Person, ActionError> {
    let found = actions::shop::people::called(&ctx.store, name).await?;
    found.map(|found| found.person).ok_or(ActionError::NotFound("person"))
}
