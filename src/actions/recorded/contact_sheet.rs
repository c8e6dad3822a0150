//! Making the contact sheet of a build's photographs.

use std::collections::BTreeMap;

use super::looking::Here;
use super::photos::Look;
use crate::actions::context::Context;
use crate::actions::error::ActionError;
use crate::documents::contact_sheet::{ContactSheet, Small, make};
use crate::documents::pdf::Jpeg;
use crate::domain::derived::findings::Findings;
use crate::domain::judge::shots::of_name;
use crate::domain::recorded::mark_ups::MarkUp;
use crate::domain::recorded::photos::Photo;
use crate::domain::shop::people::Deed;
use crate::domain::words::ids::BuildId;
use crate::store::vault::View;

/// Most photographs of one PDF; the next ones are in the next.
const MOST: usize = 400;

/// How many parts the contact sheet of so many photographs has.
pub const fn parts(photos: usize) -> usize {
    photos.div_ceil(MOST)
}

/// What a photograph is called under its picture: part and view, and the stage that it shows.
fn called(shot: &str) -> (String, String) {
    let Some((of, key)) = of_name(shot) else { return ("extra photograph".to_owned(), String::new()) };
    let (stage, view) = key.split_once('/').unwrap_or((key, ""));
    (format!("{of} {view}").trim_end().to_owned(), stage.replace('-', " "))
}

/// The contact sheet of the photographs that count, `part` from 1 of as many as there are parts of `MOST`. `found` is
/// what follows from the build: how the weld hold stands, and which photographs are of an earlier piece.
pub async fn draw(
    ctx: &Context,
    build: BuildId,
    part: usize,
    found: &Findings,
    look: &Look,
) -> Result<Vec<u8>, ActionError> {
    ctx.allow(Deed::SeeBuilds)?;
    let facts = ctx.store.facts(build).await?;
    let kept: Vec<(usize, &Photo)> = (1..).zip(facts.photos.iter().filter(|photo| photo.kept())).collect();
    let kept = kept.chunks(MOST).nth(part.saturating_sub(1)).ok_or(ActionError::NotFound("photo"))?;
    let mut pictures = BTreeMap::new();
    for (_, photo) in kept.iter().filter(|(_, photo)| photo.shows()) {
        let Some(here) = Here::recorded(ctx, photo) else { continue };
        match here.view(View::Thumb, look).await {
            Ok(held) => {
                pictures.extend(Jpeg::of(held.bytes().await?).map(|jpeg| (photo.sha256.clone(), jpeg)));
            }
            Err(ActionError::NotFound(_)) => {}
            Err(other) => return Err(other),
        }
    }
    let small = |(number, photo): &(usize, &Photo)| {
        let over = |mark: &&MarkUp| mark.sha256 == photo.sha256 && mark.is_shown();
        let at = photo.received.as_ref().map(|received| ctx.clock.minute_of(received.at)).unwrap_or_default();
        let (name, stage) = called(&photo.shot);
        Small {
            sha256: photo.sha256.clone(),
            number: *number,
            name,
            stage,
            description: match found.worked.pieces.photo(photo) {
                Some(_) => format!("of the earlier piece; {at}, {}", photo.by),
                None => format!("{at}, {}", photo.by),
            },
            drawn: facts.mark_ups.iter().filter(over).map(|mark| mark.drawn).collect(),
        }
    };
    let photos: Vec<Small> = kept.iter().map(small).collect();
    let book = facts.book.as_ref().map(|book| format!("{}, {}", book.name, book.edition)).unwrap_or_default();
    let (name, hold, made_by, day) = (facts.build.name, found.describe_hold(), ctx.by.name.clone(), ctx.clock.today());
    let work = move || {
        make(&ContactSheet {
            build: &name,
            book: &book,
            hold: &hold,
            photos: &photos,
            pictures: &pictures,
            made_by: &made_by,
            day,
        })
    };
    let made = tokio::task::spawn_blocking(work).await.map_err(|error| ActionError::NotWorked(error.to_string()))?;
    made.map_err(|error| ActionError::NotWorked(error.to_string()))
}
