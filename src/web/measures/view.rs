//! What the measures' sheet shows.

use askama::Template;

use super::{field_of, tool_of};
use crate::domain::derived::findings::Findings;
use crate::domain::derived::measures::{ToMeasure, example, how, to_measure};
use crate::domain::judge::shots::part;
use crate::domain::judge::verdicts::Word;
use crate::domain::measure::figures::Measured;
use crate::domain::measure::guard;
use crate::domain::measure::measures::Measure;
use crate::domain::measure::tools::Tool;
use crate::quantity::Show as _;
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, part_address};

/// Every figure that is read off the car, measure by measure.
#[derive(Template)]
#[template(path = "measures/measures.html")]
pub(crate) struct Measures {
    sheet: Sheet,
    base: String,
    ruled: bool,
    drawn: bool,
    groups: Vec<Group>,
    faults: Vec<String>,
    /// When a figure counts at all.
    rule: &'static str,
}

struct Group {
    what: &'static str,
    how: &'static str,
    known: usize,
    rows: Vec<Row>,
    /// What it is read with, where there is a choice.
    tool: Option<Field>,
    open: bool,
}

struct Row {
    balloon: String,
    to: String,
    part: String,
    asked: Vec<LimitLine>,
    last: String,
    last_from: String,
    /// Whether the last figure counts.
    known: bool,
    /// Why it does not; empty where it does.
    earlier: String,
    field: Field,
}

struct LimitLine {
    word: Word,
    description: String,
    limit: String,
    clause: String,
    printed: String,
}

/// A figure as a line of a table.
pub(crate) fn row(seen: &Seen, wanted: &ToMeasure) -> [String; 11] {
    let last = wanted.last.as_ref();
    let limits = wanted.asked.iter().map(|asked| format!("{} (clause {})", asked.limit, asked.clause));
    let sentences: Vec<String> = wanted.asked.iter().map(|asked| asked.description.clone()).collect();
    [
        wanted.of.to_string(),
        wanted.measure.word().to_owned(),
        limits.collect::<Vec<_>>().join("; "),
        sentences.join("; "),
        last.map(|last| format!("{:.4}", last.amount.in_base_unit())).unwrap_or_default(),
        last.map(|last| last.amount.dimension().base_unit().to_owned()).unwrap_or_default(),
        last.map(|last| format!("{}{}", last.text, of_its_heat(wanted, last))).unwrap_or_default(),
        last.map(|last| last.by.clone()).unwrap_or_default(),
        last.map(|last| seen.who.ctx.clock.minute_of(last.at)).unwrap_or_default(),
        last.and_then(|last| last.tool).map(|tool| tool.word().to_owned()).unwrap_or_default(),
        of_the_earlier_piece(seen, wanted),
    ]
}

/// For which other stick of the same heat a figure was read; empty where it is the part's own.
fn of_its_heat(wanted: &ToMeasure, last: &Measured) -> String {
    if last.of == wanted.of { String::new() } else { format!(", for {} of the same heat", last.of) }
}

/// That the last figure is of the earlier piece, and since when; empty where it counts, and where there is none.
fn of_the_earlier_piece(seen: &Seen, wanted: &ToMeasure) -> String {
    let since = wanted.earlier.as_ref().map(|since| since.describe(seen.who.units));
    since
        .map(|since| format!("Of the earlier piece: measured before {since}. It counts for nothing."))
        .unwrap_or_default()
}

impl Measures {
    /// From what the book asks, what was read, and what was typed so far.
    pub(crate) fn of(seen: &Seen, found: &Findings, form: &Form) -> Self {
        let all = to_measure(&seen.facts, found, seen.who.units);
        let mut groups: Vec<Group> = Vec::new();
        for wanted in &all {
            let row = Row::of(seen, found, wanted, form);
            match groups.last_mut().filter(|group| group.what == wanted.measure.word()) {
                Some(group) => group.rows.push(row),
                None => groups.push(Group::beginning(seen, wanted.measure, row, form)),
            }
        }
        let mut to_do = true;
        for group in &mut groups {
            group.known = group.rows.iter().filter(|row| row.known).count();
            let typed = group.rows.iter().any(|row| row.field.fault.is_some() || !row.field.value.is_empty());
            // The first with figures missing stands open; the others open by a touch.
            let first = to_do && group.known < group.rows.len();
            to_do = to_do && !first;
            group.open = typed || first;
        }
        let shown: Vec<&Field> =
            groups.iter().flat_map(|group| group.rows.iter().map(|row| &row.field).chain(&group.tool)).collect();
        Self {
            sheet: seen.sheet("Measures"),
            base: seen.address(""),
            ruled: found.worked.rules.is_some(),
            drawn: !found.worked.cage.members.is_empty(),
            faults: form.other_faults(&shown),
            rule: guard::RULE,
            groups,
        }
    }
}

impl Group {
    fn beginning(seen: &Seen, measure: Measure, row: Row, form: &Form) -> Self {
        let tools = Tool::of(measure, seen.who.units);
        let tool = (tools.len() > 1).then(|| {
            let choices = tools.iter().map(|tool| (tool.key().to_owned(), tool.word().to_owned()));
            form.field_named(tool_of(measure), "Read with").choice(choices)
        });
        Self { what: measure.word(), how: how(measure), known: 0, rows: vec![row], tool, open: false }
    }
}

impl Row {
    fn of(seen: &Seen, found: &Findings, wanted: &ToMeasure, form: &Form) -> Self {
        let units = seen.who.units;
        let asked = wanted.asked.iter().map(|asked| LimitLine {
            word: asked.word,
            description: asked.description.clone(),
            limit: asked.limit.clone(),
            clause: asked.clause.clone(),
            printed: asked.printed.clone(),
        });
        let last = wanted.last.as_ref();
        let typed = |text: &str| format!("typed “{text}”, ");
        let from = last.map(|last| {
            let when = seen.who.ctx.clock.minute_of(last.at);
            let tool = last.tool.map(|tool| format!(", {}", tool.word())).unwrap_or_default();
            let heat = of_its_heat(wanted, last);
            format!("{}{}, {when}{tool}{heat}", typed(&last.text), last.by)
        });
        Self {
            balloon: wanted.of.to_string(),
            to: seen.address(&part_address(wanted.of)),
            part: part(&found.worked.cage, &seen.facts, wanted.of),
            asked: asked.collect(),
            last: last.map(|last| last.amount.show(units)).unwrap_or_default(),
            last_from: from.unwrap_or_default(),
            known: wanted.known(),
            earlier: of_the_earlier_piece(seen, wanted),
            field: form
                .field_named(field_of(wanted), format!("{} of {}", wanted.measure.word(), wanted.of))
                .hint(example(wanted.measure, units)),
        }
    }
}
