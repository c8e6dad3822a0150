//! `tackbook sheets` as another program calls it: a cage file in, numbers and sheets out.

use std::io::Write as _;
use std::process::{Command, Output};

use serde_json::{Value, json};

use crate::folder::Folder;
use crate::paper;

pub(crate) fn call(folder: &Folder, cage: &str) -> Output {
    let file = folder.0.join("two-bars.json");
    std::fs::File::create(&file).unwrap().write_all(cage.as_bytes()).unwrap();
    let out = folder.0.join("out");
    let mut call = Command::new(env!("CARGO_BIN_EXE_tackbook"));
    call.arg("sheets").arg(file).arg("--out").arg(out).output().unwrap()
}

/// A level bar between two plates' bends, and one standing on it at right angles, both 38.1 mm outside.
pub(crate) fn two_bars() -> Value {
    let tube = json!({ "outside": 38.1, "wall": 2.413 });
    json!({
        "tackbook_cage": 1,
        "unit": "mm",
        "members": [
            {
                "balloon": "M1", "role": "main hoop", "tube": tube, "bend_radius": 114.3,
                "points": [[0, 500, 0], [0, 500, 900], [0, -500, 900], [0, -500, 0]],
                "ends": [{ "plate": "P1" }, { "plate": "P2" }]
            },
            {
                "balloon": "M2", "role": "backstay", "tube": tube,
                "points": [[0, 0, 900], [-800, 0, 900]],
                "ends": [{ "onto": "M1", "offset": 0 }, { "free": true }]
            }
        ]
    })
}

#[test]
fn numbers_agree_with_the_closed_forms() {
    let folder = Folder::new();
    let done = call(&folder, &two_bars().to_string());
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let numbers = std::fs::read_to_string(folder.0.join("out/numbers.json")).unwrap();
    let numbers: Value = serde_json::from_str(&numbers).unwrap();
    let near = |value: &Value, want: f64| {
        let got = value.as_f64().unwrap();
        assert!((got - want).abs() < 1e-4, "{got} is not {want}");
    };
    let (hoop, stay) = (&numbers["members"][0], &numbers["members"][1]);
    // Equal tubes at right angles: the seam is 7.64039557806 times the radius (complete elliptic integrals of the second
    // kind; checked with mpmath), the ears reach the centre line, the throat lies a radius off it.
    near(&stay["ends"][0]["seam"], 7.640_395_578_06 * 19.05);
    near(&stay["ends"][0]["angle"], 90.0);
    near(&stay["ends"][0]["long_point"], 0.0);
    near(&stay["ends"][0]["short_point"], 19.05);
    near(&stay["cut_length"], 800.0);
    // Two bends of 90 degrees: 2 x 900 + 1000 less four tangents of 114.3 tan 45, plus two arcs of 114.3 pi / 2.
    let developed = 2800.0 - 4.0 * 114.3 + std::f64::consts::PI * 114.3;
    near(&hoop["centre_line"], developed);
    near(&hoop["cut_length"], developed);
    near(&hoop["bends"][0]["start"], 900.0 - 114.3);
    near(&hoop["bends"][1]["start"], 900.0 - 114.3 + std::f64::consts::FRAC_PI_2 * 114.3 + 1000.0 - 2.0 * 114.3);
    near(&hoop["bends"][1]["rotation"], 0.0);
    near(&hoop["bends"][1]["angle"], 90.0);
    assert_eq!(numbers["joints"][0]["carrier"], "M1");
    assert_eq!(numbers["joints"][0]["members"], json!(["M2"]));
    // EN 10219-2 Annex B: 0.0246615 (D - t) t kg/m.
    near(&hoop["mass"], 0.024_661_5 * (38.1 - 2.413) * 2.413 * developed / 1000.0 * 1.000_000_2);
    let pdf = std::fs::read(folder.0.join("out/sheets.pdf")).unwrap();
    paper::check(&pdf);
    assert!(paper::words(&pdf).contains("M2 backstay: copes at full size"));
    for (view, words) in
        [("front", "Front, 1:"), ("side", "Left side, 1:"), ("plan", "From above, 1:"), ("isometric", "not to scale")]
    {
        let svg = std::fs::read_to_string(folder.0.join(format!("out/{view}.svg"))).unwrap();
        assert!(svg.starts_with("<svg ") && svg.contains(words), "{view}: {svg}");
        assert!(svg.contains("data-balloon=\"M1\"") && svg.contains("data-balloon=\"M2\""), "{view}");
    }
}

/// Each gusset and plate of a cage file comes out at full size: in the sheets, as a drawing for the machine, as a picture.
#[test]
fn gussets_and_plates_come_out_as_blanks() {
    let mut cage = two_bars();
    let arms = |one: &str| json!([{ "member": "M2", "toward": "end" }, { "member": "M1", "toward": one }]);
    cage["gussets"] = json!([
        { "balloon": "G1", "between": arms("end"), "kind": "saddle", "leg": 110, "thickness": 1.5, "hole": 30 },
        { "balloon": "G2", "between": arms("start"), "kind": "tube", "leg": 120, "thickness": 2.0, "outside": 25.4 },
    ]);
    cage["plates"] = json!([{ "balloon": "P1", "sides": [100, 120], "thickness": 3 }]);
    let folder = Folder::new();
    let done = call(&folder, &cage.to_string());
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let read = |name: &str| std::fs::read_to_string(folder.0.join("out").join(name)).unwrap();
    for part in ["G1", "G2", "P1"] {
        assert!(read(&format!("{part}.dxf")).ends_with("0\r\nEOF\r\n"), "{part}");
        assert!(read(&format!("{part}.svg")).contains(part), "{part}");
    }
    // A plate of 100 x 120 mm with 2 mm free round it, drawn at its own size.
    assert!(read("P1.svg").contains(r#"width="124mm" height="104mm""#));
    let pdf = std::fs::read(folder.0.join("out/sheets.pdf")).unwrap();
    paper::check(&pdf);
    let words = paper::words(&pdf);
    for word in [
        "Plates and gussets",
        "bent-sheet saddle gusset between M2 and M1",
        "part 1 of 4",
        "1|2",
        "tube gusset",
        "K 0.325",
    ] {
        assert!(words.contains(word), "{word}: {words}");
    }
}

#[test]
fn a_file_that_will_not_do_is_told_of_by_line_and_by_balloon() {
    let folder = Folder::new();
    let told = |cage: &str| {
        let done = call(&folder, cage);
        (done.status.code(), String::from_utf8_lossy(&done.stderr).into_owned())
    };
    let (code, words) = told("{\n  \"tackbook_cage\": 1,\n  \"colour\": 3\n}");
    assert_eq!(code, Some(2));
    assert!(words.contains("line 3") && words.contains("colour"), "{words}");
    let mut off = two_bars();
    off["members"][1]["points"][0] = json!([0, 0, 950]);
    let (code, words) = told(&off.to_string());
    // It is built as far as it goes, and says what cannot be cut.
    assert_eq!(code, Some(1));
    assert!(words.contains("M2: Its end lies 50.0 mm from the axis of M1"), "{words}");
    let mut tight = two_bars();
    tight["members"][0]["bend_radius"] = json!(600);
    let (code, words) = told(&tight.to_string());
    assert_eq!(code, Some(2));
    assert!(words.contains("M1:"), "{words}");
}

#[test]
fn a_measured_cage_gives_numbers_and_sheets_too() {
    let folder = Folder::new();
    let done = call(&folder, include_str!("../../static/cage-file-measured.json"));
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let numbers: Value = serde_json::from_slice(&std::fs::read(folder.0.join("out/numbers.json")).unwrap()).unwrap();
    assert_eq!(numbers["members"].as_array().unwrap().len(), 29);
    // By hand from the tape: left foot, shoulder and upper corner of the hoop lean 1 1/2 in on 43 5/8; the bend at the
    // shoulder begins its tangent, 4 1/2 tan(half the deflection), before the corner point.
    let lean = 1.5 / 43.625;
    let (leg, side) = ([-lean * 19.25, 1.125, 19.25], [-lean * 24.125, -5.75, 24.125_f64]);
    let dot = |one: [f64; 3], other: [f64; 3]| one.iter().zip(other).map(|(one, other)| one * other).sum::<f64>();
    let (long, wide) = (dot(leg, leg).sqrt(), dot(side, side).sqrt());
    let deflection = (dot(leg, side) / long / wide).acos();
    let start = numbers["members"][0]["bends"][0]["start"].as_f64().unwrap();
    assert!((start - 25.4 * (long - 4.5 * (deflection / 2.0).tan())).abs() < 1e-3, "{start}");
}
