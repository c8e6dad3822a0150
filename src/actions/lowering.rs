//! Saying how a cage is lowered, and ticking off what was looked at for it.

use serde_json::json;

use super::context::{Context, refuse};
use super::error::ActionError;
use crate::domain::faults::Fault;
use crate::domain::ids::BuildId;
use crate::domain::limits;
use crate::domain::lowering::{Look, Lowering, UNDER, UP, WAY_UP};
use crate::domain::people::Deed;

const ROOM: &str = "lowering";

/// What was looked at, as it is entered.
#[derive(Debug, Clone, PartialEq)]
pub struct NewLook {
    /// The plate over which the hole is, or the way up.
    pub place: String,
    /// The hole as it is planned; empty for the way up.
    pub looked: Vec<f64>,
    /// What was ticked, by key.
    pub ticked: Vec<String>,
    /// What there is to say.
    pub note: String,
}

impl NewLook {
    fn faults(&self) -> Vec<Fault> {
        let mut faults = limits::text_faults("note", &self.note);
        let known = if self.place == WAY_UP { UP.as_slice() } else { UNDER.as_slice() };
        if !self.ticked.iter().all(|key| known.iter().any(|(one, _)| one == key)) {
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
    let at = if new.place == WAY_UP { "The way back up".to_owned() } else { format!("The floor under {}", new.place) };
    let ticked = if new.ticked.is_empty() { "nothing".to_owned() } else { new.ticked.join(", ") };
    let detail = json!({ "place": new.place, "looked": new.looked, "ticked": new.ticked, "note": new.note });
    let entry = ctx.entry(ROOM, build, format!("{at} was looked at; ticked: {ticked}."), detail);
    let look = Look {
        place: new.place,
        looked: new.looked,
        ticked: new.ticked,
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
