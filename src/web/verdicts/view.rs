//! What the verdicts' sheet shows.

use askama::Template;
use glam::DVec2;

use super::Wanted;
use super::chosen::{Chosen, drawn, force};
use crate::domain::book::in_force;
use crate::domain::book::in_force::OutOfForce;
use crate::domain::derived::findings::Findings;
use crate::domain::judge::verdicts::{Verdict, Word};
use crate::domain::measure::guard;
use crate::domain::shop::people::{Deed, may};
use crate::drawing::gauge;
use crate::web::gate::Seen;
use crate::web::page::{Sheet, in_address};
use crate::web::shown::judged::Judged;
use crate::web::svg::Svg;

/// So many parts are named on a rule's line; of more their number is told.
const NAMED: usize = 3;

/// The words, the one that wants most first.
const WORST_FIRST: [Word; 8] = [
    Word::OverBy,
    Word::ShortBy,
    Word::TooClose,
    Word::NotMeasured,
    Word::NoPhoto,
    Word::ScrutineerDecides,
    Word::Meets,
    Word::NotAsked,
];

/// A word as it stands in an address.
fn key(word: Word) -> String {
    word.word().replace(' ', "-")
}

/// One line a rule, the worst first, and one of them beside it.
#[derive(Template)]
#[template(path = "verdicts/verdicts.html")]
pub(crate) struct Verdicts {
    sheet: Sheet,
    filters: Vec<Filter>,
    /// How many rules there are in all.
    rules: usize,
    /// The lines that stand open, and those of a word that are folded.
    rows: Vec<Row>,
    folded: Vec<Folded>,
    chosen: Option<Chosen>,
    /// Whether the rule beside was chosen; else it is the worst.
    picked: bool,
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

/// A state, with how many verdicts are in it.
struct Filter {
    /// None for all of them.
    word: Option<Word>,
    words: &'static str,
    count: usize,
    to: String,
    here: bool,
}

/// One rule: what its worst part says.
struct Row {
    word: Word,
    description: String,
    clause: String,
    words: String,
    parts: String,
    figure: String,
    limit: String,
    /// The figure against its limit; the words say the same.
    gauge: Option<Svg>,
    to: String,
    here: bool,
}

/// Rules that ask for nothing now.
struct Folded {
    words: String,
    rows: Vec<Row>,
    open: bool,
}

impl Verdicts {
    /// From what follows from the build, and which state and rule are asked for.
    pub(crate) fn of(seen: &Seen, found: &Findings, wanted: &Wanted) -> Self {
        let state = Word::ALL.into_iter().find(|word| wanted.state.as_deref() == Some(key(*word).as_str()));
        let mut lines = worst(found, state);
        lines.sort_by_key(|line| WORST_FIRST.iter().position(|word| *word == line.0.word));
        let asked = lines.iter().find(|line| wanted.rule.as_deref() == Some(line.0.rule_id.as_str()));
        let (picked, first) = (asked.is_some(), asked.or(lines.first()));
        let chosen = first.map(|line| Chosen::of(seen, found, line.0, line.1));
        let here = first.map(|line| line.0.rule_id.clone());
        let base = seen.address("/verdicts");
        let kept = state.map(|word| format!("state={}&", key(word))).unwrap_or_default();
        let row = |(verdict, of_rule): &(&Verdict, &[Verdict])| Row {
            to: format!("{base}?{kept}rule={}", in_address(&verdict.rule_id)),
            here: here.as_deref() == Some(verdict.rule_id.as_str()),
            ..line(seen, verdict, of_rule)
        };
        let quiet = |word: Word| state.is_none() && matches!(word, Word::Meets | Word::NotAsked);
        let fold = |word: Word| {
            let rows: Vec<Row> = lines.iter().filter(|line| quiet(word) && line.0.word == word).map(row).collect();
            let words =
                format!("{} {}", rows.len(), if word == Word::Meets { "that meet" } else { "not asked of this car" });
            Folded { words, open: rows.iter().any(|row| row.here && picked), rows }
        };
        let folded = [Word::Meets, Word::NotAsked].map(fold);
        Self {
            sheet: seen.sheet("Verdicts"),
            filters: filters(found, &base, state),
            rules: found.worked.by_rule().count(),
            rows: lines.iter().filter(|line| !quiet(line.0.word)).map(row).collect(),
            folded: folded.into_iter().filter(|folded| !folded.rows.is_empty()).collect(),
            chosen,
            picked,
            book: found.worked.rules.is_some(),
            edition: edition(found),
            out_of_force: found.worked.out_of_force.as_ref().map(OutOfForce::describe),
            moving: if may(seen.who.ctx.by.role, Deed::RunShop) { seen.address("/edition") } else { String::new() },
            rule: guard::RULE,
            car: seen.address("/car"),
            rulings: seen.address("/rulings"),
            file: seen.address("/build.json"),
        }
    }
}

fn edition(found: &Findings) -> String {
    let book = found.worked.rules.as_ref().map(|rules| &rules.book);
    book.map_or_else(String::new, |book| format!("{}: {}", book.describe(), in_force::describe(book)))
}

/// Of each rule its worst verdict, or of a state its first in it; with all of the rule's.
fn worst(found: &Findings, state: Option<Word>) -> Vec<(&Verdict, &[Verdict])> {
    let of_rule = |verdicts| {
        let of = |word: Word| move |verdict: &&Verdict| verdict.word == word;
        let all: &[Verdict] = verdicts;
        let worst = match state {
            Some(word) => all.iter().find(of(word)),
            None => WORST_FIRST.into_iter().find_map(|word| all.iter().find(of(word))),
        };
        Some((worst?, all))
    };
    found.worked.by_rule().filter_map(of_rule).collect()
}

fn filters(found: &Findings, base: &str, state: Option<Word>) -> Vec<Filter> {
    let count = |word: Word| found.worked.verdicts.iter().filter(|verdict| verdict.word == word).count();
    let all = Filter {
        word: None,
        words: "all",
        count: found.worked.verdicts.len(),
        to: base.to_owned(),
        here: state.is_none(),
    };
    let of = |word: Word| Filter {
        word: Some(word),
        words: word.word(),
        count: count(word),
        to: format!("{base}?state={}", key(word)),
        here: state == Some(word),
    };
    std::iter::once(all).chain(WORST_FIRST.map(of).into_iter().filter(|filter| filter.count > 0)).collect()
}

fn line(seen: &Seen, verdict: &Verdict, of_rule: &[Verdict]) -> Row {
    let Judged { word, description, words, figure, limit, clause, .. } = Judged::of(seen, verdict);
    let alike: Vec<_> = of_rule.iter().filter(|other| other.word == word).collect();
    let named: Vec<String> = alike.iter().filter_map(|other| other.of).map(|of| of.to_string()).collect();
    let parts = if alike.len() > NAMED { format!("{} of {}", alike.len(), of_rule.len()) } else { named.join(", ") };
    let photographed = photographs(verdict, of_rule);
    let figure = match photographed {
        Some((there, asked)) if figure.is_empty() && asked > 1 => format!("{there} of {asked}"),
        _ => figure,
    };
    let gauge = match photographed {
        Some((there, asked)) => Some(gauge::filled(share(there, asked), GAUGE)),
        None => gauge::gauge(verdict, GAUGE),
    };
    let gauge = gauge.map(|marks| drawn(&marks, GAUGE));
    let binds = force(verdict.force);
    let words = if binds.is_empty() { words } else { format!("{words} ({binds})") };
    Row { word, description, clause, words, parts, figure, limit, gauge, to: String::new(), here: false }
}

/// Of how many parts the photographs that a rule asks for are there, and of how many it asks for them; none of a rule that
/// asks for something else.
fn photographs(worst: &Verdict, of_rule: &[Verdict]) -> Option<(u32, u32)> {
    let seen = |verdict: &&Verdict| verdict.figure.is_none() && verdict.state() == Word::Meets;
    let asked = || of_rule.iter().filter(|verdict| verdict.state() != Word::NotAsked);
    let only_photos = || asked().all(|verdict| verdict.measure.is_none() && verdict.figure.is_none());
    let count = |many: usize| u32::try_from(many).unwrap_or(u32::MAX);
    (worst.state() == Word::NoPhoto && only_photos())
        .then(|| (count(asked().filter(seen).count()), count(asked().count())))
}

fn share(there: u32, asked: u32) -> f64 {
    f64::from(there) / f64::from(asked.max(1))
}

/// The gauge of a line, mm: 150 by 26 pixels.
const GAUGE: DVec2 = DVec2::new(37.5, 6.5);
