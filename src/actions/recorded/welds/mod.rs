//! Writing in the weld log.

pub mod order;

use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::actions::memory::Looked;
use crate::domain::recorded::notes::Struck;
use crate::domain::recorded::photos::Photo;
use crate::domain::recorded::welds::{Did, NewWeld, Weld, newest_of};
use crate::domain::shop::people::Deed;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::{BuildId, WeldLineId};
use crate::store::Write;

const ROOM: &str = "welds";
/// How often the hold is read again where the build moves on meanwhile.
const TRIES: usize = 5;

/// How the joint stood, and how far the build's log was, when that was read.
struct Stood {
    as_of: i64,
    held: Option<String>,
}

/// A line as it was entered, with the name that a phone gave it.
#[derive(Debug, Clone)]
struct Entered {
    new: NewWeld,
    id: Option<WeldLineId>,
}

/// What became of one try.
enum Tried {
    Kept(Box<Weld>),
    /// The build moved on since its hold was read: it may stand otherwise now.
    MovedOn(i64),
}

/// Adds a line. Whether the joint is released is read from what is recorded at that very moment: welding on a held joint is
/// written down as such, and never refused. `Stale` where somebody else wrote of this joint since the form was opened.
pub async fn record(ctx: &Context, build: BuildId, new: NewWeld) -> Result<Weld, ActionError> {
    recorded(ctx, build, Entered { new, id: None }).await
}

/// The same of a line that a phone kept until the shop answered: told under one name however often, it is one line.
pub async fn record_named(ctx: &Context, build: BuildId, new: NewWeld, id: WeldLineId) -> Result<Weld, ActionError> {
    recorded(ctx, build, Entered { new, id: Some(id) }).await
}

async fn recorded(ctx: &Context, build: BuildId, entered: Entered) -> Result<Weld, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    refuse(entered.new.faults(ctx.clock.today()))?;
    let mut now = 0;
    for _ in 0..TRIES {
        let stood = stood(ctx, build, &entered.new).await?;
        match tried(ctx, build, &entered, stood).await? {
            Tried::Kept(weld) => return Ok(*weld),
            Tried::MovedOn(to) => now = to,
        }
    }
    Err(ActionError::Stale { now })
}

/// How the joint stands now; refused where the cage has none such. An inspection is of a weld, and asks nothing of the hold.
async fn stood(ctx: &Context, build: BuildId, new: &NewWeld) -> Result<Stood, ActionError> {
    let Looked { facts, found } = ctx.looked(build).await?;
    let as_of = facts.as_of;
    if new.did.run().is_none() {
        return Ok(Stood { as_of, held: None });
    }
    let cage = &found.worked.cage;
    if cage.joint(new.joint).is_none() && cage.plate(new.joint).is_none() {
        let why = format!("The cage has no {}.", new.joint);
        return Err(ActionError::Refused(vec![Fault::new("joint", why)]));
    }
    refuse(photo_faults(new, &facts.photos))?;
    let day_of = |moment| ctx.clock.day_of(moment);
    let melts = new.did.on_the_joint().is_some();
    let held = if melts { found.why_held(&facts, new.joint, new.day, &day_of) } else { None };
    Ok(Stood { as_of, held })
}

/// A photograph that is named is one of this build's.
fn photo_faults(new: &NewWeld, photos: &[Photo]) -> Vec<Fault> {
    let named = new.did.run().and_then(|run| run.photo);
    let there = |capture| photos.iter().any(|photo| photo.capture == capture && photo.kept());
    match named {
        Some(capture) if !there(capture) => vec![Fault::new("photo", "This photograph is not among the build's.")],
        _ => Vec::new(),
    }
}

async fn tried(ctx: &Context, build: BuildId, entered: &Entered, stood: Stood) -> Result<Tried, ActionError> {
    let entered = entered.clone();
    let (at, by) = (ctx.clock.now(), ctx.by.name.clone());
    let mut entry = ctx.entry(ROOM, build, String::new(), json!({}));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.build(build).await?;
                let welds = write.welds(build).await?;
                if let Some(same) = there(write, build, &welds, &entered, &by).await? {
                    return Ok((Tried::Kept(Box::new(same)), None));
                }
                let Entered { new, id } = entered;
                let newest = newest_of(&welds, new.joint);
                if newest != new.seen {
                    return Err(ActionError::Stale { now: i64::from(newest) });
                }
                let now = write.as_of(build).await?;
                if now != stood.as_of {
                    return Ok((Tried::MovedOn(now), None));
                }
                refuse(new.faults_beside(&welds))?;
                let line = welds.last().map_or(1, |last| last.line + 1);
                let NewWeld { joint, day, did, note, seen: _ } = new;
                let weld = Weld {
                    line,
                    joint,
                    day,
                    did,
                    note: note.trim().to_owned(),
                    held: stood.held,
                    at,
                    by,
                    struck: None,
                };
                write.add_weld(build, &weld).await?;
                if let Some(id) = id {
                    write.name_weld(build, line, id).await?;
                }
                entry.what = told(&weld);
                entry.detail = json!({
                    "line": line, "joint": joint, "day": day, "did": weld.did, "note": weld.note, "held": weld.held,
                });
                Ok((Tried::Kept(Box::new(weld)), Some(entry)))
            })
        })
        .await
}

/// The line that is there already: told under this name before, or pressed twice.
async fn there(
    write: &mut Write,
    build: BuildId,
    welds: &[Weld],
    entered: &Entered,
    by: &str,
) -> Result<Option<Weld>, ActionError> {
    let Entered { new, id } = entered;
    if let Some(id) = id
        && let Some(line) = write.weld_named(build, *id).await?
    {
        return Ok(welds.iter().find(|weld| weld.line == line).cloned());
    }
    Ok(welds.last().filter(|last| new.says(last, by) && last.line > new.seen).cloned())
}

/// A line as the log tells it.
fn told(weld: &Weld) -> String {
    let Weld { joint, day, did, .. } = weld;
    let held = weld.held.as_ref().map(|why| format!(" WELDED WHILE HELD: {why}.")).unwrap_or_default();
    let by = match did {
        Did::Coupon(_) => format!("{joint}: a practice coupon was welded before it on {day}, by {}.", did.who()),
        _ => format!("{joint}: {} on {day}, by {}.", did.word(), did.who()),
    };
    format!("{by}{held}")
}

/// Strikes a wrong line through and says why. The line itself never changes; struck twice, the first stands.
pub async fn strike(ctx: &Context, build: BuildId, line: u32, why: &str) -> Result<Weld, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    let struck = Struck::of(why, ctx.clock.now(), &ctx.by.name).map_err(ActionError::Refused)?;
    let mut entry = ctx.entry(ROOM, build, String::new(), json!({ "line": line, "why": struck.why }));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let welds = write.welds(build).await?;
                let found = welds.into_iter().find(|weld| weld.line == line);
                let weld = found.ok_or(ActionError::NotFound("line of the weld log"))?;
                if weld.struck.is_some() {
                    return Ok((weld, None));
                }
                write.strike_weld(build, line, &struck).await?;
                let (joint, day) = (weld.joint, weld.day);
                entry.what =
                    format!("Line {line} of the weld log, {joint} of {day}, was struck through: {}", struck.why);
                Ok((Weld { struck: Some(struck), ..weld }, Some(entry)))
            })
        })
        .await
}
