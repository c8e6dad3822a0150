//! Writing in a build's log.

use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::recorded::notes::NewNote;
use crate::domain::recorded::notes::{Ended, Note, Struck, Wait};
use crate::domain::shop::people::Deed;
use crate::domain::words::ids::{BuildId, NoteId};
use crate::domain::words::limits;

/// Adds a note to a build's log.
pub async fn add(ctx: &Context, build: BuildId, new: NewNote) -> Result<Note, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    refuse(new.faults(ctx.clock.today()))?;
    let waiting_on = new.waiting_on.trim().to_owned();
    let detail = json!({
        "day": new.day, "text": new.text.trim(), "hours": new.hours, "cost_minor": new.cost, "waiting_on": waiting_on,
    });
    let note = Note {
        id: ctx.clock.new_id().into(),
        build,
        day: new.day,
        text: new.text.trim().to_owned(),
        hours: new.hours,
        cost: new.cost,
        waits: (!waiting_on.is_empty()).then_some(Wait { on: waiting_on, ended: None }),
        written: ctx.clock.now(),
        by: ctx.by.name.clone(),
        struck: None,
    };
    let entry = ctx.entry("notes", build, "A note was written.".to_owned(), detail);
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.build(build).await?;
                write.add_note(&note).await?;
                Ok((note, Some(entry)))
            })
        })
        .await
}

/// Says that what a note waited for is over, and what became of it. Nothing else ends it; said twice, the first stands.
pub async fn end_wait(ctx: &Context, build: BuildId, id: NoteId, how: &str) -> Result<Note, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    let how = how.trim().to_owned();
    if !how.is_empty() {
        refuse(limits::title_faults("how", &how))?;
    }
    let ended = Ended { how, at: ctx.clock.now(), by: ctx.by.name.clone() };
    let mut entry = ctx.entry("notes", build, String::new(), json!({ "note": id, "how": ended.how }));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let note = write.note(build, id).await?;
                let Some(on) = note.waits_on().map(str::to_owned) else {
                    return if note.waits.is_some() { Ok((note, None)) } else { Err(ActionError::NotFound("wait")) };
                };
                write.end_wait(id, &ended).await?;
                let how =
                    if ended.how.is_empty() { String::new() } else { format!(" What became of it: {}.", ended.how) };
                entry.what = format!("Waited for no longer: {on}.{how}");
                let waits = Some(Wait { on, ended: Some(ended) });
                Ok((Note { waits, ..note }, Some(entry)))
            })
        })
        .await
}

/// Strikes a wrong line through and says why. The line itself never changes; struck twice, the first stands.
pub async fn strike(ctx: &Context, build: BuildId, id: NoteId, why: &str) -> Result<Note, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    let struck = Struck::of(why, ctx.clock.now(), &ctx.by.name).map_err(ActionError::Refused)?;
    let mut entry = ctx.entry("notes", build, String::new(), json!({ "note": id, "why": struck.why }));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let note = write.note(build, id).await?;
                if note.struck.is_some() {
                    return Ok((note, None));
                }
                write.strike_note(id, &struck).await?;
                entry.what = format!("The line of {} was struck through: {}", note.day, struck.why);
                Ok((Note { struck: Some(struck), ..note }, Some(entry)))
            })
        })
        .await
}
