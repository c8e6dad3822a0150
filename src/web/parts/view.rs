//! What a part's sheet shows.

use askama::Template;

use crate::documents::part_figures::{self, Row};
use crate::domain::derived::findings::Findings;
use crate::domain::judge::shots;
use crate::domain::judge::shots::Shot;
use crate::domain::judge::verdicts::Word;
use crate::domain::recorded::questions::Question;
use crate::domain::shop::people::{Deed, may};
use crate::domain::steel::dies::Die;
use crate::domain::words::ids::{Balloon, Kind};
use crate::domain::work::fabrication::{BarSheet, Bench};
use crate::domain::work::walk::{ShotState, state_of};
use crate::drawing::car::part;
use crate::quantity::{Length, Show as _};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, part_address, walk_address};
use crate::web::shown::judged::Judged;
use crate::web::shown::located::locator;
use crate::web::shown::picture::{Picture, kept_pictures};
use crate::web::shown::weld_lines::WeldLine;
use crate::web::svg::Svg;

/// The locator's frame on a part's sheet.
const FRAME: (Length, Length) = (Length::from_mm(150.0), Length::from_mm(95.0));

/// Of a bar drawn alone: bent, and straight.
const BENT: (Length, Length) = (Length::from_mm(150.0), Length::from_mm(150.0));
const STRAIGHT: (Length, Length) = (Length::from_mm(150.0), Length::from_mm(45.0));

/// One part of the cage.
#[derive(Template)]
#[template(path = "parts/part.html")]
pub(crate) struct PartSheet {
    sheet: Sheet,
    base: String,
    balloon: String,
    words: String,
    drawing: Option<Svg>,
    alone: Option<Svg>,
    rows: Vec<Line>,
    /// What was measured, the figure, where it comes from.
    measured: Vec<(String, String, String)>,
    shots: Vec<ShotLine>,
    others: Vec<Picture>,
    verdicts: Vec<Judged>,
    questions: Vec<(String, String, &'static str)>,
    /// Its lines of the weld log; none for a part that is not welded as one.
    welds: Option<Vec<WeldLine>>,
    may_record: bool,
}

struct Line {
    what: String,
    value: String,
    parts: Vec<(String, String)>,
}

struct ShotLine {
    sign: &'static str,
    words: String,
    state: &'static str,
    to: String,
    pictures: Vec<Picture>,
}

impl PartSheet {
    /// From what is recorded and what follows; none when the cage has no such part.
    pub(crate) fn of(seen: &Seen, found: &Findings, dies: &[Die], of: Balloon) -> Option<Self> {
        let (facts, units) = (&*seen.facts, seen.who.units);
        let rows = part_figures::of(&found.worked.cage, facts, of, units)?;
        let words = shots::part(&found.worked.cage, facts, of);
        let names: Vec<String> = found.worked.every_shot().map(Shot::name).collect();
        let measured = found.worked.figures.iter().filter(|figure| figure.of == of && figure.measure.measured());
        let shots = found.worked.every_shot().filter(|shot| shot.of == of && (shot.taken() || !shot.stand_in));
        let begins = format!("{of} ");
        let others = facts
            .photos
            .iter()
            .rev()
            .filter(|photo| photo.kept() && photo.shot.starts_with(&begins) && !names.contains(&photo.shot));
        let open = |question: &Question| match (question.settled.is_some(), question.answers.is_empty()) {
            (true, _) => "settled",
            (false, true) => "open",
            (false, false) => "answered, not settled",
        };
        let asked = facts.questions.iter().filter(|question| question.about == Some(of));
        Some(Self {
            sheet: seen.sheet(&format!("{of} {words}")),
            base: seen.address(""),
            balloon: of.to_string(),
            drawing: locator(&found.worked.cage, of, FRAME),
            alone: alone(seen, found, dies, of),
            rows: rows.into_iter().map(|row| Line::of(seen, row)).collect(),
            measured: measured
                .map(|figure| (figure.measure.word().to_owned(), figure.amount.show(units), figure.from.clone()))
                .chain(earlier(seen, found, of))
                .collect(),
            shots: shots.map(|shot| ShotLine::of(seen, shot)).collect(),
            others: others.map(|photo| Picture::of(seen, photo)).collect(),
            verdicts: found.worked.verdicts_of(of).map(|verdict| Judged::of(seen, verdict)).collect(),
            questions: asked
                .map(|question| (format!("Q{}", question.number), question.text.clone(), open(question)))
                .collect(),
            welds: matches!(of.kind, Kind::Joint | Kind::Plate).then(|| WeldLine::of_joint(seen, of)),
            may_record: may(seen.who.ctx.by.role, Deed::RecordWork),
            words,
        })
    }
}

/// The figures that are of the earlier piece, each saying so.
fn earlier(seen: &Seen, found: &Findings, of: Balloon) -> Vec<(String, String, String)> {
    let standing = found.worked.standing(&seen.facts);
    let of_it = seen.facts.measured.iter().filter(|read| read.of == of);
    let line = |read: &crate::domain::measure::figures::Measured| {
        let (read, since) = standing.earlier_figure(read.measure, of)?;
        let (units, by) = (seen.who.units, &read.by);
        let from = format!(
            "of the earlier piece: measured by {by}, “{}”, before {}. It counts for nothing.",
            read.text,
            since.describe(units)
        );
        Some((read.measure.word().to_owned(), read.amount.show(units), from))
    };
    of_it.filter_map(line).collect()
}

/// A bar alone with its dimensions, its turns as the shop's bender counts them.
fn alone(seen: &Seen, found: &Findings, dies: &[Die], of: Balloon) -> Option<Svg> {
    let member = found.worked.cage.member(of)?;
    let bar = BarSheet::of(&found.worked.cage, member, &Bench { dies, ..Bench::default() });
    let frame = if bar.bends.is_empty() { STRAIGHT } else { BENT };
    Some(Svg::of(&part::alone(&bar, frame, seen.who.units), frame, |_| None))
}

impl Line {
    fn of(seen: &Seen, row: Row) -> Self {
        Self {
            what: row.what,
            value: row.value,
            parts: row.parts.iter().map(|part| (part.to_string(), seen.address(&part_address(*part)))).collect(),
        }
    }
}

impl ShotLine {
    fn of(seen: &Seen, shot: &Shot) -> Self {
        let state = state_of(shot, &seen.facts);
        Self {
            sign: if state == ShotState::Taken { "full" } else { "open" },
            words: shot.view.clone().unwrap_or_else(|| shot.what.clone()),
            state: state.word(),
            to: seen.address(&walk_address(&shot.name())),
            pictures: kept_pictures(seen, &shot.name()),
        }
    }
}
