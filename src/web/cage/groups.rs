//! The groups of the cage's form: what is measured where on the car, one of them open.

use super::choices;
use super::choices::{AtHand, Clause};
use super::dies::{DieChoice, radius_of};
use super::view::{Offered, PLATE, offered};
use crate::domain::cage::{BasicStructure, CageRecord, Foot, Hand, ORDER_OF_MEASURING, TapeMeasure, TubeRole};
use crate::domain::words::roles::MemberRole;
use crate::web::form::{Field, Form};

/// A part of the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Part {
    Shape,
    Bars,
    Hoop,
    Pillars,
    Doors,
    Across,
    Backstays,
    Feet,
}

/// In the order in which one chooses, then walks round the car.
const ORDER: [Part; 8] =
    [Part::Shape, Part::Bars, Part::Hoop, Part::Pillars, Part::Doors, Part::Across, Part::Backstays, Part::Feet];

impl Part {
    /// Its name in the sheet's address.
    pub(super) const fn key(self) -> &'static str {
        match self {
            Self::Shape => "shape",
            Self::Bars => "bars",
            Self::Hoop => "hoop",
            Self::Pillars => "pillars",
            Self::Doors => "doors",
            Self::Across => "across",
            Self::Backstays => "backstays",
            Self::Feet => "feet",
        }
    }

    const fn name(self, on: BasicStructure) -> &'static str {
        match self {
            Self::Shape => "Shape",
            Self::Bars => "Bars",
            Self::Hoop if on.has_main_hoop() => "Main hoop",
            Self::Hoop => "Rear legs and roof",
            Self::Pillars => "Screen and pillars",
            Self::Doors => "Doors",
            Self::Across => "Harness and dash bar",
            Self::Backstays => "Backstay feet",
            Self::Feet => "Plates and dies",
        }
    }

    /// Whether bars of this kind are what it is about.
    pub(super) const fn has(self, role: MemberRole) -> bool {
        use MemberRole as R;
        match self {
            Self::Shape => matches!(
                role,
                R::MainHoop
                    | R::FrontHoop
                    | R::LateralHoop
                    | R::LateralHalfHoop
                    | R::RoofBar
                    | R::WindscreenHeader
                    | R::RearTransverseBar
                    | R::Backstay
            ),
            Self::Bars => !Self::Shape.has(role),
            Self::Hoop => {
                matches!(role, R::MainHoop | R::LateralHoop | R::RearTransverseBar | R::HoopDiagonal | R::HoopCrossBar)
            }
            Self::Pillars => matches!(
                role,
                R::FrontHoop | R::LateralHoop | R::LateralHalfHoop | R::RoofBar | R::WindscreenHeader | R::PillarStrut
            ),
            Self::Doors => matches!(role, R::DoorBar | R::SillBar | R::SeatCrossBar),
            Self::Across => matches!(role, R::HarnessBar | R::DashBar),
            Self::Backstays => matches!(role, R::Backstay | R::BackstayDiagonal),
            Self::Feet => false,
        }
    }

    /// Where a measurement is asked for.
    pub(super) const fn of(measure: TapeMeasure) -> Self {
        use TapeMeasure as T;
        match measure {
            T::HoopFeetWidth
            | T::HoopShoulderWidth
            | T::HoopShoulderHeight
            | T::HoopRoofWidth
            | T::HoopRoofHeight
            | T::HoopLean
            | T::RoofInside
            | T::HoopPlateHeight(_) => Self::Hoop,
            T::FrontFootForward(_)
            | T::FrontFootOut(_)
            | T::FrontPlateHeight(_)
            | T::KneeForward(_)
            | T::KneeOut(_)
            | T::KneeUp(_)
            | T::ScreenCornerForward(_)
            | T::ScreenCornerOut(_)
            | T::ScreenCornerUp(_) => Self::Pillars,
            T::SillHeight(_) | T::SillBarTop(_) | T::DoorOpeningLength(_) | T::DoorOpeningHeight(_) => Self::Doors,
            T::HarnessBarHeight | T::DashBarHeight => Self::Across,
            T::BackstayFootBack(_) | T::BackstayFootOut(_) | T::BackstayFootUp(_) => Self::Backstays,
        }
    }
}

/// A field of a group.
pub(super) struct Row {
    pub(super) field: Field,
    /// The side it is taken on, where it is taken on both.
    pub(super) hand: Option<Hand>,
    /// No bar that is chosen needs it.
    pub(super) spare: bool,
    /// Which clauses ask for it; none of what is no choice of bars.
    pub(super) clause: Option<Clause>,
    /// The shop's dies, where it is a die's radius.
    pub(super) die: Option<DieChoice>,
    /// What it is on the car that the build was begun from, where nothing is typed.
    pub(super) pattern: Option<String>,
}

impl Row {
    /// The field that its label is of: the choice of a die where there is one.
    pub(super) fn labelled(&self) -> &str {
        let choice = self.die.as_ref().filter(|die| !die.choices.is_empty());
        choice.map_or(&self.field.name, |die| &die.name)
    }

    /// What stands in the field.
    pub(super) fn value(&self) -> &str {
        self.die.as_ref().map_or(&self.field.value, |die| &die.typed)
    }

    /// The pattern's figure, while the field is empty.
    pub(super) fn by_pattern(&self) -> Option<&str> {
        self.pattern.as_deref().filter(|_| self.field.value.is_empty())
    }

    pub(super) fn is_right(&self) -> bool {
        self.hand == Some(Hand::Right)
    }
}

/// A group as the form shows it.
pub(super) struct Group {
    pub(super) part: Part,
    pub(super) key: &'static str,
    pub(super) name: &'static str,
    /// What stands beside the name, shut.
    pub(super) count: String,
    pub(super) open: bool,
    pub(super) rows: Vec<Row>,
    /// The pictures to choose the structure from; in the first group alone.
    pub(super) structures: &'static [Offered],
}

/// The measurements that count: those that the bars chosen need, a right one where it is not as the left.
pub(super) fn asked_for(record: &CageRecord) -> impl Iterator<Item = TapeMeasure> {
    let on_its_own =
        |measure: &TapeMeasure| measure.hand() != Some(Hand::Right) || record.measures.contains_key(measure);
    ORDER_OF_MEASURING.iter().copied().filter(|measure| record.options.needs(*measure)).filter(on_its_own)
}

/// How many of these there are, and how many were taken.
fn taken(record: &CageRecord, wanted: impl Iterator<Item = TapeMeasure>) -> (usize, usize) {
    wanted.fold((0, 0), |(taken, all), measure| (taken + usize::from(record.measures.contains_key(&measure)), all + 1))
}

/// How many measurements were taken, and how many there are to take.
pub(super) fn all_taken(record: &CageRecord) -> (usize, usize) {
    taken(record, asked_for(record))
}

/// The groups as typed. Open is the one with a fault, else the one wanted, else the first with something left to measure.
pub(super) fn groups(form: &Form, record: &CageRecord, wanted: &str, book: &AtHand<'_>) -> Vec<Group> {
    let on = form.text("structure").parse().unwrap_or(record.structure);
    let mut groups: Vec<Group> = ORDER.into_iter().map(|part| group(part, on, form, record, book)).collect();
    let faulty = |group: &Group| group.rows.iter().any(|row| row.field.fault.is_some() || row.field.differs());
    let left = |part: Part| {
        let (taken, all) = taken(record, asked_for(record).filter(|measure| Part::of(*measure) == part));
        taken < all
    };
    let open = groups.iter().position(faulty).or_else(|| ORDER.iter().position(|part| part.key() == wanted));
    let open = open.or_else(|| ORDER.iter().position(|part| left(*part))).unwrap_or(2);
    if let Some(group) = groups.get_mut(open) {
        group.open = true;
    }
    groups
}

fn group(part: Part, on: BasicStructure, form: &Form, record: &CageRecord, book: &AtHand<'_>) -> Group {
    let plain = |field| Row { field, hand: None, spare: false, clause: None, die: None, pattern: None };
    let (rows, count): (Vec<Row>, String) = match part {
        Part::Shape => (vec![plain(structure(form))], on.word().to_owned()),
        Part::Bars => {
            let fields = choices::fields(form);
            let chosen = fields.iter().filter(|field| !matches!(field.value.as_str(), "no" | "none" | "0" | ""));
            let which = ["through", "door_through"];
            let count = chosen.filter(|field| !which.contains(&field.name.as_str())).count();
            let asked = |(field, clause)| Row { clause: Some(clause), ..plain(field) };
            (fields.into_iter().zip(choices::clauses(book)).map(asked).collect(), format!("{count} chosen"))
        }
        Part::Feet => {
            let (taken, all) = plates_taken(record);
            let of_pattern = |field: Field| Row { pattern: plate_figure(book.pattern, &field.name), ..plain(field) };
            let plates = plates(form, on).into_iter().map(of_pattern);
            (dies(form, book).chain(plates).collect(), format!("{taken} of {all} given"))
        }
        _ => {
            let here = || ORDER_OF_MEASURING.iter().copied().filter(|measure| Part::of(*measure) == part);
            let row = |measure: TapeMeasure| Row {
                field: form.field_named(measure.key(), label(measure, on)).hint(measure.where_to_hold()),
                hand: measure.hand(),
                spare: !record.options.needs(measure),
                clause: None,
                die: None,
                pattern: book.pattern.and_then(|pattern| Some(pattern.measures.get(&measure)?.text.clone())),
            };
            let (taken, all) = taken(record, asked_for(record).filter(|measure| Part::of(*measure) == part));
            let count = if all == 0 { "not asked".to_owned() } else { format!("{taken} of {all} measured") };
            // The right one stands under its left one.
            let of_left = here().filter(|measure| measure.hand() != Some(Hand::Right));
            let rows = of_left.flat_map(|left| [Some(left), left.hand().map(|_| left.mirrored())]).flatten();
            (rows.map(row).collect(), count)
        }
    };
    let structures = if part == Part::Shape { offered() } else { &[] };
    Group { part, key: part.key(), name: part.name(on), count, open: false, rows, structures }
}

/// The words of a measurement within its group: what the group's name says already is left out.
fn label(measure: TapeMeasure, on: BasicStructure) -> String {
    let words = measure.word_in(on);
    let hand = measure.hand().map(|hand| format!(", {}", hand.word()));
    let words = hand.as_deref().and_then(|hand| words.strip_suffix(hand)).unwrap_or(&words);
    let short = match Part::of(measure) {
        Part::Hoop => words.strip_prefix("main hoop: ").or_else(|| words.strip_prefix("rear legs: ")),
        Part::Doors => words.strip_prefix("door: "),
        Part::Backstays => words.strip_prefix("backstay foot: "),
        _ => None,
    };
    crate::domain::words::wording::capital(&short.unwrap_or(words).replacen(": ", ", ", 1))
}

pub(super) fn structure(form: &Form) -> Field {
    let named = BasicStructure::ALL.map(|structure| (structure.key().to_owned(), structure.word().to_owned()));
    form.field("structure", "Basic structure").choice(named)
}

fn dies(form: &Form, at_hand: &AtHand<'_>) -> impl Iterator<Item = Row> {
    let tubes = &at_hand.worked.tubes;
    let die = |(role, outside)| Row {
        field: form
            .field_named(radius_of(role), format!("Die, {}", role.word()))
            .hint("Centre-line radius of its bends: 4 1/2, or 135 mm."),
        hand: None,
        spare: false,
        clause: None,
        die: Some(DieChoice::of(form, role, at_hand.dies, outside)),
        pattern: at_hand.pattern.and_then(|pattern| Some(pattern.bend_radius.get(&role)?.text.clone())),
    };
    [(TubeRole::Hoop, tubes.hoop.outside), (TubeRole::Other, tubes.other.outside)].map(die).into_iter()
}

fn plates(form: &Form, on: BasicStructure) -> Vec<Field> {
    let part = |foot: Foot, (key, words): (&str, &str)| {
        form.field_named(format!("plate_{}_{key}", foot.key()), format!("Plate under the {}, {words}", foot.word(on)))
    };
    Foot::ALL.into_iter().flat_map(|foot| PLATE.map(|figure| part(foot, figure))).collect()
}

/// The pattern's figure of a plate, by its field.
fn plate_figure(pattern: Option<&CageRecord>, field: &str) -> Option<String> {
    let (foot, plate) =
        pattern?.plates.iter().find(|(foot, _)| field.starts_with(&format!("plate_{}_", foot.key())))?;
    let figure = match field.strip_prefix(&format!("plate_{}_", foot.key()))? {
        "side_a" => &plate.side_a,
        "side_b" => &plate.side_b,
        _ => &plate.thickness,
    };
    Some(figure.text.clone())
}

fn plates_taken(record: &CageRecord) -> (usize, usize) {
    (record.bend_radius.len() + record.plates.len(), TubeRole::BOTH.len() + Foot::ALL.len())
}
