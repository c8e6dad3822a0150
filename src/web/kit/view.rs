//! What the kit's sheets show.

use askama::Template;

use super::asked::{KitForm, SECOND, items_of, same};
use super::moving::{self, MoveForm, Was};
use crate::domain::book::RuleBook;
use crate::domain::derived::findings::Findings;
use crate::domain::judge::verdicts::{Verdict, Word};
use crate::domain::recorded::kit::moves::{RunsOut, Stay};
use crate::domain::recorded::kit::{KitItem, Label};
use crate::domain::words::ids::{Balloon, Kind};
use crate::domain::words::label_dates::LabelDate;
use crate::web::form::{Form, Keeping, Pairs};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, in_address, walk_address};
use crate::web::shown::judged::Judged;

/// What is photographed is named on its button when it is no longer than this, in characters.
const SHORT: usize = 40;

/// Every item, and the form for the next.
#[derive(Template)]
#[template(path = "kit/kit.html")]
pub(crate) struct KitSheet {
    sheet: Sheet,
    base: String,
    event_day: String,
    ruled: bool,
    items: Vec<Item>,
    /// What the book asks for: the word, the form for one, and how many are recorded.
    wanted: Vec<(String, String, String)>,
    /// What went on to another car: its sheet, its number, what it is, where it went and when.
    gone: Vec<(String, String, String, String)>,
    asked: KitForm,
}

/// One item, and the form to change it.
#[derive(Template)]
#[template(path = "kit/item.html")]
pub(crate) struct ItemSheet {
    sheet: Sheet,
    item: Item,
    asked: KitForm,
    keeping: Keeping,
    moving: MoveForm,
    base: String,
}

/// An item that went on to another car: what its label showed here, and its way.
#[derive(Template)]
#[template(path = "kit/gone.html")]
pub(crate) struct GoneSheet {
    sheet: Sheet,
    balloon: String,
    what: String,
    labels: Vec<Vec<(&'static str, String)>>,
    note: String,
    ways: Vec<Was>,
}

struct Item {
    balloon: String,
    to: String,
    what: String,
    labels: Vec<Vec<(&'static str, String)>>,
    note: String,
    judged: Vec<Judged>,
    photographs: Vec<(bool, String, String, String)>,
    /// That it runs out within the season, where it does.
    runs_out: Vec<String>,
    ways: Vec<Was>,
}

impl KitSheet {
    /// From what is recorded, what follows, and what was typed so far.
    pub(crate) fn of(seen: &Seen, found: &Findings, form: &Form) -> Self {
        Self {
            sheet: seen.sheet("Kit"),
            base: seen.address("/kit"),
            event_day: seen.facts.build.event_day.map(|day| day.to_string()).unwrap_or_default(),
            ruled: found.worked.rules.is_some(),
            items: seen.facts.kit.iter().map(|item| Item::of(seen, found, item)).collect(),
            gone: moving::gone(seen)
                .map(|(way, stay)| {
                    let number = format!("K{}", stay.item.number);
                    let next = way.next().map(|next| format!("K{} in {}", next.item.number, next.car));
                    let day = stay.went.as_ref().map(|(day, _)| day.to_string()).unwrap_or_default();
                    let went = format!("now {}, since {day}", next.unwrap_or_default());
                    (seen.address(&format!("/kit/{number}")), number, stay.item.item.clone(), went)
                })
                .collect(),
            wanted: wanted(seen, found),
            asked: KitForm::of_new(form, found.worked.rules.as_ref()),
        }
    }
}

/// What the book asks for, each with what is recorded of it.
fn wanted(seen: &Seen, found: &Findings) -> Vec<(String, String, String)> {
    let line = |item: String| {
        let there = seen.facts.kit.iter().filter(|kit| same(&kit.item, &item)).count();
        let said = if there == 0 { "none recorded".to_owned() } else { format!("{there} recorded") };
        (item.clone(), seen.address(&format!("/kit?item={}#add", in_address(&item))), said)
    };
    items_of(found.worked.rules.as_ref()).into_iter().map(line).collect()
}

impl GoneSheet {
    /// From its time in this car.
    pub(super) fn of(seen: &Seen, stay: &Stay) -> Self {
        let item = &stay.item;
        let balloon = format!("K{}", item.number);
        Self {
            sheet: seen.sheet(&format!("{balloon} {}", item.item)),
            balloon,
            what: item.item.clone(),
            labels: std::iter::once(&item.label).chain(&item.second_label).map(lines).collect(),
            note: item.note.clone(),
            ways: moving::ways(seen, item.id),
        }
    }
}

impl ItemSheet {
    /// From the item, what follows of it, what was typed so far, and where it may go.
    pub(super) fn of((seen, found): (&Seen, &Findings), item: &KitItem, form: &Form, moving: MoveForm) -> Self {
        let shown = Item::of(seen, found, item);
        let base = shown.to.clone();
        Self {
            sheet: seen.sheet(&format!("{} {}", shown.balloon, item.item)),
            item: shown,
            asked: KitForm::of(form, found.worked.rules.as_ref()),
            keeping: form.keeping(),
            moving,
            base,
        }
    }
}

impl Item {
    fn of(seen: &Seen, found: &Findings, item: &KitItem) -> Self {
        let balloon = Balloon::new(Kind::Kit, item.number);
        let shots = found.worked.shots_of(balloon).map(|shot| {
            let to = seen.address(&walk_address(&shot.name()));
            let what = if shot.what.chars().count() <= SHORT {
                format!(": {}", shot.what.trim_end_matches('.'))
            } else {
                " it".to_owned()
            };
            let view = shot.view.clone().map(|view| format!(", {view}")).unwrap_or_default();
            (shot.taken(), what + &view, shot.clause.clone(), to)
        });
        Self {
            to: seen.address(&format!("/kit/{balloon}")),
            balloon: balloon.to_string(),
            what: item.item.clone(),
            labels: std::iter::once(&item.label).chain(&item.second_label).map(lines).collect(),
            note: item.note.clone(),
            judged: found
                .worked
                .verdicts_of(balloon)
                .filter(|verdict| of_kit(found, verdict))
                .map(|verdict| Judged::of(seen, verdict))
                .collect(),
            photographs: shots.collect(),
            runs_out: found
                .worked
                .runs_out
                .iter()
                .filter(|out| out.number == item.number)
                .map(RunsOut::describe)
                .collect(),
            ways: moving::ways(seen, item.id),
        }
    }
}

/// A date as its label prints it; empty where it prints none.
fn date(printed: Option<LabelDate>) -> String {
    printed.map(|date| date.to_string()).unwrap_or_default()
}

fn lines(label: &Label) -> Vec<(&'static str, String)> {
    let lines = [
        ("standard", label.standard.clone()),
        ("serial", label.serial.clone()),
        ("made", date(label.made)),
        ("ends, as printed", date(label.ends_printed)),
        ("filled or checked", date(label.checked)),
    ];
    lines.into_iter().filter(|line| !line.1.is_empty()).collect()
}

/// An item as lines of a table, one for each label.
pub(crate) fn rows(seen: &Seen, found: &Findings, item: &KitItem) -> Vec<[String; 10]> {
    let shown = Item::of(seen, found, item);
    let judged: Vec<String> = shown
        .judged
        .iter()
        .map(|judged| format!("{} {} (clause {})", judged.description, judged.limit, judged.clause))
        .collect();
    let row = |(number, label): (usize, &Label)| {
        [
            shown.balloon.clone(),
            item.item.clone(),
            number.to_string(),
            label.standard.clone(),
            label.serial.clone(),
            date(label.made),
            date(label.ends_printed),
            date(label.checked),
            judged.join("; "),
            item.note.clone(),
        ]
    };
    (1..).zip(std::iter::once(&item.label).chain(&item.second_label)).map(row).collect()
}

/// Whether a verdict is of a rule on kit; those on its photographs are told by the photographs.
fn of_kit(found: &Findings, verdict: &Verdict) -> bool {
    found.worked.rules.iter().flat_map(|rules| &rules.kit).any(|rule| rule.rule.id == verdict.rule_id)
}

/// An item as the form's pairs, its version among them.
pub(crate) fn recorded(item: &KitItem, rules: Option<&RuleBook>) -> Pairs {
    let known = items_of(rules).into_iter().find(|known| known.to_lowercase() == item.item.to_lowercase());
    let other = if known.is_some() { String::new() } else { item.item.clone() };
    let mut pairs = vec![
        ("version".to_owned(), item.version.to_string()),
        ("item".to_owned(), known.unwrap_or_default()),
        ("other_item".to_owned(), other),
        ("note".to_owned(), item.note.clone()),
    ];
    let nothing = Label::default();
    for (begins, label) in [("", &item.label), (SECOND, item.second_label.as_ref().unwrap_or(&nothing))] {
        let figures = [
            ("standard", label.standard.clone()),
            ("serial", label.serial.clone()),
            ("made", date(label.made)),
            ("ends_printed", date(label.ends_printed)),
            ("checked", date(label.checked)),
        ];
        pairs.extend(figures.map(|(field, text)| (format!("{begins}{field}"), text)));
    }
    pairs
}
