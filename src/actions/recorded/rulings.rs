//! Recording the scrutineer's rulings, and taking them back.

use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::actions::memory::Looked;
use crate::domain::derived::findings::Findings;
use crate::domain::recorded::rulings::{NewRuling, Ruling};
use crate::domain::shop::people::Deed;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::BuildId;
use crate::domain::words::limits;

const ROOM: &str = "rulings";

/// Records what the scrutineer ruled on a rule of the build's book.
pub async fn record(ctx: &Context, build: BuildId, new: NewRuling) -> Result<Ruling, ActionError> {
    ctx.allow(Deed::Reply)?;
    refuse(new.faults())?;
    let ruled = NewRuling {
        words: new.words.trim().to_owned(),
        given_by: new.given_by.trim().to_owned(),
        letter: new.letter.trim().to_owned(),
        ..new
    };
    let Looked { found, .. } = ctx.looked(build).await?;
    refuse(unknown(&ruled, &found, ctx))?;
    let mut ruling = Ruling {
        place: 0,
        edition: found.worked.rules.as_ref().map(|rules| rules.book.describe()).unwrap_or_default(),
        found: ruled.found(&found.worked.verdicts),
        ruled,
        recorded: ctx.clock.now(),
        by: ctx.by.name.clone(),
        taken_back: None,
    };
    let (of, ruled) = (ruling.ruled.of.map(|of| format!(" of {of}")).unwrap_or_default(), &ruling.ruled);
    let decided = ruled.decided();
    let what = format!("A ruling on “{}”{of} was recorded: {decided}, by {}.", ruled.rule, ruled.given_by);
    let detail = json!({
        "rule": ruled.rule, "of": ruled.of, "measure": ruled.measure, "stays": ruled.stays, "words": ruled.words,
        "given_by": ruled.given_by, "given": ruled.given, "capture": ruled.capture, "round": ruled.round,
        "letter": ruled.letter, "edition": ruling.edition, "found": ruling.found,
    });
    let entry = ctx.entry(ROOM, build, what, detail);
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                if let Some(capture) = ruling.ruled.capture {
                    let photo = write.photo(capture).await?.filter(|photo| photo.build == build);
                    photo.ok_or(ActionError::NotFound("photo"))?;
                }
                if let Some(number) = ruling.ruled.round
                    && !write.rounds(build).await?.iter().any(|round| round.number == number)
                {
                    return Err(ActionError::NotFound("round"));
                }
                ruling.place = write.rulings(build).await?.last().map_or(1, |last| last.place + 1);
                write.add_ruling(build, &ruling).await?;
                Ok((ruling, Some(entry)))
            })
        })
        .await
}

/// What the ruling speaks of that is not there.
fn unknown(ruled: &NewRuling, found: &Findings, ctx: &Context) -> Vec<Fault> {
    let mut faults = Vec::new();
    let known = |rule: &str| found.worked.verdicts.iter().any(|verdict| verdict.rule_id == rule);
    if !known(&ruled.rule) {
        faults.push(Fault::new("rule", "Choose a rule of this build's book."));
    } else if !found.worked.verdicts.iter().any(|verdict| ruled.speaks_of(verdict)) {
        faults.push(Fault::new("of", "The rule says nothing of this part that could be ruled on."));
    }
    if ruled.given > ctx.clock.today() {
        faults.push(Fault::new("given", "This day is still to come."));
    }
    faults
}

/// Takes a ruling back; it stays on the list with who, when and why.
pub async fn take_back(ctx: &Context, build: BuildId, place: u32, why: &str) -> Result<(), ActionError> {
    ctx.allow(Deed::Reply)?;
    refuse(limits::words_faults("why", why))?;
    let (at, by, why) = (ctx.clock.now(), ctx.by.name.clone(), why.trim().to_owned());
    let mut entry = ctx.entry(ROOM, build, String::new(), json!({ "place": place, "why": why }));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let ruling = write.rulings(build).await?.into_iter().find(|ruling| ruling.place == place);
                let ruled = ruling.ok_or(ActionError::NotFound("ruling"))?.ruled;
                write.take_back_ruling(build, place, at, (&by, &why)).await?;
                let of = ruled.of.map(|of| format!(" of {of}")).unwrap_or_default();
                entry.what = format!("The ruling on “{}”{of} was taken back: {why}", ruled.rule);
                Ok(((), Some(entry)))
            })
        })
        .await
}
