//! The shop's bending dies: adding one, putting it away, its bender, recording and taking back test bends.

use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::shop::people::Deed;
use crate::domain::steel::dies::NewDie;
use crate::domain::steel::dies::{Bender, Die, TestBend};
use crate::domain::words::ids::DieId;

const ROOM: &str = "dies";

/// Adds a die. A second one for the same tube and radius is refused while the first is in use.
pub async fn add(ctx: &Context, new: NewDie) -> Result<Die, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    let NewDie { name, outside, radius, offset, bender } = new;
    let (id, name, tests) = (ctx.clock.new_id().into(), name.trim().to_owned(), Vec::new());
    let die = Die { id, name, outside, radius, offset, bender, tests, in_use: true, version: 1 };
    refuse(die.faults())?;
    let entry = ctx.shop_entry(ROOM, format!("The die “{}” was added.", die.name), json!({ "die": die }));
    let (at, by) = (ctx.clock.now(), ctx.by.name.clone());
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                refuse(die.beside(&write.dies().await?))?;
                write.add_die(&die, at, &by).await?;
                Ok((die, Some(entry)))
            })
        })
        .await
}

/// Puts a die away, so that no bar is bent over it any more, or takes it back in use.
pub async fn put_away(ctx: &Context, id: DieId, away: bool) -> Result<Die, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    let what = if away { "Put away" } else { "Taken back in use" };
    change(ctx, id, what, move |die, all| {
        die.in_use = !away;
        if away { Ok(()) } else { refuse(die.beside(all)) }
    })
    .await
}

/// Says which way the bender swings and counts that a die is on.
pub async fn state_bender(ctx: &Context, id: DieId, bender: Bender) -> Result<Die, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    let what = format!("Its bender swings to the {} and counts {} as plus", bender.swing.word(), bender.plus.word());
    change(ctx, id, what, move |die, _| {
        die.bender = bender;
        Ok(())
    })
    .await
}

/// Records a test bend of a die.
pub async fn record(ctx: &Context, id: DieId, test: TestBend) -> Result<Die, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    refuse(test.faults())?;
    change(ctx, id, "A test bend was recorded", move |die, _| {
        die.tests.push(test);
        Ok(())
    })
    .await
}

/// Takes a test bend back that was typed wrong, by its place from 0; the log keeps it.
pub async fn take_back(ctx: &Context, id: DieId, place: usize) -> Result<Die, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    change(ctx, id, "A test bend was taken back", move |die, _| {
        if place >= die.tests.len() {
            return Err(ActionError::NotFound("test bend"));
        }
        die.tests.remove(place);
        Ok(())
    })
    .await
}

async fn change(
    ctx: &Context,
    id: DieId,
    what: impl Into<String>,
    doing: impl FnOnce(&mut Die, &[Die]) -> Result<(), ActionError> + Send + 'static,
) -> Result<Die, ActionError> {
    let mut entry = ctx.shop_entry(ROOM, String::new(), json!({}));
    let what = what.into();
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let before = write.die(id).await?;
                let mut die = before.clone();
                doing(&mut die, &write.dies().await?)?;
                die.version += 1;
                refuse(die.faults())?;
                write.change_die(&die).await?;
                entry.what = format!("{what}: die “{}”.", die.name);
                entry.detail = json!({ "before": before, "die": die });
                Ok((die, Some(entry)))
            })
        })
        .await
}
