//! What the cage's sheet shows: four views, what is missing, what cannot be built, the tape measurements.

use std::sync::OnceLock;

use askama::Template;

use super::beside::{Gaps, SeatLine, seats};
use super::choices;
use crate::domain::cage::record::example::{TUBES, example_on};
use crate::domain::cage::solve;
use crate::domain::cage::{
    BasicStructure, CageRecord, Foot, Hand, Member, ORDER_OF_MEASURING, Options, TapeMeasure, TubeRole,
};
use crate::domain::derived::findings::Findings;
use crate::domain::words::ids::{Balloon, Kind};
use crate::drawing::car::beside::beside;
use crate::drawing::car::cage::{Numbers, Shown, draw_cage, measurement, small};
use crate::drawing::car::view::View;
use crate::quantity::{Length, Units};
use crate::web::form::{Field, Form, Keeping};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, part_address};
use crate::web::svg::Svg;

/// The cage's sheet.
#[derive(Template)]
#[template(path = "cage/cage.html")]
pub(crate) struct CageSheet {
    sheet: Sheet,
    slug: String,
    views: Vec<Svg>,
    bars: Vec<BarLine>,
    missing: usize,
    faults: Vec<(String, String)>,
    keeping: Keeping,
    /// The fields on which two people differ, by their place on the sheet.
    differ: Vec<(String, String)>,
    dies: Vec<Field>,
    plates: Vec<Field>,
    measures: Vec<(Field, Svg)>,
    structure: Field,
    on: BasicStructure,
    structures: &'static [Offered],
    choices: Vec<(Field, Svg)>,
    asked: bool,
    drawn_with: String,
    saved: bool,
    gaps: Option<Gaps>,
    seats: Vec<SeatLine>,
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

impl CageSheet {
    /// From the record as it stands and what was typed so far.
    pub(crate) fn of(seen: &Seen, found: &Findings, record: &CageRecord, form: &Form) -> Self {
        let (tubes, cage) = (&found.worked.tubes, &found.worked.cage);
        let units = seen.who.units;
        let on = form.text("structure").parse().unwrap_or(record.structure);
        let pictures = offered().iter().find(|offered| offered.structure == on).map_or(&[][..], |on| &on.measures);
        let measures = ORDER_OF_MEASURING.iter().zip(pictures).map(|(measure, picture)| {
            let field = form.field_named(measure.key(), measure.word_in(on)).hint(measure.where_to_hold());
            (field, picture.clone())
        });
        let die = |role: TubeRole| {
            let name = format!("bend_radius_{}", role.key());
            form.field_named(name, format!("Die, {}", role.word()))
                .hint("Centre-line radius of its bends: 4 1/2, or 135 mm.")
        };
        let measures: Vec<(Field, Svg)> = measures.collect();
        let (plates, dies) = (plates(form, on), TubeRole::BOTH.map(die).to_vec());
        let choices = choices::fields(form, on);
        let named = BasicStructure::ALL.map(|structure| (structure.key().to_owned(), structure.word().to_owned()));
        let structure = form.field("structure", "Basic structure").choice(named);
        let pictured = choices.iter().chain(&measures).map(|(field, _)| field);
        let all = std::iter::once(&structure).chain(pictured).chain(&dies).chain(&plates);
        let differ = all.filter(|field| field.differs()).map(|field| (field.name.clone(), field.label.clone()));
        Self {
            sheet: seen.sheet("Cage"),
            slug: seen.facts.build.slug.clone(),
            views: views(seen, found),
            bars: cage.members.iter().map(|member| BarLine::of(found, member, units)).collect(),
            missing: record.missing().len(),
            faults: found.worked.cage_faults().map(|fault| (fault.at.clone(), fault.why.clone())).collect(),
            keeping: form.keeping(),
            differ: differ.collect(),
            plates,
            dies,
            measures,
            structure,
            on,
            structures: offered(),
            choices,
            asked: found.worked.tubes_asked,
            drawn_with: format!("{} for the main bars and {} for the others", tubes.hoop, tubes.other),
            saved: seen.facts.cage.is_some(),
            gaps: Gaps::of(seen, cage, &found.worked.around),
            seats: seats(seen, found),
        }
    }
}

/// A basic structure as it is offered, and the pictures of its measurements; they are the same for every car.
pub(crate) struct Offered {
    structure: BasicStructure,
    /// The structure alone, without what braces it.
    picture: Svg,
    /// Where to hold the tape, in the order of measuring.
    measures: Vec<Svg>,
}

fn offered() -> &'static [Offered] {
    static OFFERED: OnceLock<[Offered; 3]> = OnceLock::new();
    OFFERED.get_or_init(|| BasicStructure::ALL.map(offer))
}

fn offer(structure: BasicStructure) -> Offered {
    let mut record = example_on(structure);
    // The example's dash bar stays at the knees; the picture shows that height.
    if let Some(knee) = record.measures.get(&TapeMeasure::KneeUp(Hand::Left)).cloned() {
        record.measures.entry(TapeMeasure::DashBarHeight).or_insert(knee);
    }
    let cage = solve(&record, &TUBES);
    let frame = (Length::from_mm(96.0), Length::from_mm(66.0));
    let picture = |measure| Svg::of(&measurement(&record, &cage, measure, frame), frame, |_| None);
    let plain = CageRecord { options: Options::default(), gussets: Vec::new(), ..record.clone() };
    let plain = solve(&plain, &TUBES);
    let own = plain.members.iter().filter(|member| member.role == structure.describe_by());
    let own: Vec<Balloon> = own.map(|member| member.balloon).collect();
    Offered {
        structure,
        picture: Svg::of(&small(&plain, &own, frame), frame, |_| None),
        measures: ORDER_OF_MEASURING.iter().copied().map(picture).collect(),
    }
}

fn plates(form: &Form, structure: BasicStructure) -> Vec<Field> {
    let part = |foot: Foot, (key, words): (&str, &str)| {
        form.field_named(
            format!("plate_{}_{key}", foot.key()),
            format!("Plate under the {}, {words}", foot.word(structure)),
        )
    };
    Foot::ALL.into_iter().flat_map(|foot| PLATE.map(|figure| part(foot, figure))).collect()
}

/// The figures of a plate, as named in the form and as read.
pub(crate) const PLATE: [(&str, &str); 3] =
    [("side_a", "along the car"), ("side_b", "across the car"), ("thickness", "thickness")];

/// Front, side, plan and isometric, with the joints' balloons, each leading to its joint.
fn views(seen: &Seen, found: &Findings) -> Vec<Svg> {
    let cage = &found.worked.cage;
    if cage.members.is_empty() {
        return Vec::new();
    }
    let frame = (Length::from_mm(230.0), Length::from_mm(180.0));
    let sides = [View::Isometric, View::Front, View::Side, View::Plan];
    let beside = beside(cage, &found.worked.around, false);
    let drawn = |view| {
        let shown = Shown { view, numbers: Numbers::Of(Kind::Joint), hidden: false };
        draw_cage(cage, &beside, shown, frame).marks
    };
    sides.map(|view| Svg::of(&drawn(view), frame, |part| Some(seen.address(&part_address(*part))))).to_vec()
}
