//! Saying how a cage is lowered, and ticking off what was looked at for it.

use serde_json::json;

use super::context::{Context, refuse};
use super::error::ActionError;
use crate::domain::derived::lowering_steps::{TICK, Task};
use crate::domain::recorded::lowering::{Look, Lowering};
use crate::domain::shop::people::Deed;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::BuildId;
use crate::domain::words::limits;
use crate::domain::work::lowering::{UNDER, UP};

const ROOM: &str = "lowering";

/// What was looked at, as it is entered.
#[derive(Debug, Clone, PartialEq)]
pub struct NewLook {
    /// The plate over which the hole is, or the step that is ticked.
    pub place: String,
    /// The plan it is ticked for, by its mark.
    pub plan: String,
    /// The hole as it is planned; empty for a step.
    pub looked: Vec<f64>,
    /// What was ticked, by key.
    pub ticked: Vec<String>,
    /// What there is to say.
    pub note: String,
}

impl NewLook {
    fn faults(&self) -> Vec<Fault> {
        let mut faults = limits::text_faults("note", &self.note);
        let known: Vec<&str> = match Task::ticked_at(&self.place) {
            Some(Task::Up) => UP.iter().map(|(key, _)| *key).collect(),
            Some(_) => vec![TICK],
            None => UNDER.iter().map(|(key, _)| *key).collect(),
        };
        if !self.ticked.iter().all(|key| known.contains(&key.as_str())) {
            faults.push(Fault::new("ticked", "This is not on the list. Open the sheet again."));
        }
        faults
    }
}

/// Says whether and how a cage is lowered; the newest counts.
pub async fn plan(ctx: &Context, build: BuildId, lowering: Lowering) -> Result<(), ActionError> {
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
