//! Typed and shown quantities against exact rational arithmetic and the international yard and pound of 1959.

use tackbook::quantity::{Area, Fraction, FromTyped, Length, Mass, Show, Units};

use crate::oracle::{Oracle, oracles};

const DATA: &str = include_str!("data/quantity.json");

fn text<'a>(values: &'a serde_json::Value, key: &str) -> &'a str {
    values[key].as_str().unwrap()
}

fn parts(oracle: &Oracle) -> u32 {
    u32::try_from(oracle.inputs["denominator"].as_u64().unwrap()).unwrap()
}

/// The exact value of a decimal or of `above/below` in a data file, read without the reader under test.
fn exact(text: &str) -> Fraction {
    if let Some((above, below)) = text.split_once('/') {
        return Fraction::new(above.parse().unwrap(), below.parse().unwrap()).unwrap();
    }
    let (whole, decimals) = text.split_once('.').unwrap_or((text, ""));
    let below = 10_i128.pow(u32::try_from(decimals.len()).unwrap());
    Fraction::new(format!("{whole}{decimals}").parse().unwrap(), below).unwrap()
}

#[test]
fn typed_lengths_are_exact() {
    for oracle in oracles(DATA, "unit.parse.").iter().filter(|oracle| oracle.expected["error"].is_null()) {
        let typed = text(&oracle.inputs, "text");
        let mm = Length::exact_mm_from_typed(typed, Units::Inch).unwrap();
        let inches = exact(text(&oracle.expected, "inches_fraction"));
        assert_eq!(mm, inches.times(Fraction::new(127, 5).unwrap()).unwrap(), "{}: {typed}", oracle.id);
        let length = Length::from_typed_as(typed, Units::Inch).unwrap();
        oracle.near("mm", length.mm());
        oracle.near("inches", length.inches());
    }
}

#[test]
fn slips_are_refused_and_the_reason_is_said() {
    for oracle in oracles(DATA, "unit.parse.bad.") {
        let typed = text(&oracle.inputs, "text");
        for units in [Units::Inch, Units::Metric] {
            let refused = Length::from_typed_as(typed, units).unwrap_err();
            assert_eq!(refused.typed, typed, "{}", oracle.id);
            assert!(refused.because.is_some_and(|because| !because.is_empty()), "{}: {typed}", oracle.id);
        }
    }
}

#[test]
fn lengths_are_shown_to_the_nearest_part_of_an_inch() {
    for oracle in oracles(DATA, "unit.fraction.") {
        let inches = exact(text(&oracle.inputs, "inches"));
        let (parts, wanted) = (parts(&oracle), text(&oracle.expected, "half_away"));
        assert_eq!(inches.mixed(parts), wanted, "{}", oracle.id);
        let length = Length::from_inches(inches.to_f64());
        assert_eq!(length.show_fraction(parts), format!("{wanted} in"), "{}", oracle.id);
        oracle.near("error_in", (length.nearest_fraction(parts) - length).inches());
    }
}

#[test]
fn millimetres_are_shown_on_the_tape_with_what_is_left_over() {
    for oracle in oracles(DATA, "unit.mm_to_fraction.") {
        let (length, parts) = (Length::from_mm(exact(text(&oracle.inputs, "mm")).to_f64()), parts(&oracle));
        assert_eq!(length.show_fraction(parts), format!("{} in", text(&oracle.expected, "text")), "{}", oracle.id);
        let nearest = length.nearest_fraction(parts);
        oracle.near("back_mm", nearest.mm());
        oracle.near("error_mm", (nearest - length).mm());
        let exactly = oracle.expected["error_mm"].as_f64().unwrap() == 0.0;
        assert_eq!(nearest == length, exactly, "{}", oracle.id);
    }
}

#[test]
fn shown_figures_round_a_tie_away_from_zero() {
    for oracle in oracles(DATA, "unit.round.") {
        let typed = text(&oracle.inputs, "decimal");
        let places = u32::try_from(oracle.inputs["places"].as_u64().unwrap()).unwrap();
        let wanted = text(&oracle.expected, "half_up");
        assert_eq!(exact(typed).decimal(places), wanted, "{}", oracle.id);
        let binary: f64 = typed.parse().unwrap();
        assert_eq!(Fraction::nearest(binary).unwrap().decimal(places), wanted, "{}", oracle.id);
    }
}

#[test]
fn pounds_are_kilograms() {
    for oracle in oracles(DATA, "unit.lb_kg.") {
        let mass = Mass::from_typed_as(&format!("{} lb", text(&oracle.inputs, "lb")), Units::Metric).unwrap();
        assert_eq!(Mass::from_typed_as(text(&oracle.inputs, "lb"), Units::Inch).unwrap(), mass, "{}", oracle.id);
        assert_eq!(mass, Mass::from_kg(exact(text(&oracle.expected, "kg_exact")).to_f64()), "{}", oracle.id);
        let shown = text(&oracle.expected, "kg_1_decimal");
        let shown = shown.strip_suffix(".0").unwrap_or(shown);
        assert_eq!(mass.show(Units::Metric), format!("{shown} kg"), "{}", oracle.id);
    }
    for oracle in oracles(DATA, "unit.kg_lb.") {
        oracle.near("lb", Mass::from_typed(text(&oracle.inputs, "kg")).unwrap().lb());
    }
}

#[test]
fn the_units_themselves_are_right() {
    for oracle in oracles(DATA, "unit.factor.") {
        match oracle.id.as_str() {
            "unit.factor.in_mm" => oracle.near("mm", Length::from_typed("1 in").unwrap().mm()),
            "unit.factor.ft_m" => oracle.near("m", Length::from_typed("1 ft").unwrap().mm() / 1000.0),
            "unit.factor.in2_cm2" => oracle.near("cm2", Area::from_typed("1 sq in").unwrap().cm2()),
            other => panic!("{other} is checked nowhere"),
        }
    }
}
