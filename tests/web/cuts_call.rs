//! `tackbook cuts` as another program calls it: pieces and sticks in, a plan out.

use std::io::Write as _;
use std::process::{Command, Output};

use serde_json::{Value, json};

use crate::folder::Folder;
use crate::paper;

fn call(folder: &Folder, arguments: &[&str]) -> Output {
    let mut call = Command::new(env!("CARGO_BIN_EXE_tackbook"));
    call.current_dir(&folder.0).arg("cuts").args(arguments).args(["--out", "out"]).output().unwrap()
}

fn put(folder: &Folder, name: &str, text: &str) {
    std::fs::File::create(folder.0.join(name)).unwrap().write_all(text.as_bytes()).unwrap();
}

fn plan(folder: &Folder) -> Value {
    serde_json::from_str(&std::fs::read_to_string(folder.0.join("out/plan.json")).unwrap()).unwrap()
}

/// By hand, kerf 0: 900 would go into the stick of 1000 and 500 into that of 1450; but both go into the second. Of the
/// other size nothing is there: 2 x 2999 and a kerf of 0 are one stick of 6 m, and 2 mm of it are left.
#[test]
fn pieces_and_sticks_make_the_plan_that_was_worked_by_hand() {
    let folder = Folder::new();
    put(&folder, "pieces.csv", "name,length,tube,count\nA,900 mm,45 x 2.5,1\nB,500,45 x 2.5,\nC,2999,40 x 2,2\n");
    put(&folder, "stock.csv", "stick,length,tube,count,price,heat\nS1,1 m,45 x 2.5,1,9,7\nS2,1450,45 x 2.5,1,12,8\n");
    let done = call(&folder, &["--pieces", "pieces.csv", "--stock", "stock.csv", "--kerf", "0", "--buy", "6 m"]);
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let plan = plan(&folder);
    let told = |stick: &Value| {
        json!([stick["stick"], stick["heat"], stick["pieces"].as_array().unwrap().len(), stick["offcut"]])
    };
    let sticks: Vec<Value> = plan["sticks"].as_array().unwrap().iter().map(told).collect();
    assert_eq!(sticks, [json!(["S2", "8", 2, 50.0]), json!(["new 1", null, 2, 2.0])]);
    assert_eq!(plan["whole"][0]["stick"], "S1");
    assert_eq!((&plan["to_buy"][0]["count"], &plan["used"], &plan["waste"]), (&1.into(), &7450.0.into(), &52.0.into()));
    assert_eq!((&plan["bound"], &plan["proven"]), (&7450.0.into(), &true.into()));
    let table = std::fs::read_to_string(folder.0.join("out/plan.csv")).unwrap();
    assert!(table.contains("S2,no,8,45 × 2.5 mm,1450.0,B,900.0,500.0"), "{table}");
    let pdf = std::fs::read(folder.0.join("out/plan.pdf")).unwrap();
    paper::check(&pdf);
    assert!(paper::words(&pdf).contains("Cut plan"));
}

#[test]
fn a_cage_file_is_cut_from_new_sticks_and_what_is_wrong_is_told() {
    let folder = Folder::new();
    put(&folder, "cage.json", include_str!("../../static/cage-file-drawn.json"));
    call(&folder, &["cage.json", "--cope", "1/4 in"]);
    let plan = plan(&folder);
    assert!(plan["to_buy"][0]["count"].as_u64().unwrap() >= 1);
    assert_eq!(plan["saw"]["cope"], 6.35);
    for (arguments, words) in [
        (vec!["cage.json", "--kerf", "wide"], "kerf: “wide” does not read as a length"),
        (vec!["cage.json", "--kerf", "1 in"], "kerf: A saw takes with each cut 0 to 10.2 mm (0 to 0.401 in)."),
        (vec!["--pieces", "cage.json"], "line 1: The column"),
        (vec!["none.json"], "none.json"),
        (vec![], "<CAGE>"),
    ] {
        let done = call(&folder, &arguments);
        let said = String::from_utf8_lossy(&done.stderr).into_owned();
        assert_eq!(done.status.code(), Some(2), "{said}");
        assert!(said.contains(words), "{words}: {said}");
    }
    put(&folder, "long.csv", "name,length,tube\nA,7 m,45 x 2.5\n");
    assert_eq!(call(&folder, &["--pieces", "long.csv"]).status.code(), Some(1));
}
