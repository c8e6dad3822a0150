//! Saying how a cage is lowered, and ticking off what was looked at for it.

use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::derived::lowering_steps::NewLook;
use crate::domain::derived::lowering_steps::Task;
use crate::domain::recorded::lowering::{Look, Lowering};
use crate::domain::shop::people::Deed;
use crate::domain::words::ids::BuildId;
use crate::store::Stated;

const ROOM: &str = "lowering";

/// Says whether and how a cage is lowered; the newest counts. `Stale` where somebody said otherwise than what was before the
/// writer, the statement `over`.
pub async fn plan(ctx: &Context, build: BuildId, lowering: Lowering, over: Option<i64>) -> Result<(), ActionError> {
    ctx.allow(Deed::SetUpBuilds)?;
    refuse(lowering.settings.faults())?;
    let what = if lowering.wanted {
        format!("The cage will be lowered: room for the torch {}.", lowering.settings.room.text)
    } else {
        "The cage will not be lowered.".to_owned()
    };
    let detail = json!({ "wanted": lowering.wanted, "settings": lowering.settings });
    let entry = ctx.entry(ROOM, build, what, detail);
    let (at, by) = (ctx.clock.now(), ctx.by.name.clone());
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.build(build).await?;
                write.states_over(Stated::Lowering(build), over).await?;
                write.add_lowering(build, &lowering, at, &by).await?;
                Ok(((), Some(entry)))
            })
        })
        .await
}

/// Records what a person looked at and ticked; the newest of a place counts, and the older ones stay.
pub async fn look(ctx: &Context, build: BuildId, new: NewLook) -> Result<(), ActionError> {
    ctx.allow(Deed::RecordWork)?;
    refuse(new.faults())?;
    let ticked = if new.ticked.is_empty() { "nothing".to_owned() } else { new.ticked.join(", ") };
    let what = match Task::ticked_at(&new.place) {
        Some(Task::Up) => format!("The way back up was looked at; ticked: {ticked}."),
        Some(task) if new.ticked.is_empty() => format!("A step of the lowering was taken back: {}.", task.gives()),
        Some(task) => format!("A step of the lowering was ticked: {}.", task.gives()),
        None => format!("The floor under {} was looked at; ticked: {ticked}.", new.place),
    };
    let detail =
        json!({ "place": new.place, "plan": new.plan, "looked": new.looked, "ticked": new.ticked, "note": new.note });
    let entry = ctx.entry(ROOM, build, what, detail);
    let look = Look {
        place: new.place,
        looked: new.looked,
        ticked: new.ticked,
        plan: new.plan,
        note: new.note.trim().to_owned(),
        at: ctx.clock.now(),
        by: ctx.by.name.clone(),
    };
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.build(build).await?;
                write.add_look(build, &look).await?;
                Ok(((), Some(entry)))
            })
        })
        .await
}
