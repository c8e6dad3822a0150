//! What the rulings' sheet shows.

use askama::Template;

use crate::domain::derived::findings::Findings;
use crate::domain::judge::verdicts::{Verdict, Word};
use crate::domain::recorded::rulings::{NO_MORE, Ruling};
use crate::domain::shop::people::{Deed, may};
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, part_address};

/// So many photographs are offered, the newest.
const OFFERED: usize = 200;

/// The rulings that stand, those taken back, and the form for the next.
#[derive(Template)]
#[template(path = "rulings/rulings.html")]
pub(super) struct Rulings {
    sheet: Sheet,
    base: String,
    standing: Vec<Line>,
    back: Vec<Line>,
    may_rule: bool,
    rule: Field,
    fields: Vec<Field>,
    /// Which of the two decisions is chosen, and why that will not do.
    stays: (String, Option<String>),
    faults: Vec<String>,
}

struct Line {
    place: u32,
    rule: String,
    of: Option<(String, String)>,
    decided: &'static str,
    words: String,
    given: String,
    found: String,
    photo: Option<String>,
    recorded: String,
    taken_back: String,
    /// That it stands in no verdict's place, where it does not.
    no_more: &'static str,
    why: Field,
}

/// The field of why a ruling is taken back.
pub(super) fn why_field(place: u32) -> String {
    format!("why_{place}")
}

impl Rulings {
    /// From what was ruled, and what was typed so far.
    pub(super) fn of(seen: &Seen, found: &Findings, form: &Form) -> Self {
        let facts = &seen.facts;
        let lines =
            facts.rulings.iter().map(|ruling| (ruling.taken_back.is_some(), Line::of(seen, found, ruling, form)));
        let (back, standing): (Vec<_>, Vec<_>) = lines.partition(|line| line.0);
        let may_rule = may(seen.who.ctx.by.role, Deed::Reply);
        let rule = form.field("rule", "Rule").choice(rules(found));
        let none = |words: &str| (String::new(), words.to_owned());
        let photos = facts.photos.iter().rev().filter(|photo| photo.kept()).take(OFFERED);
        let photos = photos.map(|photo| {
            let day = seen.who.ctx.clock.day_of(photo.declared);
            let what = if photo.shot.is_empty() { &photo.note } else { &photo.shot };
            (photo.capture.to_string(), format!("{what}, {day}"))
        });
        let rounds = facts.rounds.iter().map(|round| (round.number.to_string(), format!("round {}", round.number)));
        let mut measures: Vec<(String, String)> = Vec::new();
        for measure in found.worked.verdicts.iter().filter_map(|verdict| verdict.measure) {
            let word = measure.word().to_owned();
            if !measures.iter().any(|known| known.0 == word) {
                measures.push((word.clone(), word));
            }
        }
        let fields = vec![
            form.field("of", "Part").hint("Its number, like J7; empty for all the rule speaks of."),
            form.field("measure", "Figure").choice(std::iter::once(none("all of the rule")).chain(measures)),
            form.field("words", "The scrutineer's words").area(),
            form.field("given_by", "Given by").hint("The scrutineer's role or name, as the body knows it."),
            form.field("given", "On").day(),
            form.field("round", "Came with").choice(std::iter::once(none("no round")).chain(rounds)),
            form.field("letter", "In a letter or mail").hint("Its date or mark; empty when it was said."),
            form.field("capture", "A photograph of it").choice(std::iter::once(none("none")).chain(photos)),
        ];
        let stays = form.field("stays", "");
        let whys = standing.iter().map(|line| &line.1.why);
        let shown: Vec<&Field> = fields.iter().chain([&rule, &stays]).chain(whys).collect();
        Self {
            sheet: seen.sheet("Rulings"),
            base: seen.address("/rulings"),
            faults: form.other_faults(&shown),
            standing: standing.into_iter().map(|line| line.1).collect(),
            back: back.into_iter().map(|line| line.1).collect(),
            may_rule,
            rule,
            stays: (form.text("stays").to_owned(), stays.fault),
            fields,
        }
    }
}

/// The rules that something is found of, by clause.
fn rules(found: &Findings) -> Vec<(String, String)> {
    let asked = |verdicts: &&[Verdict]| verdicts.iter().any(|verdict| verdict.word != Word::NotAsked);
    let words = |verdicts: &[Verdict]| {
        let first = verdicts.first()?;
        let short: String = first.words.chars().take(70).collect();
        Some((first.rule_id.clone(), format!("{}: {short}", first.clause)))
    };
    found.worked.by_rule().filter(asked).filter_map(words).collect()
}

impl Line {
    fn of(seen: &Seen, found: &Findings, ruling: &Ruling, form: &Form) -> Self {
        let (ruled, clock) = (&ruling.ruled, &seen.who.ctx.clock);
        let clause = found.worked.verdicts.iter().find(|verdict| verdict.rule_id == ruled.rule);
        let clause =
            clause.map_or_else(|| ruled.rule.clone(), |verdict| format!("{}, {}", verdict.clause, verdict.words));
        let measure = ruled.measure.map(|measure| format!(" ({})", measure.word())).unwrap_or_default();
        let photo = ruled.capture.and_then(|capture| seen.facts.photos.iter().find(|photo| photo.capture == capture));
        let back = ruling.taken_back.as_ref();
        // A scrutineer sees no part's sheet.
        let leads = may(seen.who.ctx.by.role, Deed::SeeBuilds);
        Self {
            place: ruling.place,
            rule: format!("{clause}{measure}"),
            of: ruled
                .of
                .map(|of| (of.to_string(), if leads { seen.address(&part_address(of)) } else { String::new() })),
            decided: ruled.decided(),
            words: ruled.words.clone(),
            given: format!("{}, {}{}, under {}", ruled.given_by, ruled.given, ruled.came_with(), ruling.edition),
            found: ruling.found.clone(),
            photo: photo.map(|photo| if photo.shot.is_empty() { photo.note.clone() } else { photo.shot.clone() }),
            recorded: format!("{}, {}", ruling.by, clock.minute_of(ruling.recorded)),
            taken_back: back
                .map(|(at, by, why)| format!("taken back by {by}, {}: {why}", clock.minute_of(*at)))
                .unwrap_or_default(),
            no_more: if back.is_none() && !ruling.stands_in(&found.worked.verdicts) { NO_MORE } else { "" },
            why: form.field_named(why_field(ruling.place), "Why it is taken back"),
        }
    }
}
