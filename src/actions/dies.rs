//! The shop's bending dies: adding one, recording and taking back test bends.

use serde_json::json;

use super::context::{Context, refuse};
use super::error::ActionError;
use crate::domain::dies::{Die, TestBend};
use crate::domain::ids::DieId;
use crate::domain::people::Deed;
use crate::quantity::{Length, Typed};

const ROOM: &str = "dies";

/// A die as it is entered.
#[derive(Debug, Clone, PartialEq)]
pub struct NewDie {
    /// What it is called in the shop.
    pub name: String,
    /// The tube's outside diameter.
    pub outside: Typed<Length>,
    /// The centre-line radius.
    pub radius: Typed<Length>,
    /// From the die's mark to where the bend begins.
    pub offset: Typed<Length>,
}

/// Adds a die.
pub async fn add(ctx: &Context, new: NewDie) -> Result<Die, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    let NewDie { name, outside, radius, offset } = new;
    let name = name.trim().to_owned();
    let die = Die { id: ctx.clock.new_id().into(), name, outside, radius, offset, tests: Vec::new(), version: 1 };
    refuse(die.faults())?;
    let entry = ctx.shop_entry(ROOM, format!("The die “{}” was added.", die.name), json!({ "die": die }));
    let (at, by) = (ctx.clock.now(), ctx.by.name.clone());
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.add_die(&die, at, &by).await?;
                Ok((die, Some(entry)))
            })
        })
        .await
}

/// Records a test bend of a die.
pub async fn record(ctx: &Context, id: DieId, test: TestBend) -> Result<Die, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    refuse(test.faults())?;
    change(ctx, id, "A test bend was recorded", move |die| {
        die.tests.push(test);
        Ok(())
    })
    .await
}

/// Takes a test bend back that was typed wrong, by its place from 0; the log keeps it.
pub async fn take_back(ctx: &Context, id: DieId, place: usize) -> Result<Die, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    change(ctx, id, "A test bend was taken back", move |die| {
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
    what: &'static str,
    doing: impl FnOnce(&mut Die) -> Result<(), ActionError> + Send + 'static,
) -> Result<Die, ActionError> {
    let mut entry = ctx.shop_entry(ROOM, String::new(), json!({}));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let before = write.die(id).await?;
                let mut die = before.clone();
                doing(&mut die)?;
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
