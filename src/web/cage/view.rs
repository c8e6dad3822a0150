//! What the cage's sheet shows: the drawing, the groups of its form, what the last save changed, the bars laid out.

use std::sync::OnceLock;

use askama::Template;

use super::beside::{Gaps, SeatLine, seats};
use super::choices::AtHand;
use super::drawn::{Drawing, Looked};
use super::groups::{Group, Part, groups};
use super::turned::Turns;
use crate::domain::cage::record::changed::changed;
use crate::domain::cage::record::example::{TUBES, example_on};
use crate::domain::cage::{BasicStructure, CageRecord, Member, Options, TapeMeasure, solve};
use crate::domain::derived::findings::Findings;
use crate::domain::derived::worked::Worked;
use crate::domain::judge::verdicts::Word;
use crate::domain::recorded::car_file::pattern::{Pattern, how_many_unstated};
use crate::domain::recorded::facts::CageSave;
use crate::domain::steel::dies::Die;
use crate::domain::words::ids::Balloon;
use crate::drawing::car::cage::small;
use crate::quantity::{Length, Show, Units};

use crate::web::form::{Field, Form, Keeping};
use crate::web::gate::Seen;
use crate::web::page::Sheet;
use crate::web::problem::Problem;
use crate::web::svg::Svg;

/// The cage's sheet.
#[derive(Template)]
#[template(path = "cage/cage.html")]
pub(crate) struct CageSheet {
    sheet: Sheet,
    slug: String,
    drawing: Drawing,
    figures: Vec<Figure>,
    last: Option<LastSave>,
    bars: Vec<BarLine>,
    faults: Vec<(String, String)>,
    /// What is wrong with the form and stands at none of its fields.
    wrong: Vec<String>,
    keeping: Keeping,
    /// The fields on which two people differ, by their place on the sheet.
    differ: Vec<(String, String)>,
    groups: Vec<Group>,
    alike: Field,
    asked: bool,
    drawn_with: String,
    /// What is drawn was typed and is not saved.
    unsaved: bool,
    counts: Counts,
    gaps: Option<Gaps>,
    seats: Vec<SeatLine>,
    /// What it turns, or what the last save turned.
    turns: Option<Turns>,
    /// The car it was begun from, and how many of its figures nobody has stated of this one.
    pattern: Option<(String, usize)>,
}

/// A large figure: what it is, the figure, its unit, what it means.
pub(crate) struct Figure {
    label: &'static str,
    figure: String,
    means: String,
}

/// Who saved last, and what of it is other than before: what, was, is.
pub(crate) struct LastSave {
    by: String,
    lines: Vec<(String, String, String)>,
    more: usize,
}

/// How many of each are recorded.
pub(crate) struct Counts {
    by_hand: usize,
    gussets: usize,
    own_tubes: usize,
    body: usize,
    seats: usize,
}

/// A bar's line in the table.
struct BarLine {
    balloon: String,
    role: &'static str,
    side: &'static str,
    /// Its tube and the size of its kind, where the two differ.
    own: Option<String>,
    developed: String,
}

impl BarLine {
    fn of(found: &Findings, member: &Member, units: Units) -> Self {
        let of_its_kind = found.worked.tubes.of(member.role);
        Self {
            balloon: member.balloon.to_string(),
            role: member.role.word(),
            side: member.side.word(),
            own: (of_its_kind != member.tube).then(|| format!("its own {}, not {of_its_kind}", member.tube)),
            developed: member.developed.by_tape(units),
        }
    }
}

/// What is looked at: the record, stored or only typed, and from where.
pub(super) struct Looking<'a> {
    pub(super) record: &'a CageRecord,
    pub(super) looked: &'a Looked,
    /// The last saves, the newest first.
    pub(super) saves: &'a [CageSave],
    /// What would follow from it, where it is only typed.
    pub(super) tried: Option<&'a Worked>,
    /// The shop's dies.
    pub(super) dies: &'a [Die],
    /// What the build was begun from, where it was from a car's file.
    pub(super) pattern: Option<&'a Pattern>,
}

impl Looking<'_> {
    /// The pattern's figures.
    pub(super) fn figures(&self) -> Option<&CageRecord> {
        self.pattern.map(|pattern| &pattern.figures)
    }
}

impl CageSheet {
    /// From the record as it stands or was typed so far.
    pub(super) fn of(
        seen: &Seen,
        found: &Findings,
        of: &Looking<'_>,
        form: &Form,
        turns: Option<Turns>,
    ) -> Result<Self, Problem> {
        let (tubes, units, record) = (&found.worked.tubes, seen.who.units, of.record);
        let typed = of.tried.is_some();
        let book =
            AtHand { worked: of.tried.unwrap_or(&found.worked), typed, units, dies: of.dies, pattern: of.figures() };
        let groups = groups(form, record, &of.looked.open, &book);
        let open = groups.iter().find(|group| group.open).map_or(Part::Shape, |group| group.part);
        let drawing = Drawing::of(seen, found, of, open);
        let alike = ALIKE.map(|(key, words)| (key.to_owned(), words.to_owned()));
        let alike = form.field("alike", "Right side as the left").choice(alike);
        let fields: Vec<&Field> =
            groups.iter().flat_map(|group| &group.rows).map(|row| &row.field).chain([&alike]).collect();
        let differ =
            fields.iter().filter(|field| field.differs()).map(|field| (field.name.clone(), field.label.clone()));
        let (differ, wrong) = (differ.collect(), form.other_faults(&fields));
        let unsaved = *record != found.worked.record;
        let faults: Vec<_> =
            if unsaved { drawing.certain.faults.iter().collect() } else { found.worked.cage_faults().collect() };
        // What is still to measure is counted and drawn; it is no fault of the cage.
        let missing: Vec<String> = record.missing().into_iter().map(TapeMeasure::key).collect();
        let faults = faults.into_iter().filter(|fault| !missing.contains(&fault.at));
        let counts = Counts {
            by_hand: record.hand_bars.len(),
            gussets: record.gussets.len(),
            own_tubes: record.tubes.len(),
            body: record.body.len(),
            seats: record.seats.len(),
        };
        Ok(Self {
            sheet: seen.sheet("Cage"),
            slug: seen.facts.build.slug.clone(),
            figures: figures(&drawing, found, unsaved, units),
            last: last_save(of.saves)?,
            bars: drawing.certain.members.iter().map(|member| BarLine::of(found, member, units)).collect(),
            faults: faults.map(|fault| (fault.at.clone(), fault.why.clone())).collect(),
            wrong,
            keeping: form.keeping(),
            differ,
            groups,
            alike,
            asked: found.worked.tubes_asked,
            drawn_with: format!("{} for the main bars and {} for the others", tubes.hoop, tubes.other),
            unsaved,
            counts,
            gaps: Gaps::of(seen, &drawing.certain, &found.worked.around),
            seats: seats(seen, found),
            turns,
            pattern: of.pattern.map(|pattern| (pattern.car.clone(), how_many_unstated(&pattern.figures, record))),
            drawing,
        })
    }
}

/// Whether the right side is as the left, as sent and as read.
const ALIKE: [(&str, &str); 2] = [("yes", "as the left"), ("", "measured on its own")];

/// Tube, cage and finished car. While anything is drawn by a guess there is no figure.
fn figures(drawing: &Drawing, found: &Findings, unsaved: bool, units: Units) -> Vec<Figure> {
    let cage = &drawing.certain;
    let figure = |label, figure: String, means: String| Figure { label, figure, means };
    let not_yet = || "not known".to_owned();
    let (tube, mass) = if drawing.open.is_empty() && cage.whole {
        let bars = format!("{} bars, node to node", cage.members.len());
        let parts = "tube, gussets and plates".to_owned();
        ((cage.tube_length().by_run(units), bars), (cage.mass().show(units), parts))
    } else {
        ((not_yet(), drawing.open.clone()), (not_yet(), drawing.open.clone()))
    };
    let finished = found.worked.foreseen.as_ref().filter(|_| !unsaved);
    let of_finished = if unsaved { "after saving" } else { "predicted finished weight" };
    vec![
        figure("Tube", tube.0, tube.1),
        figure("Cage", mass.0, mass.1),
        figure("Finished", finished.map_or_else(not_yet, |foreseen| foreseen.figure(units)), of_finished.to_owned()),
    ]
}

/// So many lines of the last save stand on the sheet.
const LINES: usize = 2;

fn last_save(saves: &[CageSave]) -> Result<Option<LastSave>, Problem> {
    let Some((last, before)) = saves.first().map(|last| (last, saves.get(1))) else { return Ok(None) };
    let was = before.map(|save| save.cage.record()).transpose().map_err(Problem::NotMade)?.unwrap_or_default();
    let changes = changed(&was, &last.cage.record().map_err(Problem::NotMade)?);
    let more = changes.len().saturating_sub(LINES);
    let lines = changes.into_iter().take(LINES).map(|change| (change.what, change.was, change.is)).collect();
    Ok(Some(LastSave { by: last.by.clone(), lines, more }))
}

/// A basic structure as it is offered; its picture is the same for every car.
pub(crate) struct Offered {
    pub(super) structure: BasicStructure,
    /// The structure alone, without what braces it.
    pub(super) picture: Svg,
}

pub(super) fn offered() -> &'static [Offered] {
    static OFFERED: OnceLock<[Offered; 3]> = OnceLock::new();
    OFFERED.get_or_init(|| BasicStructure::ALL.map(offer))
}

fn offer(structure: BasicStructure) -> Offered {
    let frame = (Length::from_mm(96.0), Length::from_mm(66.0));
    let plain = CageRecord { options: Options::default(), gussets: Vec::new(), ..example_on(structure) };
    let plain = solve(&plain, &TUBES);
    let own = plain.members.iter().filter(|member| member.role == structure.describe_by());
    let own: Vec<Balloon> = own.map(|member| member.balloon).collect();
    Offered { structure, picture: Svg::of(&small(&plain, &own, frame), frame, |_| None) }
}

/// The figures of a plate, as named in the form and as read.
pub(crate) const PLATE: [(&str, &str); 3] =
    [("side_a", "along the car"), ("side_b", "across the car"), ("thickness", "thickness")];
