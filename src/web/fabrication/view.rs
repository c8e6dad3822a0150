//! What the fabrication sheet shows.

use askama::Template;

use crate::domain::derived::findings::Findings;
use crate::domain::words::cautions;
use crate::domain::work::fabrication::{BarSheet, Bench, Blank};
use crate::drawing::Paper;
use crate::quantity::{Length, Show as _};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, part_address};

/// Every bar's blank, bends and copes.
#[derive(Template)]
#[template(path = "fabrication/sheets.html")]
pub(crate) struct Sheets {
    sheet: Sheet,
    slug: String,
    /// The paper that is usual where these units are read, and the other.
    paper: Paper,
    other: Paper,
    bars: Vec<Bar>,
    blanks: Vec<Piece>,
    total: String,
    mass: String,
    seam: String,
    overhead: String,
    asked: bool,
}

struct Bar {
    balloon: String,
    to: String,
    pdf: String,
    role: &'static str,
    tube: String,
    blank: String,
    bends: Vec<String>,
    /// Bends that are too near to each other for the bender.
    near: Vec<String>,
    ends: Vec<String>,
}

/// A plate or gusset.
struct Piece {
    balloon: String,
    to: String,
    /// Of its files, without their ending.
    file: String,
    words: String,
    thickness: String,
    leg: String,
    area: String,
    mass: String,
    looks: Vec<String>,
}

impl Sheets {
    /// From the cage.
    pub(crate) fn of(seen: &Seen, found: &Findings, bench: &Bench<'_>) -> Self {
        let (cage, units) = (&found.worked.cage, seen.who.units);
        let paper = Paper::usual(units);
        let down: Length = cage.joints.iter().map(|joint| joint.seam * joint.overhead).sum();
        let share = if cage.seam() > Length::default() { down / cage.seam() } else { 0.0 };
        Self {
            sheet: seen.sheet("Sheets"),
            slug: seen.facts.build.slug.clone(),
            paper,
            other: if paper == Paper::A4 { Paper::Letter } else { Paper::A4 },
            bars: cage.members.iter().map(|member| bar(seen, &BarSheet::of(cage, member, bench))).collect(),
            blanks: Blank::all(cage).iter().map(|blank| piece(seen, blank)).collect(),
            total: cage.tube_length().by_tape(units),
            mass: cage.mass().show(units),
            seam: cage.seam().by_tape(units),
            overhead: format!("{:.0} %", share * 100.0),
            asked: found.worked.tubes_asked,
        }
    }
}

fn piece(seen: &Seen, blank: &Blank) -> Piece {
    let units = seen.who.units;
    let none = || "–".to_owned();
    Piece {
        balloon: blank.balloon.to_string(),
        to: seen.address(&part_address(blank.balloon)),
        file: seen.address(&format!("/sheets/{}", blank.balloon)),
        words: blank.words.clone(),
        thickness: blank.thickness.show(units),
        leg: blank.leg.map_or_else(none, |leg| leg.show(units)),
        area: blank.area().map_or_else(none, |area| area.show(units)),
        mass: blank.mass.show(units),
        looks: blank.notes(units).into_iter().filter(|note| note.starts_with("LOOK")).collect(),
    }
}

fn bar(seen: &Seen, sheet: &BarSheet<'_>) -> Bar {
    let (member, units) = (sheet.member, seen.who.units);
    let bend = |(number, bend): (usize, &crate::domain::work::fabrication::BendStep)| {
        let turn = if number == 1 { String::new() } else { format!(", turn {}", bend.turn.to_the_tenth_signed()) };
        let set = bend.made.setting().map(|set| format!(", set {}", set.angle.to_the_tenth())).unwrap_or_default();
        format!("{number}: mark at {}{turn}, {}{set}", bend.mark.by_tape_exactly(units), bend.angle.to_the_tenth())
    };
    let end = |(letter, end): (&str, &Option<crate::domain::work::fabrication::EndCut>)| {
        let end = end.as_ref()?;
        Some(format!("{letter} to {}: {}", end.describe(), end.cope.angle().to_the_tenth()))
    };
    Bar {
        balloon: member.balloon.to_string(),
        to: seen.address(&part_address(member.balloon)),
        pdf: seen.address(&format!("/members/{}/sheets.pdf", member.balloon)),
        role: member.role.word(),
        tube: member.describe_tube(),
        blank: member.cut_length.by_saw(units),
        bends: (1..).zip(&sheet.bends).map(bend).collect(),
        near: sheet.near.iter().map(|near| near.describe(units)).collect(),
        ends: ["A", "B"].into_iter().zip(&sheet.ends).filter_map(end).collect(),
    }
}
