//! A foot's plate: area, sides, thickness and bolts.

use crate::domain::book::Rule;
use crate::domain::book::terms::bound::{Bound, Check, Unit, Value};
use crate::domain::book::terms::fields::Fields;
use crate::domain::measure::amounts::Amount;
use crate::domain::measure::bolts;
use crate::domain::measure::bolts::BoltGrade;
use crate::domain::measure::measures::Measure;
use crate::domain::words::roles::MemberRole;
use crate::quantity::{Angle, Units};

/// What a foot's plate must be.
#[derive(Debug, Clone, PartialEq)]
pub struct PlateRule {
    /// What every rule carries.
    pub rule: Rule,
    /// Under the feet of which bar; under every foot, when none.
    pub under: Option<MemberRole>,
    /// Each asked figure.
    pub checks: Vec<Check>,
    /// The same of the bolts, where it is bolted.
    pub bolts: Vec<Check>,
    /// How much of another foot's bolt section its own bolts must have.
    pub section: Option<SectionShare>,
}

/// A plate's bolt section as a share of another foot's.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionShare {
    /// So much of it.
    pub share: f64,
    /// As the book prints it: `2/3`.
    pub printed: String,
    /// Of the feet of which bar.
    pub of: MemberRole,
    /// Whether a bolt that is sheared in two planes counts twice.
    pub double_shear_counts_twice: bool,
}

impl PlateRule {
    pub(in crate::domain::book) fn read(fields: &Fields<'_>) -> Option<Self> {
        let rule = Rule::read(fields);
        let mut feet: Vec<(&'static str, Option<MemberRole>)> = vec![("every foot", None)];
        feet.extend(MemberRole::ALL.map(|role| (role.word(), Some(role))));
        let under = fields.word("under", &feet);
        let unit = fields.word("unit", &[("mm", Unit::Millimetre), ("cm", Unit::Centimetre), ("in", Unit::Inch)]);
        let side = unit.unwrap_or(Unit::Millimetre);
        let area = match side {
            Unit::Inch => Unit::SquareInch,
            Unit::Centimetre => Unit::SquareCentimetre,
            _ => Unit::SquareMillimetre,
        };
        let in_unit = |name, unit: Unit| fields.number_maybe(name).map(|number| edge(number, unit));
        let diameters = |name| {
            fields.number_maybe(name).map(|number| Bound {
                value: Value::Diameters(number),
                included: true,
                printed: format!("{number} diameters"),
            })
        };
        let per_diameter =
            fields.number_maybe("area_least_per_diameter").and_then(|number| match side.amount(number) {
                Amount::Length(length) => Some(Bound {
                    value: Value::PerDiameter(length),
                    included: true,
                    printed: format!("{number} {} times the tube's diameter", side.word()),
                }),
                _ => None,
            });
        let check = |measure, least, most| Check { measure, least, most };
        let mut checks = vec![
            check(Measure::PlateArea, in_unit("area_least", area), in_unit("area_most", area)),
            check(Measure::PlateArea, per_diameter, None),
            check(Measure::PlateShortSide, in_unit("side_least", side), None),
            check(Measure::PlateShortSide, diameters("side_least_diameters"), None),
            check(Measure::PlateLongSide, None, in_unit("side_most", side)),
            check(Measure::PlateThickness, in_unit("thick_least", side), in_unit("thick_most", side)),
        ];
        checks.retain(|check| check.least.is_some() || check.most.is_some());
        let (bolts, section) = (read_bolts(fields), read_section(fields));
        if checks.is_empty() && bolts.is_empty() && section.is_none() {
            fields.slip(
                "",
                "This plate rule asks for nothing.",
                "Give area_least, side_least, thick_least, bolts or another figure.",
            );
        }
        fields.finish();
        unit?;
        Some(Self { rule: rule?, under: under?, checks, bolts, section })
    }
}

/// How many bolts a book may ask for at one plate.
const MOST_BOLTS: u32 = 100;

fn read_bolts(fields: &Fields<'_>) -> Vec<Check> {
    let least = |amount, printed| Some(Bound { value: Value::Amount(amount), included: true, printed });
    let read = |name, wanted: &str, of: &dyn Fn(&str) -> Option<Amount>| {
        let text = fields.text_maybe(name)?;
        let amount = of(&text);
        if amount.is_none() {
            fields.slip(name, format!("“{text}” does not read here."), wanted);
        }
        least(amount?, text)
    };
    let count = fields.whole_maybe("bolts", MOST_BOLTS).and_then(|many| least(Amount::Count(many), many.to_string()));
    let size = read("bolt_size", "Write \"M8\" or \"3/8 in\".", &|text| {
        bolts::size(text, Units::Metric).filter(|size| size.mm() > 0.0).map(Amount::Length)
    });
    let wanted = "Write a class of ISO 898-1 as \"8.8\", or a grade of SAE J429 as \"grade 5\".";
    let grade = read("bolt_grade", wanted, &|text| BoltGrade::read(text).map(Amount::Grade));
    let spread = fields
        .number_maybe("bolt_spread_deg")
        .and_then(|degrees| least(Amount::Angle(Angle::from_degrees(degrees)), format!("{degrees} degrees")));
    let all = [
        (Measure::BoltCount, count),
        (Measure::BoltSize, size),
        (Measure::BoltGrade, grade),
        (Measure::BoltSpread, spread),
    ];
    let least = |(measure, bound)| Some(Check { measure, least: Some(bound?), most: None });
    all.into_iter().filter_map(least).collect()
}

fn read_section(fields: &Fields<'_>) -> Option<SectionShare> {
    let double_shear_counts_twice = fields.flag("double_shear_counts_twice", false);
    if !fields.has("bolt_section_share") {
        let only = ["bolt_section_of", "double_shear_counts_twice"];
        fields.without("bolt_section_share", "share of a section", &only);
        return None;
    }
    let of = fields.role("bolt_section_of");
    let printed = fields.text_maybe("bolt_section_share")?;
    let share = match printed.split_once('/') {
        Some((above, below)) => {
            let whole = |part: &str| part.trim().parse::<u16>().ok().filter(|part| *part > 0).map(f64::from);
            whole(above).zip(whole(below)).map(|(above, below)| above / below)
        }
        None => printed.parse::<f64>().ok(),
    };
    let share = share.filter(|share| (0.01..=100.0).contains(share));
    if share.is_none() {
        fields.slip("bolt_section_share", format!("“{printed}” is no share."), "Write a share in quotes: \"2/3\".");
    }
    Some(SectionShare { share: share?, printed, of: of?, double_shear_counts_twice })
}

fn edge(number: f64, unit: Unit) -> Bound {
    Bound { value: Value::Amount(unit.amount(number)), included: true, printed: format!("{number} {}", unit.word()) }
}
