//! Areas and masses of round tube against computed sections (EN 10219-2 Annex B), printed lists and one cage's sum.

use serde_json::Value;
use tackbook::domain::steel::tube::TubeSize;
use tackbook::domain::steel::two_tubes::{Rated, STEELS, Steel, against};
use tackbook::domain::work::seams::Rates;
use tackbook::quantity::{Area, Length, Mass, Stress, Typed};

use crate::oracle::{Oracle, oracles};

const DATA: &str = include_str!("data/tube.json");
const METRE: Length = Length::from_mm(1_000.0);
const FOOT: Length = Length::from_inches(12.0);

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| value.as_str().unwrap().parse().unwrap())
}

fn size(inputs: &Value, wall: &str) -> TubeSize {
    if inputs["od_in"].is_null() {
        TubeSize::metric(number(&inputs["od_mm"]), number(&inputs[wall]))
    } else {
        TubeSize::inch(number(&inputs["od_in"]), number(&inputs[wall]))
    }
}

/// Fails unless `got` is within `room` of a printed figure.
fn printed(oracle: &Oracle, key: &str, got: f64, room: f64) {
    let want = number(&oracle.expected[key]);
    assert!((got - want).abs() <= room, "{} {key}: got {got}, printed {want}", oracle.id);
}

/// Half a unit in the last place of a figure printed to three significant figures.
fn half_of_third_figure(value: f64) -> f64 {
    0.5 * 10.0_f64.powf(value.abs().log10().floor() - 2.0)
}

#[test]
fn inch_sections() {
    for oracle in oracles(DATA, "tube.in.") {
        let tube = size(&oracle.inputs, "wall_in");
        oracle.near("id_in", tube.inside().inches());
        oracle.near("area_in2", tube.area().square_inches());
        oracle.near("area_mm2", tube.area().mm2());
        oracle.near("mass_kg_m", tube.mass(METRE).kg());
        oracle.near("mass_lb_ft", tube.mass(FOOT).lb());
        oracle.near("second_moment_mm4", tube.second_moment());
        oracle.near("elastic_modulus_mm3", tube.section_modulus());
        oracle.near("radius_gyration_in", tube.gyration().inches());
    }
}

#[test]
fn metric_sections() {
    for oracle in oracles(DATA, "tube.mm.") {
        let tube = size(&oracle.inputs, "wall_mm");
        oracle.near("area_mm2", tube.area().mm2());
        oracle.near("mass_kg_m", tube.mass(METRE).kg());
    }
}

#[test]
fn rows_of_printed_tables() {
    for oracle in oracles(DATA, "tube.table.en.") {
        let tube = size(&oracle.inputs, "wall_mm");
        for (key, got) in [
            ("mass_kg_m", tube.mass(METRE).kg()),
            ("area_cm2", tube.area().cm2()),
            ("second_moment_cm4", tube.second_moment() / 1e4),
            ("elastic_modulus_cm3", tube.section_modulus() / 1e3),
        ] {
            printed(&oracle, key, got, half_of_third_figure(got) * 1.001);
        }
    }
    // Stock lists are printed with 0.2833 lb/in3, 0.1 % less than 7850 kg/m3.
    for oracle in oracles(DATA, "tube.table.lbft.") {
        let got = size(&oracle.inputs, "wall_in").mass(FOOT).lb();
        printed(&oracle, "stock_list_lb_ft", got, got * 1.7e-3);
        printed(&oracle, "rule_lb_ft", got, got * 1.1e-3);
    }
}

#[test]
fn a_wall_at_the_lower_end_of_its_tolerance() {
    for oracle in oracles(DATA, "tube.thinwall.") {
        let [thin, nominal] = ["wall_in", "wall_nominal_in"].map(|wall| size(&oracle.inputs, wall));
        oracle.near("area_share", thin.area() / nominal.area());
        oracle.near("I_share", thin.second_moment() / nominal.second_moment());
        oracle.near("Z_share", thin.section_modulus() / nominal.section_modulus());
    }
}

#[test]
fn a_whole_cage() {
    for oracle in oracles(DATA, "tube.cage_mass.") {
        let rows = oracle.inputs["tubes"].as_array().unwrap().iter().map(|row| {
            let (outside, wall) = row["size_in"].as_str().unwrap().split_once('x').unwrap();
            let tube = TubeSize::inch(outside.parse().unwrap(), wall.parse().unwrap());
            tube.mass(METRE * number(&row["length_m"]))
        });
        let rows: Vec<Mass> = rows.collect();
        for (row, want) in rows.iter().zip(oracle.expected["rows_kg"].as_array().unwrap()) {
            assert!((row.kg() - number(want)).abs() < 1e-9, "{}: {}", oracle.id, row.kg());
        }
        let plate = Area::from_cm2(number(&oracle.inputs["plate_cm2"])).mm2() * number(&oracle.inputs["plate_mm"]);
        let plates = Mass::from_kg(plate * 7.85e-6 * number(&oracle.inputs["plates"]));
        let tubes: Mass = rows.into_iter().sum();
        oracle.near("tube_kg", tubes.kg());
        oracle.near("total_lb", (tubes + plates).lb());
    }
}

#[test]
fn a_fillets_metal_is_its_throat_squared_over_the_length() {
    for case in oracles(DATA, "weld.metal.") {
        let leg = number(&case.expected["leg_mm"]);
        let usual = Rates::usual();
        let rates = Rates { leg: Typed::written(Length::from_mm(leg)), ..usual };
        let seam = Length::from_mm(number(&case.inputs["length_mm"]));
        let got = rates.estimate(seam, Length::default());
        case.near("mass_g", got.metal.kg() * 1000.0);
        case.near("area_mm2", got.metal.kg() / 7.85e-6 / seam.mm());
    }
}

#[test]
fn one_tube_against_another() {
    for oracle in oracles(DATA, "tube.substitute.") {
        let rated = |which: &str| {
            let tube = &oracle.inputs[which];
            let (outside, wall) = (number(&tube["od"]), number(&tube["wall"]));
            let tube_size = if tube["unit"] == "in" { TubeSize::inch } else { TubeSize::metric };
            Rated { tube: tube_size(outside, wall), strength: Stress::from_mpa(number(&tube["yield_mpa"])) }
        };
        let ratio = against(&rated("reference"), &rated("substitute"));
        oracle.near("strength_ratio", ratio.strength);
        oracle.near("stiffness_ratio", ratio.stiffness);
        oracle.near("mass_ratio", ratio.mass);
    }
}

/// Every steel offered has the least yield its standard prints.
#[test]
fn steels_by_their_standard() {
    let keys = [
        ("1020.mandrel_drawn", "1020-drawn"),
        ("1020.mandrel_drawn_sr", "1020-relieved"),
        ("1026.mandrel_drawn", "1026-drawn"),
        ("1026.mandrel_drawn_sr", "1026-relieved"),
        ("1015.mandrel_drawn", "1015-drawn"),
        ("1020.as_welded", "1020-welded"),
        ("1010.as_welded", "1010-welded"),
        ("4130.normalized_erw", "4130-normalized"),
        ("4130.mandrel_drawn", "4130-drawn"),
        ("4130.aircraft_N", "4130-aircraft"),
        ("4130.aircraft_N_thick", "4130-aircraft"),
    ];
    let printed = oracles(DATA, "tube.strength.");
    assert_eq!(printed.len(), keys.len());
    for (id, key) in keys {
        let oracle = printed.iter().find(|oracle| oracle.id == format!("tube.strength.{id}")).unwrap();
        let wall = Length::from_inches(if id.ends_with("thick") { 0.25 } else { 0.188 });
        let least = Steel::called(key).unwrap().least(wall);
        oracle.near("yield_ksi", least.ksi());
        oracle.near("yield_mpa", least.mpa());
    }
    assert!(STEELS.iter().all(|steel| keys.iter().any(|(_, key)| *key == steel.key)));
}
