//! What the weld log's sheet shows.

use askama::Template;

use super::fields::LineForm;
use super::{Asked, order, photographed};
use crate::domain::derived::findings::Findings;
use crate::domain::recorded::welds::Weld;
use crate::domain::recorded::welds::stage::Stage;
use crate::domain::shop::people::{Deed, may};
use crate::domain::words::cautions;
use crate::domain::words::ids::Balloon;
use crate::domain::work::weld_order::{Seam, alike, all, in_order};
use crate::quantity::{Length, Units};
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, part_address};
use crate::web::shown::located::locator;
use crate::web::shown::weld_lines::WeldLine;
use crate::web::svg::Svg;

const FRAME: (Length, Length) = (Length::from_mm(110.0), Length::from_mm(62.0));

/// The weld log of one build.
#[derive(Template)]
#[template(path = "welds/welds.html")]
pub(super) struct WeldSheet {
    sheet: Sheet,
    base: String,
    may_record: bool,
    released: bool,
    hold: String,
    figures: Figures,
    left: Vec<Row>,
    /// Whose order that is, and what is not in it.
    order: String,
    placed: String,
    done: Vec<Row>,
    at: Option<AtJoint>,
    lines: Vec<Line>,
}

struct Figures {
    left: String,
    whole: String,
    overhead: String,
    welded: usize,
    accepted: usize,
    repairs: usize,
    all: usize,
}

/// A joint in a list.
struct Row {
    balloon: String,
    to: String,
    here: bool,
    length: String,
    overhead: String,
    stage: &'static str,
}

/// The joint that one is at.
pub(super) struct AtJoint {
    pub(super) balloon: String,
    pub(super) to: String,
    pub(super) stage: &'static str,
    pub(super) length: String,
    pub(super) overhead: String,
    pub(super) down: bool,
    /// Why it is held now; empty where it is released.
    pub(super) held: String,
    pub(super) alike: Option<Alike>,
    pub(super) lines: Vec<WeldLine>,
    pub(super) drawing: Option<Svg>,
    pub(super) form: LineForm,
}

/// A joint where the same tubes meet, with what it was welded with.
pub(super) struct Alike {
    pub(super) joint: String,
    pub(super) words: String,
    pub(super) to: String,
}

/// A line of the whole log, with the form that strikes it through.
struct Line {
    of: WeldLine,
    why: Option<Field>,
}

/// The name of the field that says what is wrong with a line.
pub(super) fn why_name(line: u32) -> String {
    format!("why_{line}")
}

/// The share of a seam that looks down, in words.
pub(super) fn share(seam: &Seam) -> String {
    format!("{:.0} %", seam.overhead() * 100.0)
}

/// The joints that are welded while the cage is let down.
pub(super) fn lowered(found: &Findings) -> Vec<Balloon> {
    let plan = found.worked.lowering.iter();
    plan.flat_map(|plan| &plan.welds).map(|weld| weld.joint).collect()
}

impl WeldSheet {
    /// From what is recorded; `typed` is a line that was not taken.
    pub(super) fn of(seen: &Seen, found: &Findings, asked: &Asked, typed: Option<&Form>) -> Self {
        let blank = Form::empty(seen.who.units);
        Self::with(seen, found, asked, typed, &blank)
    }

    /// The same where a line could not be struck through.
    pub(super) fn struck(seen: &Seen, found: &Findings, asked: &Asked, why: &Form) -> Self {
        Self::with(seen, found, asked, None, why)
    }

    fn with(seen: &Seen, found: &Findings, asked: &Asked, typed: Option<&Form>, why: &Form) -> Self {
        let (facts, cage, units) = (&seen.facts, &found.worked.cage, seen.who.units);
        let ordered = in_order(cage, &facts.welds, &lowered(found), facts.weld_order.as_ref());
        let (all, left) = (all(cage, &facts.welds), ordered.seams);
        let there = |at: &Balloon| all.iter().any(|seam| seam.at == *at);
        let at = asked.joint.filter(there).or_else(|| left.first().or_else(|| all.first()).map(|seam| seam.at));
        let may_record = may(seen.who.ctx.by.role, Deed::RecordWork);
        let row = |seam: &Seam| Row::of(seen, seam, at);
        let told = |one: WeldLine| {
            let why = why.field_named(photographed::field(one.line), "").fault.unwrap_or_default();
            WeldLine { photo_why: why, ..one }
        };
        let line = |weld: &Weld| Line {
            of: WeldLine::of(seen, weld),
            why: (may_record && weld.stands()).then(|| why.field_named(why_name(weld.line), "What is wrong with it")),
        };
        Self {
            sheet: seen.sheet("Welds"),
            base: seen.address(""),
            may_record,
            released: !found.hold.held(),
            hold: if facts.book.is_some() { seen.describe_hold() } else { String::new() },
            figures: Figures::of(&all, units),
            left: left.iter().map(row).collect(),
            order: order::said(seen),
            placed: order::placed(&ordered.placed),
            done: all.iter().filter(|seam| !seam.stage.to_weld()).map(row).collect(),
            at: at
                .and_then(|at| AtJoint::of(seen, found, at, &Page { asked, typed, page: "/welds" }))
                .map(|at| AtJoint { lines: at.lines.into_iter().map(told).collect(), ..at }),
            lines: facts.welds.iter().rev().map(line).collect(),
        }
    }
}

impl Figures {
    fn of(all: &[Seam], units: Units) -> Self {
        let sum = |of: &dyn Fn(&&Seam) -> bool| all.iter().filter(of).map(|seam| seam.length).sum::<Length>();
        let left: Vec<&Seam> = all.iter().filter(|seam| seam.stage.to_weld()).collect();
        let down: Length = left.iter().map(|seam| seam.down).sum();
        let to_lay = sum(&|seam| seam.stage.to_weld());
        let share = if to_lay > Length::default() { down / to_lay } else { 0.0 };
        let count = |stage: Stage| all.iter().filter(|seam| seam.stage == stage).count();
        Self {
            left: to_lay.by_run(units),
            whole: sum(&|_| true).by_run(units),
            overhead: format!("{:.0} %", share * 100.0),
            welded: all.iter().filter(|seam| seam.stage != Stage::NotWelded).count(),
            accepted: count(Stage::Accepted),
            repairs: count(Stage::RepairWanted),
            all: all.len(),
        }
    }
}

impl Row {
    fn of(seen: &Seen, seam: &Seam, at: Option<Balloon>) -> Self {
        Self {
            balloon: seam.at.to_string(),
            to: seen.address(&format!("/welds?joint={}", seam.at)),
            here: at == Some(seam.at),
            length: seam.length.by_tape(seen.who.units),
            overhead: share(seam),
            stage: seam.stage.word(),
        }
    }
}

/// Which sheet asks, for what, and what was typed there.
pub(super) struct Page<'p> {
    pub(super) asked: &'p Asked,
    pub(super) typed: Option<&'p Form>,
    pub(super) page: &'static str,
}

impl AtJoint {
    /// A joint with its lines and the form of its next one; none of what has no seam.
    pub(super) fn of(seen: &Seen, found: &Findings, at: Balloon, of: &Page<'_>) -> Option<Self> {
        let (facts, cage, units) = (&seen.facts, &found.worked.cage, seen.who.units);
        let seam = all(cage, &facts.welds).into_iter().find(|seam| seam.at == at)?;
        let clock = &seen.who.ctx.clock;
        let held = found.why_held(facts, at, clock.today(), &|moment| clock.day_of(moment));
        let form = LineForm::of(seen, at, of.asked, of.typed, of.page);
        let like = alike(cage, &facts.welds, at, None).and_then(|weld| {
            let run = weld.did.run()?;
            let figures = run.describe_figures(units);
            let figures = if figures.is_empty() { "no figures".to_owned() } else { figures };
            let words = format!("{}, {figures}, {}", run.process.word(), run.describe_positions());
            let to = format!("{}?joint={at}&did={}&like={}", of.page, form.kind, weld.line);
            Some(Alike { joint: weld.joint.to_string(), words, to: seen.address(&to) })
        });
        Some(Self {
            balloon: at.to_string(),
            to: seen.address(&part_address(at)),
            stage: seam.stage.word(),
            length: seam.length.by_tape(units),
            overhead: share(&seam),
            down: seam.down > Length::default(),
            held: held.unwrap_or_default(),
            alike: like.filter(|_| !form.inspects),
            lines: WeldLine::of_joint(seen, at),
            drawing: locator(cage, at, FRAME),
            form,
        })
    }
}
