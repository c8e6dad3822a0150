//! A cage from its record to every bar, joint, cope, seam and number, and to its sheets as one PDF.

use divan::Bencher;
use tackbook::documents::fabrication::{Fabrication, make, sheets};
use tackbook::domain::cage::record::by_hand::{At, HandBar, Stand};
use tackbook::domain::cage::record::example::{TUBES, example_record};
use tackbook::domain::cage::solve;
use tackbook::domain::cage::{CageRecord, Diagonal, RoofDiagonal, Toward};
use tackbook::domain::shop::saw::Saw;
use tackbook::domain::words::roles::MemberRole;
use tackbook::domain::work::cut_plan::{Effort, of_cage};
use tackbook::domain::work::fabrication::Bench;
use tackbook::domain::work::fabrication::numbers::numbers;
use tackbook::domain::work::seams::Rates;
use tackbook::drawing::Paper;
use tackbook::drawing::wrap::Wall;
use tackbook::quantity::{Length, Typed, Units};

/// Bars added by hand on both sides: from the backstay to the hoop's leg, from a seat's bar to the dash bar, and from a
/// seat's bar into the corner of hoop and half hoop, where it is coped over both.
fn add_bars(record: &mut CageRecord) {
    let along = |end: Toward, by: f64| At::FromEnd { end, by: Typed::of(Length::from_inches(by), format!("{by} in")) };
    for (end, side) in [(Toward::Start, "left"), (Toward::End, "right")] {
        let backstay = Stand::new(format!("backstay/{side}"), along(Toward::Start, 26.0));
        let corner = Stand {
            corner_with: Some(format!("half-hoop/{side}")),
            ..Stand::new("main-hoop", At::Meets { bar: format!("half-hoop/{side}"), from: None })
        };
        for ends in [
            [backstay, Stand::new("main-hoop", along(end, 16.0))],
            [Stand::new("seat-cross-bar/4", along(end, 14.0)), Stand::new("dash-bar", along(end, 14.0))],
            [corner, Stand::new("seat-cross-bar/3", along(end, 8.0))],
        ] {
            let number = u32::try_from(record.hand_bars.len()).unwrap() + 1;
            let (name, role) = ("stay".to_owned(), MemberRole::OtherBar);
            record.hand_bars.push(HandBar { number, name, role, ends, cut_at_crossings: false });
        }
    }
}

/// The example with 29 bars, and with every option that adds bars and six more by hand: 42.
fn records() -> [CageRecord; 2] {
    let mut full = example_record();
    full.options.roof_diagonal = RoofDiagonal::Cross;
    full.options.backstay_diagonal = Diagonal::Cross;
    full.options.seat_cross_bars = 4;
    add_bars(&mut full);
    full.numbers.clear();
    [example_record(), full.numbered_for(&TUBES)]
}

fn record(which: usize) -> CageRecord {
    let record = records().into_iter().nth(which).unwrap();
    let cage = solve(&record, &TUBES);
    assert!(cage.faults.is_empty(), "{:?}", cage.faults);
    eprintln!("  {} bars, {} joints", cage.members.len(), cage.joints.len());
    record
}

/// From the tape's measurements to bars, joints, copes, seams and masses.
#[divan::bench(args = [0, 1])]
fn cage_from_measurements(bencher: Bencher, which: usize) {
    let record = record(which);
    bencher.bench_local(|| solve(&record, &TUBES));
}

/// The same with all numbers of the sheets as JSON.
#[divan::bench(args = [0, 1])]
fn cage_to_all_numbers(bencher: Bencher, which: usize) {
    let record = record(which);
    bencher.bench_local(|| numbers(&solve(&record, &TUBES), &Bench::default(), &Rates::usual()));
}

/// All fabrication sheets as one PDF.
#[divan::bench(args = [0, 1], sample_count = 5, sample_size = 1)]
fn sheets_as_pdf(bencher: Bencher, which: usize) {
    let cage = solve(&record(which), &TUBES);
    let (rates, cuts) = (Rates::usual(), of_cage(&cage, &[], &Saw::default(), &mut Effort::steps(Effort::USUAL)));
    let of = Fabrication {
        cage: &cage,
        dies: &[],
        rates: &rates,
        cuts: &cuts,
        name: "Pine Coupe",
        book: "",
        hold: "HELD",
        made_by: "bench",
        day: jiff::civil::date(2026, 5, 4),
        units: Units::Inch,
        wall: Wall::Outer,
        paper: Paper::A4,
    };
    bencher.bench_local(|| make(&of, &sheets(&of)).unwrap());
}
