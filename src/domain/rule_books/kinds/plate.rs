//! A foot's plate: area, sides and thickness.

use crate::domain::figures::{Amount, Measure};
use crate::domain::roles::MemberRole;
use crate::domain::rule_books::Rule;
use crate::domain::rule_books::bound::{Bound, Unit, Value};
use crate::domain::rule_books::fields::Fields;

/// What a foot's plate must be.
#[derive(Debug, Clone, PartialEq)]
pub struct PlateRule {
    /// What every rule carries.
    pub rule: Rule,
    /// Under the feet of which bar; under every foot, when none.
    pub under: Option<MemberRole>,
    /// Each asked figure, with the least and the most allowed.
    pub checks: Vec<(Measure, Option<Bound>, Option<Bound>)>,
}

impl PlateRule {
    pub(in crate::domain::rule_books) fn read(fields: &Fields<'_>) -> Option<Self> {
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
        let mut checks = vec![
            (Measure::PlateArea, in_unit("area_least", area), in_unit("area_most", area)),
            (Measure::PlateArea, per_diameter, None),
            (Measure::PlateShortSide, in_unit("side_least", side), None),
            (Measure::PlateShortSide, diameters("side_least_diameters"), None),
            (Measure::PlateLongSide, None, in_unit("side_most", side)),
            (Measure::PlateThickness, in_unit("thick_least", side), in_unit("thick_most", side)),
        ];
        checks.retain(|check| check.1.is_some() || check.2.is_some());
        if checks.is_empty() {
            fields.slip(
                "",
                "This plate rule asks for nothing.",
                "Give area_least, side_least, thick_least or another figure.",
            );
        }
        fields.finish();
        unit?;
        Some(Self { rule: rule?, under: under?, checks })
    }
}

fn edge(number: f64, unit: Unit) -> Bound {
    Bound { value: Value::Amount(unit.amount(number)), included: true, printed: format!("{number} {}", unit.word()) }
}
