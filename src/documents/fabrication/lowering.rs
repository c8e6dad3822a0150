//! The lowering plan on paper: how it looks, what comes after what, the holes, what is checked on the way up.

use glam::dvec2;

use super::{Fabrication, Page, SMALL, Style, TYPE, finished, paragraph, room, title_block};
use crate::domain::derived::lowering_steps::State;
use crate::domain::derived::release::Release;
use crate::domain::recorded::lowering::Look;
use crate::domain::words::cautions;
use crate::domain::work::lowering::{GUSSETS, Hole, Plan, TAKEN};
use crate::drawing::lowering::{Drawing, from_above, hole, side};
use crate::drawing::paper::sheet::moved;
use crate::drawing::paper::table::{Column, Table};
use crate::drawing::paper::title_block::TitleBlock;
use crate::drawing::{Mark, Pen, Sheet};
use crate::quantity::{Length, Show as _};

/// A plan, and how far it is.
#[derive(Debug, Clone, Copy)]
pub struct Lowered<'a> {
    /// The plan.
    pub plan: &'a Plan,
    /// How the release of its joints stands.
    pub release: &'a Release,
    /// What was looked at.
    pub looks: &'a [Look],
    /// Whether the shop said that this cage is lowered.
    pub wanted: bool,
}

/// The plan's sheets.
pub fn lowering_sheets(of: &Fabrication<'_>, lowered: &Lowered<'_>) -> Vec<Sheet> {
    let pages = vec![drawn(of, lowered), cautioned(of), ordered(of, lowered), holes(of, lowered), up(of, lowered)];
    let block = TitleBlock { number: "lowering".to_owned(), kind: "Lowering plan".to_owned(), ..title_block(of) };
    finished(pages.into_iter().flatten().collect(), &block, of.paper)
}

/// A page that fills downward.
struct Filling {
    page: Page,
    down: f64,
    width: f64,
}

impl Filling {
    fn begun(of: &Fabrication<'_>, title: &str, place: Option<&str>) -> Self {
        Self { page: Page::begun(title, place), down: 9.5, width: room(of).x }
    }

    fn words(&mut self, words: &str, style: Style) {
        let (marks, reached) = paragraph(words, dvec2(0.0, self.down), style, self.width);
        self.page.marks.extend(marks);
        self.down = reached + 1.4;
    }

    fn put(&mut self, marks: Vec<Mark>, height: f64) {
        self.page.marks.extend(moved(marks, dvec2(0.0, self.down)));
        self.down += height + 1.5;
    }
}

/// A table on as many pages as it needs, the first of them begun already.
fn table(of: &Fabrication<'_>, mut begun: Filling, table: &Table) -> Vec<Page> {
    let whole = room(of).y;
    let mut pages = Vec::new();
    let pieces = table.pieces(Length::from_mm(whole - begun.down - 1.0), Length::from_mm(whole - 12.0));
    for (index, piece) in pieces.into_iter().enumerate() {
        if index > 0 {
            let title = format!("{}, continued", begun.page.title.trim_end_matches(", continued"));
            pages.push(std::mem::replace(&mut begun, Filling::begun(of, &title, None)).page);
        }
        begun.put(piece.marks, piece.height.mm());
    }
    pages.push(begun.page);
    pages
}

fn drawn(of: &Fabrication<'_>, lowered: &Lowered<'_>) -> Vec<Page> {
    let plan = lowered.plan;
    let mut page = Filling::begun(of, "Lowering plan", Some("lowering"));
    if !lowered.wanted {
        page.words("Nobody said that this cage is lowered: this is how it would be.", Style::BOLD);
    }
    page.words(&lowered.release.describe(), Style::BOLD);
    let description = format!(
        "Down by {}, so that every seam under the roof that looks up has {} over it. The car's floor at least {} over the \
         shop's. {} holes; {} joints are welded while it is down.",
        plan.drop.by_tape_at_least(of.units),
        plan.settings.room.text,
        plan.under.by_tape_at_least(of.units),
        plan.holes.len(),
        plan.welds.len()
    );
    page.words(&description, Style { size: TYPE, ..Style::SMALL });
    page.words(&format!("{} {}", plan.drop_reckoned(of.units), plan.under_reckoned(of.units)), Style::SMALL);
    page.words(TAKEN, Style::SMALL);
    if plan.roof.is_none() {
        let description = "The roof's height inside is not measured: no room is taken to be over any joint.";
        page.words(description, Style::BOLD);
    }
    let height = (room(of).y - page.down - 3.0).min(125.0);
    let drawing =
        Drawing { frame: (Length::from_mm(page.width), Length::from_mm(height)), size: SMALL, units: of.units };
    page.put(side(of.cage, plan, drawing), height);
    vec![page.page]
}

/// The cautions in the order of the work, before the work's own order.
fn cautioned(of: &Fabrication<'_>) -> Vec<Page> {
    let mut page = Filling::begun(of, "In this order, before anything is cut", Some("cautions"));
    let style = Style { size: TYPE, ..Style::SMALL };
    for (number, said) in (1..).zip(cautions::LOWERING) {
        page.words(&format!("{number}. {said}"), style);
    }
    page.words(&cautions::held(&of.cage.mass().show(of.units)), style);
    page.words(cautions::WELDING, style);
    vec![page.page]
}

fn named(parts: &[crate::domain::words::ids::Balloon]) -> String {
    parts.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")
}

/// The order of work, then the bars that stay out.
fn ordered(of: &Fabrication<'_>, lowered: &Lowered<'_>) -> Vec<Page> {
    let plan = lowered.plan;
    let mut page = Filling::begun(of, "Order of work", Some("order"));
    for (number, step) in (1..).zip(plan.steps(lowered.release, lowered.looks, of.units)) {
        let word = match step.state {
            State::Done => "done: ",
            State::OutOfTurn => "TICKED BEFORE ITS TURN: ",
            State::Open => "",
            State::Blocked => "BLOCKED: ",
        };
        let waits = match (step.blocked_by.as_str(), step.missing.as_str()) {
            ("", "") => String::new(),
            ("", missing) => format!(" Not there: {missing}."),
            (waits, _) => format!(" Waits for {waits}."),
        };
        let void = if step.void { " It was ticked for an earlier plan, which does not count." } else { "" };
        let parts = if step.parts.is_empty() { String::new() } else { format!(" {}.", named(&step.parts)) };
        page.words(&format!("{number}. {word}{}{waits}{void}{parts}", step.what), Style { size: TYPE, ..Style::SMALL });
    }
    for weld in &plan.welds {
        let later = match weld.later.as_slice() {
            [] => String::new(),
            bars => format!(
                " {} comes there later, onto a welded seam: 1 to 2 mm off its cope where the bead is (common practice).",
                named(bars)
            ),
        };
        page.words(&format!("{}: weld {}.{later}", weld.joint, weld.describe()), Style::SMALL);
    }
    if !plan.welds.is_empty() {
        page.words(GUSSETS, Style::SMALL);
    }
    for (joint, bar) in &plan.out_of_reach {
        let description =
            format!("{bar} at {joint}: its upper seam has no room once the cage is up. Settle how it is reached.");
        page.words(&description, Style::SMALL);
    }
    let rows = plan.left_out.iter().map(|left| {
        let role = of.cage.member(left.bar).map_or("bar", |bar| bar.role.word());
        vec![left.bar.to_string(), role.to_owned(), left.why.describe(of.units)]
    });
    let bars = Table {
        columns: vec![
            Column::of("No.", Length::from_mm(14.0)),
            Column::of("Not to be fitted yet", Length::from_mm(45.0)),
            Column::of("Why", Length::from_mm(page.width - 59.0)),
        ],
        rows: rows.collect(),
        size: TYPE,
    };
    table(of, page, &bars)
}

/// Each hole with its figures and what lies under it.
fn holes(of: &Fabrication<'_>, lowered: &Lowered<'_>) -> Vec<Page> {
    let plan = lowered.plan;
    let mut page = Filling::begun(of, "Holes in the floor", Some("holes"));
    let over = &plan.settings.over.text;
    page.words(
        &format!(
            "Across the lean the tube and {over}; along it the same aslant, and as far as the leg moves while it goes straight \
             down. The cross is the foot's middle. Under each hole every line is looked for before it is cut."
        ),
        Style::SMALL,
    );
    let height = 100.0;
    let drawing =
        Drawing { frame: (Length::from_mm(page.width), Length::from_mm(height)), size: SMALL, units: of.units };
    page.put(from_above(of.cage, plan, drawing), height);
    let mut pages = Vec::new();
    for one in &plan.holes {
        let description = paragraph(
            &describe(of, lowered, one),
            dvec2(68.0, 4.0),
            Style { size: TYPE, ..Style::SMALL },
            page.width - 68.0,
        );
        let height = (description.1 + 2.0).max(48.0);
        if page.down + height > room(of).y {
            let next = Filling::begun(of, "Holes in the floor, continued", None);
            pages.push(std::mem::replace(&mut page, next).page);
        }
        let frame = (Length::from_mm(60.0), Length::from_mm(44.0));
        let mut marks = hole(of.cage, one, Drawing { frame, size: SMALL, units: of.units });
        marks.extend(description.0);
        page.put(marks, height);
    }
    pages.push(page.page);
    pages
}

/// What is said beside a hole's drawing.
fn describe(of: &Fabrication<'_>, lowered: &Lowered<'_>, one: &Hole) -> String {
    let plan = lowered.plan;
    let covered = if one.covered < Length::default() {
        format!("The plate does not cover it: {} stay open.", (-one.covered).by_tape_at_least(of.units))
    } else {
        format!("The plate reaches {} over its edge.", one.covered.by_tape_at_most(of.units))
    };
    let look = plan.looked_at(one, lowered.looks);
    let seen = look.map_or_else(
        || "Under it, before it is cut: lines · tank · harness · frame · exhaust · other".to_owned(),
        |look| format!("Looked under by {}: nothing in the way.", look.by),
    );
    let lies = of.cage.plate(one.plate).map(|plate| one.lies(plate, of.units)).unwrap_or_default();
    format!(
        "{} under {}\nsaw {}, hole {} by {}\n{}\n{lies}\n{covered}\n{seen}",
        one.plate,
        one.bar,
        one.saw.by_tape_at_least(of.units),
        one.long.by_tape_at_least(of.units),
        one.wide.by_tape_at_least(of.units),
        one.reckoned(&plan.settings.over, of.units)
    )
}

/// The way back up, with room to write what was measured.
fn up(of: &Fabrication<'_>, lowered: &Lowered<'_>) -> Vec<Page> {
    let mut page = Filling::begun(of, "The way back up", Some("up"));
    let description = "Up, plates under, feet on the plates. Then every height from the floor's level, to the middle of the tube or \
                the top of the plate, as the car was measured.";
    page.words(description, Style { size: TYPE, ..Style::SMALL });
    for height in &lowered.plan.heights {
        let figure = height.is.by_tape(of.units);
        let mut marks = paragraph(&height.what, dvec2(0.0, 2.0), Style { size: TYPE, ..Style::SMALL }, 90.0).0;
        marks.extend(paragraph(&figure, dvec2(92.0, 2.0), Style::BOLD, 30.0).0);
        marks.push(Mark::Line { from: dvec2(126.0, 6.4), to: dvec2(page.width, 6.4), pen: Pen::Narrow });
        page.put(marks, 7.5);
    }
    if let Some(diagonals) = &lowered.plan.diagonals {
        let description = "Diagonals across the feet, middle to middle of the tubes on their plates:";
        page.words(&format!("{description} {}.", diagonals.describe(of.units)), Style { size: TYPE, ..Style::SMALL });
    }
    if let Some(look) = lowered.plan.up_again(lowered.looks) {
        page.words(&format!("Checked by {}.", look.by), Style::BOLD);
    }
    vec![page.page]
}
