//! What the sheet of two tubes shows: both sections to scale, their figures, and the one against the other.

use askama::Template;

use super::FIELDS;
use crate::domain::steel::tube::TubeSize;
use crate::domain::steel::two_tubes::{Rated, STEELS, against, describe_ratio};
use crate::drawing::two_tubes::sections;
use crate::quantity::{Length, Show as _, Units};
use crate::web::form::{Field, Form};
use crate::web::gate::SignedIn;
use crate::web::page::Sheet;
use crate::web::svg::Svg;

/// Both tubes, what each section gives, and how they compare.
#[derive(Template)]
#[template(path = "two_tubes/two_tubes.html")]
pub(super) struct TwoTubes {
    sheet: Sheet,
    fields: [Vec<Field>; 2],
    result: Option<Compared>,
}

/// What follows from two tubes that read.
struct Compared {
    picture: Svg,
    names: [String; 2],
    steels: [String; 2],
    rows: Vec<(&'static str, [String; 2])>,
    ratios: Vec<(&'static str, String, &'static str)>,
}

impl TwoTubes {
    /// From what was asked.
    pub(super) fn of(who: &SignedIn, form: &Form, both: Option<[(Rated, String); 2]>) -> Self {
        Self {
            sheet: Sheet::of_shop(who, "Two tubes"),
            fields: FIELDS.map(|[size, steel, certificate]| {
                let choices = std::iter::once((String::new(), "choose".to_owned()));
                let listed = STEELS.iter().map(|steel| (steel.key.to_owned(), steel.words.to_owned()));
                vec![
                    form.field(size, "Size").hint("1 1/2 x .095, or 45 x 2.5 mm."),
                    form.field(steel, "Steel").choice(choices.chain(listed)),
                    form.field(certificate, "Yield by its certificate")
                        .hint("60 ksi or 415 MPa; it counts before the list. Empty when unknown."),
                ]
            }),
            result: both.map(|both| Compared::of(&both, who.units)),
        }
    }
}

impl Compared {
    fn of([(one, one_from), (other, other_from)]: &[(Rated, String); 2], units: Units) -> Self {
        let frame = (Length::from_mm(150.0), Length::from_mm(86.0));
        let row = |words, of: &dyn Fn(&Rated) -> String| (words, [of(one), of(other)]);
        let rows = vec![
            row("Inside diameter", &|rated| rated.tube.inside().show(units)),
            row("Area of the steel", &|rated| rated.tube.area().show(units)),
            row("Mass", &|rated| per_length(&rated.tube, units)),
            row("Second moment of area", &|rated| power(rated.tube.second_moment(), 4, units)),
            row("Section modulus", &|rated| power(rated.tube.section_modulus(), 3, units)),
            row("Radius of gyration", &|rated| rated.tube.gyration().show(units)),
            row("Yield strength", &|rated| yields_at(rated, units)),
        ];
        let ratio = against(one, other);
        let describe = |words, value: f64, [less, more]: [&'static str; 2]| {
            let word = match value {
                value if (value - 1.0).abs() < 1e-9 => "as much",
                value if value < 1.0 => less,
                _ => more,
            };
            (words, describe_ratio(value), word)
        };
        Self {
            picture: Svg::of(&sections([&one.tube, &other.tube], frame, Length::from_mm(5.0)), frame, |_| None),
            names: [one.tube.to_string(), other.tube.to_string()],
            steels: [one_from.clone(), other_from.clone()],
            rows,
            ratios: vec![
                describe("Bending strength, yield × section modulus", ratio.strength, ["weaker", "stronger"]),
                describe("Stiffness, E × second moment", ratio.stiffness, ["softer", "stiffer"]),
                describe("Mass of the same length", ratio.mass, ["lighter", "heavier"]),
            ],
        }
    }
}

/// Mass per metre or foot.
fn per_length(tube: &TubeSize, units: Units) -> String {
    match units {
        Units::Inch => format!("{:.3} lb/ft", tube.mass(Length::from_inches(12.0)).lb()),
        Units::Metric => format!("{:.3} kg/m", tube.mass(Length::from_mm(1_000.0)).kg()),
    }
}

/// A yield strength, with the digits of a column.
fn yields_at(rated: &Rated, units: Units) -> String {
    match units {
        Units::Inch => format!("{:.1} ksi", rated.strength.ksi()),
        Units::Metric => format!("{:.0} MPa", rated.strength.mpa()),
    }
}

/// A power of millimetres in the reader's unit.
fn power(value: f64, exponent: i32, units: Units) -> String {
    let (unit, one) = match units {
        Units::Inch => ("in", 25.4_f64),
        Units::Metric => ("cm", 10.0),
    };
    let sign = if exponent == 4 { "⁴" } else { "³" };
    let value = value / one.powi(exponent);
    let digits = if value < 1.0 { 4 } else { 2 };
    format!("{value:.digits$} {unit}{sign}")
}
