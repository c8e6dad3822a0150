//! A steel: what its certificate may say of carbon, manganese, other elements and strength.

use crate::domain::book::Rule;
use crate::domain::book::terms::bound::{Bound, Check, Value};
use crate::domain::book::terms::fields::Fields;
use crate::domain::measure::amounts::{Amount, Dimension};
use crate::domain::measure::measures::Measure;

/// Which strength a book means by its figure: at which the tube tears, or at which it stays bent.
const STRENGTHS: [(&str, Measure); 2] = [("tensile", Measure::Tensile), ("yield", Measure::Yield)];

/// What a stick's steel must be, by its own certificate.
#[derive(Debug, Clone, PartialEq)]
pub struct SteelRule {
    /// What every rule carries.
    pub rule: Rule,
    /// Each asked figure.
    pub checks: Vec<Check>,
}

impl SteelRule {
    pub(in crate::domain::book) fn read(fields: &Fields<'_>) -> Option<Self> {
        let rule = Rule::read(fields);
        let most = |name| {
            let number = fields.number_maybe(name)?;
            if number > 100.0 {
                fields.slip(name, "A share of the steel is at most 100 per cent.", "Write per cent of the mass: 0.30.");
            }
            Some(Bound {
                value: Value::Amount(Amount::Percent(number)),
                included: true,
                printed: format!("{number} %"),
            })
        };
        let shares = [
            (Measure::Carbon, most("carbon_upto")),
            (Measure::Manganese, most("manganese_upto")),
            (Measure::OtherElement, most("other_upto")),
        ];
        let most = |(measure, bound)| Some(Check { measure, least: None, most: Some(bound?) });
        let mut checks: Vec<Check> = shares.into_iter().filter_map(most).collect();
        let least = fields.number_maybe("strength");
        let (kind, unit) = if fields.has("strength") {
            (fields.word("strength_is", &STRENGTHS), Some(fields.unit_of(Dimension::Stress)))
        } else {
            fields.without("strength", "strength", &["strength_is", "unit"]);
            (None, None)
        };
        if checks.is_empty() && !fields.has("strength") {
            let wanted = "Give carbon_upto, manganese_upto, other_upto or strength.";
            fields.slip("", "This steel rule asks for nothing.", wanted);
        }
        fields.finish();
        let bound = least.zip(unit).and_then(|(number, unit)| {
            let value = Value::Amount(unit.amount(number)?);
            Some(Bound { value, included: true, printed: unit.printed(number) })
        });
        checks.extend(kind.zip(bound).map(|(measure, bound)| Check { measure, least: Some(bound), most: None }));
        Some(Self { rule: rule?, checks })
    }
}
