//! Adding sticks to the rack and giving them to builds.

use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::shop::people::Deed;
use crate::domain::shop::stock::BarCut;
use crate::domain::shop::stock::{Cut, Stick, Taken};
use crate::domain::shop::stock::{Delivered, NewStick};
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::{BuildId, Kind, StickId};
use crate::store::Entry;

pub(super) const ROOM: &str = "stock";

/// Adds a stick to the rack.
pub async fn add_stick(ctx: &Context, new: NewStick) -> Result<Stick, ActionError> {
    let none = ActionError::NotFound("stick");
    add_sticks(ctx, Delivered { stick: new, count: 1 }).await?.into_iter().next().ok_or(none)
}

/// Adds sticks that came together to the rack, each with its own number: all of them or none.
pub async fn add_sticks(ctx: &Context, new: Delivered) -> Result<Vec<Stick>, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    refuse(new.faults())?;
    let Delivered { stick: new, count } = new;
    let detail = json!({
        "size": new.size.text, "grade": new.grade, "heat": new.heat, "length": new.length.text,
        "certificate": new.certificate,
    });
    let one = |_| Stick {
        id: ctx.clock.new_id().into(),
        number: 0,
        size: new.size.clone(),
        grade: new.grade.trim().to_owned(),
        heat: new.heat.trim().to_owned(),
        length: new.length.clone(),
        certificate: new.certificate,
        given_to: None,
        added: ctx.clock.now(),
        by: ctx.by.name.clone(),
    };
    let sticks: Vec<Stick> = (0..count).map(one).collect();
    let entry = ctx.shop_entry(ROOM, String::new(), detail);
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                if let Some(certificate) = new.certificate {
                    write.photo(certificate).await?.ok_or(ActionError::NotFound("certificate"))?;
                }
                let mut added = Vec::new();
                for mut stick in sticks {
                    stick.number = write.next_stick().await?;
                    write.add_stick(&stick).await?;
                    let what = format!(
                        "{} was put on the rack: {}, {}.",
                        stick.describe_number(),
                        stick.size.value,
                        stick.length.text
                    );
                    write.log(Entry { what, ..entry.clone() }).await?;
                    added.push(stick);
                }
                Ok((added, None))
            })
        })
        .await
}

/// Gives a stick to a build, or back to the rack.
pub async fn give(ctx: &Context, id: StickId, build: Option<BuildId>) -> Result<Stick, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    let mut entry = ctx.shop_entry(ROOM, String::new(), json!({ "stick": id }));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let mut stick = write.stick(id).await?;
                if let Some(to) = build.filter(|to| stick.given_to != Some(*to))
                    && write.has_stick_numbered(to, stick.number, id).await?
                {
                    let why = "of the shop that built it. Put this one on the rack anew: it gets a number of its own";
                    return Err(ActionError::Held(format!("This car has another S{}, {why}.", stick.number)));
                }
                if build.is_none() && stick.given_to.is_some() && write.came_with_a_car(id).await? {
                    let why = "came with this car, from another shop: it was never on this rack";
                    return Err(ActionError::Held(format!("S{} {why}.", stick.number)));
                }
                entry.what = match (stick.given_to, build) {
                    (now, wanted) if now == wanted => return Ok((stick, None)),
                    (Some(_), Some(_)) => {
                        let why = format!("S{} is another build's. Put it back on the rack first.", stick.number);
                        return Err(ActionError::Held(why));
                    }
                    (_, Some(to)) => format!("S{} was given to {}.", stick.number, write.build(to).await?.name),
                    (_, None) => format!("S{} was put back on the rack.", stick.number),
                };
                entry.build = build.or(stick.given_to);
                write.give_stick(id, build).await?;
                stick.given_to = build;
                Ok((stick, Some(entry)))
            })
        })
        .await
}

/// Records which sticks bars were cut from, each with what it took of its stick by the model and the saw as they are now.
/// All of them are recorded or none. Cut from another stick, the newest counts for the bar; said twice, it is recorded once.
pub async fn cut_bars(ctx: &Context, build: BuildId, bars: &[BarCut]) -> Result<Vec<Cut>, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    if let Some(BarCut { member, .. }) = bars.iter().find(|bar| bar.member.kind != Kind::Member) {
        let why = format!("{member} is no bar. A bar's balloon is M and a number, like M3.");
        return Err(ActionError::Refused(vec![Fault::new("member", why)]));
    }
    let saw = ctx.store.saw().await?.unwrap_or_default();
    let cage = &ctx.looked(build).await?.found.worked.cage;
    // Of a bar that is not in the cage nobody knows what it takes.
    let taken = |bar: &BarCut| cage.member(bar.member).map(|member| Taken::of(member, &saw));
    let description: Vec<(Cut, bool, Entry)> = bars.iter().map(|bar| cut(ctx, build, *bar, taken(bar))).collect();
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.build(build).await?;
                let mut cuts = Vec::new();
                for (cut, again, mut entry) in description {
                    let from = write.stick(cut.stick).await?;
                    let there = write.cut_of(build, cut.member).await?.filter(|there| there.stick == cut.stick);
                    if let Some(there) = there.as_ref().filter(|_| !again) {
                        cuts.push(there.clone());
                        continue;
                    }
                    write.add_cut(build, &cut).await?;
                    let again = if there.is_some() { " again" } else { "" };
                    entry.what = format!("{} was cut{again} from S{}.", cut.member, from.number);
                    write.log(entry).await?;
                    cuts.push(cut);
                }
                Ok((cuts, None))
            })
        })
        .await
}

pub(super) fn cut(ctx: &Context, build: BuildId, bar: BarCut, taken: Option<Taken>) -> (Cut, bool, Entry) {
    let BarCut { member, stick, again } = bar;
    let cut = Cut { member, stick, at: ctx.clock.now(), by: ctx.by.name.clone(), taken };
    let entry = ctx.entry(ROOM, build, String::new(), json!({ "member": member, "stick": stick, "taken": taken }));
    (cut, again, entry)
}
