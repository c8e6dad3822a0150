//! What the verdicts' sheet shows.

use askama::Template;

use crate::domain::book::Force;
use crate::domain::book::in_force;
use crate::domain::book::in_force::OutOfForce;
use crate::domain::derived::findings::Findings;
use crate::domain::judge::verdicts::{Verdict, Word};
use crate::domain::measure::guard;
use crate::domain::shop::people::{Deed, may};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, in_address, part_address, two_tubes_address};
use crate::web::shown::judged::Judged;

/// More verdicts of one rule alike in their word than this are folded into one line that opens.
const ALIKE: usize = 3;

/// Every rule by its clause, what it says of which part.
#[derive(Template)]
#[template(path = "verdicts/verdicts.html")]
pub(crate) struct Verdicts {
    sheet: Sheet,
    counts: Vec<(Word, usize)>,
    rules: Vec<Ruled>,
    book: bool,
    /// The edition and from when to when it is in force; empty without one that reads.
    edition: String,
    /// That it is not in force on the day that counts.
    out_of_force: Option<String>,
    /// Where the build is moved to another edition; empty for who may not.
    moving: String,
    rule: &'static str,
    car: String,
    rulings: String,
    file: String,
}

struct Ruled {
    clause: String,
    words: String,
    force: &'static str,
    /// Where the book's tube stands beside the bar's; empty for other rules.
    beside: String,
    groups: Vec<Group>,
}

struct Group {
    word: Word,
    /// Alike verdicts that are folded; empty when it is one.
    folded: String,
    lines: Vec<Line>,
}

struct Line {
    word: Word,
    description: String,
    of: String,
    to: String,
    figure: String,
    limit: String,
    margin: String,
    evidence: String,
    to_do: &'static str,
    /// Where a ruling on it is recorded; empty for who may not.
    rule: String,
}

impl Verdicts {
    /// From what follows from the build.
    pub(crate) fn of(seen: &Seen, found: &Findings) -> Self {
        let count = |word: Word| (word, found.worked.verdicts.iter().filter(|verdict| verdict.word == word).count());
        Self {
            sheet: seen.sheet("Verdicts"),
            counts: Word::ALL.map(count).into_iter().filter(|entry| entry.1 > 0).collect(),
            rules: found.worked.by_rule().filter_map(|verdicts| ruled(seen, found, verdicts)).collect(),
            book: found.worked.rules.is_some(),
            edition: found
                .worked
                .rules
                .as_ref()
                .map(|rules| &rules.book)
                .map_or_else(String::new, |book| format!("{}: {}", book.describe(), in_force::describe(book))),
            out_of_force: found.worked.out_of_force.as_ref().map(OutOfForce::describe),
            moving: if may(seen.who.ctx.by.role, Deed::RunShop) { seen.address("/edition") } else { String::new() },
            rule: guard::RULE,
            car: seen.address("/car"),
            rulings: seen.address("/rulings"),
            file: seen.address("/build.json"),
        }
    }
}

fn ruled(seen: &Seen, found: &Findings, verdicts: &[Verdict]) -> Option<Ruled> {
    let first = verdicts.first()?;
    let mut groups = Vec::new();
    for word in Word::ALL {
        let alike: Vec<Line> =
            verdicts.iter().filter(|verdict| verdict.word == word).map(|verdict| line(seen, verdict)).collect();
        if alike.len() > ALIKE {
            let folded = format!("{} parts: {}", alike.len(), word);
            groups.push(Group { word, folded, lines: alike });
        } else if !alike.is_empty() {
            groups.push(Group { word, folded: String::new(), lines: alike });
        }
    }
    let force = match first.force {
        Force::Must => "",
        Force::Should => "recommended",
        Force::May => "allowed",
        Force::Scrutineer => "the scrutineer decides",
    };
    let beside = beside(found, verdicts).unwrap_or_default();
    Some(Ruled { clause: first.clause.clone(), words: first.words.clone(), force, beside, groups })
}

/// The book's tube beside that of a bar, the first that does not reach it where there is one.
fn beside(found: &Findings, verdicts: &[Verdict]) -> Option<String> {
    let of_class =
        |rule: &str| found.worked.rules.iter().flat_map(|rules| &rules.weight_classes).any(|c| c.rule.id == rule);
    let bars = || verdicts.iter().filter(|verdict| found.worked.tubes_asked && of_class(&verdict.rule_id));
    let worst = bars().find(|verdict| verdict.of.is_some() && verdict.word != Word::Meets);
    let bar = found.worked.cage.member(worst.or_else(|| bars().find(|verdict| verdict.of.is_some()))?.of?)?;
    Some(two_tubes_address(&found.worked.tubes.of(bar.role), Some(&bar.tube)))
}

fn line(seen: &Seen, verdict: &Verdict) -> Line {
    let Judged { word, description, figure, limit, margin, to_do, evidence, .. } = Judged::of(seen, verdict);
    let measure = verdict.measure.map(|measure| format!("{} ", measure.word())).unwrap_or_default();
    let rules = may(seen.who.ctx.by.role, Deed::Reply) && verdict.word != Word::NotAsked;
    let about = |name: &str, value: Option<String>| value.map(|value| format!("&{name}={}", in_address(&value)));
    let of = about("of", verdict.of.map(|of| of.to_string())).unwrap_or_default();
    let kind = about("measure", verdict.measure.map(|measure| measure.word().to_owned())).unwrap_or_default();
    let rule = seen.address(&format!("/rulings?rule={}{of}{kind}", in_address(&verdict.rule_id)));
    Line {
        rule: if rules { rule } else { String::new() },
        word,
        description,
        of: verdict.of.map(|of| of.to_string()).unwrap_or_default(),
        to: verdict.of.map(|of| seen.address(&part_address(of))).unwrap_or_default(),
        figure: format!("{measure}{figure}").trim().to_owned(),
        limit,
        margin,
        evidence,
        to_do,
    }
}
