//! An item's way through the cars, and the form that moves it on.

use std::collections::HashMap;

use crate::domain::book;
use crate::domain::book::RuleBook;
use crate::domain::judge::verdicts::{Verdict, Word, judge_item};
use crate::domain::recorded::kit::KitItem;
use crate::domain::recorded::kit::moves::{Moving, Stay, Way};
use crate::domain::words::ids::BookId;
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::problem::Problem;

/// Another car of the shop, and what its book would say of the item.
pub(super) struct Other {
    pub(super) id: String,
    pub(super) car: String,
    pub(super) to: String,
    pub(super) event_day: String,
    pub(super) judged: Vec<(Word, String)>,
    fails: Option<String>,
}

/// What the sheet shows of moving.
pub(super) struct MoveForm {
    pub(super) others: Vec<Other>,
    pub(super) fields: Vec<Field>,
    pub(super) version: i64,
    /// What is asked before an item goes where it is not good.
    pub(super) sure: Option<String>,
}

/// A time in one car as it is read.
pub(super) struct Was {
    pub(super) description: String,
    /// Where it was; empty for a car that is not in this shop.
    pub(super) to: String,
    pub(super) why: String,
    pub(super) label: String,
    /// Address and words of each photograph.
    pub(super) photos: Vec<(String, String)>,
}

/// An item's way, from its first car on; empty for one that never moved.
pub(super) fn ways(seen: &Seen, item: crate::domain::words::ids::KitId) -> Vec<Was> {
    let way = seen.facts.kit_ways.iter().find(|way| way.item == item);
    way.map(|way| way.stays.iter().map(|stay| was(seen, stay)).collect()).unwrap_or_default()
}

/// Those that went on from here.
pub(super) fn gone(seen: &Seen) -> impl Iterator<Item = (&Way, &Stay)> {
    let ways = seen.facts.kit_ways.iter();
    ways.filter_map(|way| Some((way, way.here().filter(|here| here.went.is_some())?)))
}

fn was(seen: &Seen, stay: &Stay) -> Was {
    let clock = &seen.who.ctx.clock;
    let day_of = |moment| clock.day_of(moment);
    let label = &stay.item.label;
    let shown = [label.standard.clone(), label.serial.clone()].into_iter().filter(|text| !text.is_empty());
    let at = |last: &str| if stay.slug.is_empty() { String::new() } else { format!("/builds/{}/{last}", stay.slug) };
    Was {
        description: stay.describe(&day_of),
        to: at(&format!("kit/K{}", stay.item.number)),
        why: stay.went.as_ref().map(|(_, why)| why.clone()).unwrap_or_default(),
        label: shown.chain(label.dates()).collect::<Vec<_>>().join(", "),
        photos: stay
            .photos
            .iter()
            .map(|photo| {
                let to = at(&format!("photos/{}", photo.sha256.text()));
                (to, format!("{}, {}", photo.shot, day_of(photo.declared)))
            })
            .collect(),
    }
}

/// Every other car of the shop with what its book says of the item, for its own event.
pub(super) async fn others(seen: &Seen, item: &KitItem) -> Result<Vec<Other>, Problem> {
    let (store, today) = (&seen.who.ctx.store, seen.who.ctx.clock.today());
    let mut books: HashMap<BookId, Option<RuleBook>> = HashMap::new();
    let mut others = Vec::new();
    for build in store.builds().await?.into_iter().filter(|build| build.id != seen.build()) {
        if let Some(id) = build.book
            && !books.contains_key(&id)
        {
            let rules = store.book(id).await?.and_then(|book| book::read(&book.toml).ok());
            books.insert(id, rules);
        }
        let rules = build.book.and_then(|id| books.get(&id)).and_then(Option::as_ref);
        let verdicts = rules.map(|rules| judge_item(rules, item, build.event_day, today)).unwrap_or_default();
        let describe = |verdict: &Verdict| {
            let limit = verdict.limit.as_ref().map(|limit| format!("{}, ", limit.text)).unwrap_or_default();
            format!("{limit}{}. {}", verdict.describe_state(seen.who.units), verdict.reasons().join(" "))
        };
        others.push(Other {
            id: build.id.to_string(),
            to: format!("/builds/{}/kit", build.slug),
            event_day: build.event_day.map(|day| day.to_string()).unwrap_or_default(),
            judged: verdicts.iter().map(|verdict| (verdict.word, describe(verdict))).collect(),
            fails: verdicts.iter().find(|verdict| verdict.state().fails()).map(describe),
            car: build.name,
        });
    }
    Ok(others)
}

impl MoveForm {
    /// From the other cars and what was typed so far.
    pub(super) fn of(others: Vec<Other>, item: &KitItem, form: &Form) -> Self {
        let none = (String::new(), "choose".to_owned());
        let cars = others.iter().map(|other| (other.id.clone(), other.car.clone()));
        let fields = vec![
            form.field("move_to", "To which car").choice(std::iter::once(none).chain(cars)),
            form.field("move_day", "On").day(),
            form.field("move_why", "Why").hint("As: lent for one event, car sold, seat of the other broke."),
        ];
        let sure = form.field("move_sure", "").fault;
        Self { others, fields, version: item.version, sure }
    }
}

/// A move as it was typed, or its faults noted. Going where it is not good is asked about once.
pub(super) fn read(form: &mut Form, others: &[Other]) -> Option<Moving> {
    let to = form.parse("move_to", "Choose a car of the list.");
    if form.text("move_to").is_empty() {
        form.fault("move_to", "Choose a car of the list.");
    }
    let day = form.parse("move_day", "This does not read as a day. Try 2026-05-16.");
    if form.text("move_day").is_empty() {
        form.fault("move_day", "Write the day it goes.");
    }
    if form.is_faulty() {
        return None;
    }
    let fails = others.iter().find(|other| other.id == form.text("move_to")).and_then(|other| {
        let why = other.fails.as_ref()?;
        Some(format!("By the book of {} it would not do there: {why} Move it all the same?", other.car))
    });
    if let Some(why) = fails.filter(|_| form.text("move_sure") != "yes") {
        form.fault("move_sure", why);
        return None;
    }
    Some(Moving { to: to?, day: day?, why: form.text("move_why").to_owned() })
}
