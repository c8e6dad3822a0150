//! C38: heat input by EN 1011-1 as quoted (k·U·I / 1000 v; k = 0.8 for wire under gas, 0.6 for tungsten).

use tackbook::domain::steel::heat_input::{Arc, Process};
use tackbook::quantity::Length;

#[test]
fn c38_heat_input_is_not_the_arcs_energy() {
    let arc = Arc { process: Process::Wire, volts: 18.0, amperes: 120.0, in_a_second: Length::from_mm(5.0) };
    assert!((arc.heat_input() - 0.346).abs() < 0.000_5, "{}", arc.heat_input());
    assert!((arc.energy() - 0.432).abs() < 1e-9, "{}", arc.energy());
    let tungsten = Arc { process: Process::Tungsten, ..arc };
    assert!((tungsten.heat_input() - 0.432 * 0.6).abs() < 1e-9);
    // 60 U I / v in J/in, v in in/min (ASME IX QW-409.1): 18 V, 120 A, 10 in/min give 12 960 J/in
    let inch = Arc { in_a_second: Length::from_inches(10.0 / 60.0), ..arc };
    assert!((inch.energy() * 25.4 * 1000.0 - 12_960.0).abs() < 1e-6);
    let wild = Arc { volts: f64::NAN, amperes: 0.0, in_a_second: Length::default(), ..arc };
    assert_eq!(wild.faults().len(), 3);
}
