//! What a build's tube sheet shows: its sticks with what is left of them, and the cut list.

use askama::Template;
use axum::response::Response;

use super::rack::OnRack;
use super::tube::offered;
use crate::actions::Looked;
use crate::domain::derived::findings::Findings;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::shop::saw::Saw;
use crate::domain::shop::stock::Stick;
use crate::domain::steel::tube::TubeSize;
use crate::domain::words::ids::Balloon;
use crate::domain::work::cut_list::{CutLine, cut_list, grades};
use crate::quantity::{Length, Units};
use crate::web::csv;
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, part_address, two_tubes_address};
use crate::web::problem::Problem;

/// The tube of one build.
#[derive(Template)]
#[template(path = "stock/tube.html")]
pub(super) struct TubeSheet {
    sheet: Sheet,
    base: String,
    sticks: Vec<OnRack>,
    give: Field,
    bars: Vec<BarLine>,
    alike: Vec<Field>,
    uncut: usize,
    asked: bool,
    /// Where the book's tube stands beside another.
    beside: String,
    /// The grades of its bars' sticks where they are several; else empty.
    grades: String,
    total: String,
    /// What is counted with the blanks, and where the plan is.
    counted: String,
    plan: String,
    faults: Vec<String>,
}

struct BarLine {
    no: String,
    to: String,
    words: String,
    size: String,
    length: String,
    loose: bool,
    other_size: String,
    other_grade: String,
    /// What it was cut to, or that nobody knows; empty before it is cut.
    cut_to: String,
    /// By how much it does not fit any more; empty where it does, or nobody knows.
    misfit: String,
    /// Another piece from the same stick: the name of the tick, and whether it is set; how often it was cut so far.
    again: (String, bool),
    times: (String, usize),
    /// What was chosen before, so that only a change is recorded.
    was: (String, String),
    stick: Field,
}

/// The name of the field that says what a bar's stick was when the sheet was shown.
pub(super) fn was(bar: Balloon) -> String {
    format!("was_{bar}")
}

/// The name of the tick that says that a bar was cut again.
pub(super) fn again(bar: Balloon) -> String {
    format!("again_{bar}")
}

/// The name of the field that says how often a bar was cut when the sheet was shown.
pub(super) fn times(bar: Balloon) -> String {
    format!("times_{bar}")
}

/// What a bar was cut to, and by how much that does not fit any more.
fn fit(bar: &CutLine, units: Units) -> (String, String) {
    let cut_to = match bar.taken {
        _ if bar.times == 0 => String::new(),
        None => "what it was cut to is not recorded".to_owned(),
        Some(taken) => format!("cut to {}", taken.blank.by_tape_exactly(units)),
    };
    let misfit = bar.describe_misfit(units).map(|how| format!("Does not fit any more: {how}."));
    (cut_to, misfit.unwrap_or_default())
}

/// The name of the choice for all bars of a size without a stick.
pub(super) fn all_of(size: &TubeSize) -> String {
    format!("all {size}")
}

fn size_of(stick: &Stick, size: &TubeSize) -> String {
    let other = if stick.size.value == *size { "" } else { ", another size" };
    format!("S{}, {}{other}", stick.number, stick.size.value)
}

impl TubeSheet {
    /// From the sticks of the shop, the cage, and what was chosen so far.
    pub(super) fn of(
        (seen, saw): (&Seen, &Saw),
        found: &Findings,
        all: &[Looked],
        sticks: &[Stick],
        form: &Form,
    ) -> Self {
        let (units, build, list) = (seen.who.units, seen.build(), cut_list(&seen.facts, &found.worked.cage));
        let own = sticks.iter().filter(|stick| stick.given_to == Some(build));
        let used = seen.facts.sticks.iter().filter(|stick| stick.given_to != Some(build));
        let on_rack = sticks.iter().filter(|stick| stick.given_to.is_none());
        let words = |stick: &Stick| {
            let line = OnRack::of(stick, all, units);
            (stick.id.to_string(), format!("{}, {}, {}, {} left", line.no, line.size, line.marks, line.left))
        };
        let mut choices = vec![(String::new(), "choose one".to_owned())];
        choices.extend(on_rack.map(words));
        let bars: Vec<BarLine> = list.iter().map(|bar| BarLine::of(seen, sticks, bar, form)).collect();
        let grades = grades(&seen.facts);
        let alike = alike(seen, sticks, &list, form);
        let give = form.field("stick", "Stick of the rack").choice(choices);
        // With nothing to give there is no choice on the sheet that a fault could stand at.
        let giving = Some(&give).filter(|give| give.choices.len() > 1);
        let shown: Vec<&Field> = bars.iter().map(|bar| &bar.stick).chain(&alike).chain(giving).collect();
        Self {
            sheet: seen.sheet("Tube"),
            base: seen.address("/tube"),
            sticks: own.chain(used).map(|stick| OnRack::of(stick, all, units)).collect(),
            faults: form.other_faults(&shown),
            give,
            uncut: list.iter().filter(|bar| bar.stick.is_none()).count(),
            asked: found.worked.tubes_asked,
            beside: two_tubes_address(&found.worked.tubes.hoop, None),
            grades: if grades.len() > 1 { grades.join(", ") } else { String::new() },
            total: found
                .worked
                .cage
                .members
                .iter()
                .map(|bar| saw.piece(bar) + saw.kerf.value)
                .sum::<Length>()
                .by_tape_at_least(units),
            counted: saw.describe(),
            plan: seen.address("/cuts"),
            bars,
            alike,
        }
    }
}

impl BarLine {
    fn of(seen: &Seen, sticks: &[Stick], bar: &CutLine, form: &Form) -> Self {
        let name = bar.member.to_string();
        let stick = bar.stick.map(|stick| stick.to_string()).unwrap_or_default();
        let offered = offered(sticks, seen.build(), Some(bar));
        let none = bar.stick.is_none().then(|| (String::new(), "not said yet".to_owned()));
        let choices = offered.iter().map(|stick| (stick.id.to_string(), size_of(stick, &bar.size)));
        let mut field = form.field_named(name.clone(), format!("Stick of {name}"));
        if form.raw(&was(bar.member)).is_empty() && field.value.is_empty() {
            field.value.clone_from(&stick);
        }
        let (cut_to, misfit) = fit(bar, seen.who.units);
        Self {
            to: seen.address(&part_address(bar.member)),
            words: format!("{}, {}", bar.role.word(), bar.side.word()),
            size: bar.size.of_grade(bar.grade.as_ref()),
            length: bar.length.by_saw(seen.who.units),
            loose: bar.loose,
            again: (again(bar.member), !form.text(&again(bar.member)).is_empty()),
            times: (times(bar.member), bar.times),
            cut_to,
            misfit,
            other_grade: bar.other_grade.clone().unwrap_or_default(),
            other_size: bar.other_size.map(|size| size.to_string()).unwrap_or_default(),
            was: (was(bar.member), stick),
            stick: field.choice(none.into_iter().chain(choices)),
            no: name,
        }
    }
}

/// For each size with bars that have no stick, and with a stick of it: one choice for them all.
fn alike(seen: &Seen, sticks: &[Stick], list: &[CutLine], form: &Form) -> Vec<Field> {
    let mut sizes: Vec<TubeSize> = Vec::new();
    for bar in list.iter().filter(|bar| bar.stick.is_none()) {
        if !sizes.contains(&bar.size) {
            sizes.push(bar.size);
        }
    }
    let field = |size: &TubeSize| {
        let of_size = offered(sticks, seen.build(), None).into_iter().filter(|stick| stick.size.value == *size);
        let mut choices = vec![(String::new(), "one by one, below".to_owned())];
        choices.extend(of_size.map(|stick| (stick.id.to_string(), format!("S{}", stick.number))));
        let words = format!("All bars of {size} without a stick are cut from");
        (choices.len() > 1).then(|| form.field_named(all_of(size), words).choice(choices))
    };
    sizes.iter().filter_map(field).collect()
}

/// The cut list as a table of values.
pub(super) fn csv(facts: &BuildFacts, found: &Findings) -> Result<Response, Problem> {
    let head = ["bar", "role", "side", "size", "blank_mm", "blank_in", "length_is_final", "stick", "grade", "heat"];
    let list = cut_list(facts, &found.worked.cage);
    let row = |bar: &CutLine| {
        let stick = facts.sticks.iter().find(|stick| Some(stick.id) == bar.stick);
        [
            bar.member.to_string(),
            bar.role.word().to_owned(),
            bar.side.word().to_owned(),
            bar.size.to_string(),
            bar.length.saw_mm(),
            bar.length.saw_inches(),
            if bar.loose { "no" } else { "yes" }.to_owned(),
            stick.map(|stick| format!("S{}", stick.number)).unwrap_or_default(),
            stick.map(|stick| stick.grade.clone()).unwrap_or_default(),
            stick.map(|stick| stick.heat.clone()).unwrap_or_default(),
        ]
    };
    csv::table(&format!("{}-cut-list.csv", facts.build.slug), head, list.iter().map(row))
}
