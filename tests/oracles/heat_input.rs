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

/// The log reckons by the same formula, and only where all three figures are there.
#[test]
fn a_line_of_the_weld_log_has_its_heat_input_or_says_what_is_missing() {
    use tackbook::domain::recorded::welds::run::Run;
    let run = |process: &str, volts: Option<f64>, travel: Option<f64>| -> Run {
        let figure = |value: Option<f64>, unit: &str, size: f64| {
            value.map(|value| serde_json::json!({"value": value * size, "text": format!("{value} {unit}")}))
        };
        serde_json::from_value(serde_json::json!({
            "welder": {"name": "A", "qualification": "", "expires": null}, "process": process, "positions": ["PA"], "filler": "",
            "batch": "", "gas": "", "volts": figure(volts, "V", 1.0), "amperes": figure(Some(120.0), "A", 1.0), "wire_speed": null,
            "travel": figure(travel, "mm/min", 1.0 / 60.0), "stick_out": null, "preheat": null, "photo": null,
        }))
        .unwrap()
    };
    // C38 above: 18 V, 120 A, 5 mm/s = 300 mm/min are 0.346 kJ/mm under gas (EN 1011-1 as quoted); by hand, tungsten at 0.6
    for (process, wanted) in [("135", 0.3456), ("136", 0.3456), ("111", 0.3456), ("141", 0.2592)] {
        let heat = run(process, Some(18.0), Some(300.0)).heat().unwrap();
        assert!((heat.kj_per_mm - wanted).abs() < 1e-9, "{process}: {}", heat.kj_per_mm);
    }
    assert_eq!(run("135", None, Some(300.0)).heat(), Err(vec!["volts"]));
    assert_eq!(run("135", None, None).heat(), Err(vec!["volts", "travel speed"]));
}
