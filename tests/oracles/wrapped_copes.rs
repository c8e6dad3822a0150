//! Templates wrapped on their tubes against the bars they are cut to, reckoned in the test by plain distances; copes on
//! sloped plates by the plane's equation; a square cut of the wall by all its rings.

use glam::DVec3;
use serde_json::json;
use tackbook::domain::cage::files::solved;
use tackbook::domain::cage::record::by_hand::{At, HandBar, Stand};
use tackbook::domain::cage::record::example::{TUBES, example_record};
use tackbook::domain::cage::solve;
use tackbook::domain::cage::{Cage, CageRecord, Diagonal, End, Member, RoofDiagonal, Toward};
use tackbook::domain::words::roles::MemberRole;
use tackbook::domain::work::fabrication::{BarSheet, Bench};
use tackbook::drawing::wrap::{Wall, Wrap};
use tackbook::quantity::{Length, Typed};

use crate::wrapped::{gaps, on_tube, placed, printed};

/// The example with every option that adds bars, and bars by hand into both corners of hoop and half hoop.
fn full() -> CageRecord {
    let mut full = example_record();
    full.options.roof_diagonal = RoofDiagonal::Cross;
    full.options.backstay_diagonal = Diagonal::Cross;
    full.options.seat_cross_bars = 4;
    let by = |end: Toward, by: f64| At::FromEnd { end, by: Typed::of(Length::from_inches(by), format!("{by} in")) };
    for (number, side) in (1..).zip(["left", "right"]) {
        let corner = Stand {
            corner_with: Some(format!("half-hoop/{side}")),
            ..Stand::new("main-hoop", At::Meets { bar: format!("half-hoop/{side}"), from: None })
        };
        let end = if number == 1 { Toward::Start } else { Toward::End };
        let ends = [corner, Stand::new("seat-cross-bar/3", by(end, 8.0))];
        let (name, role) = ("stay".to_owned(), MemberRole::OtherBar);
        full.hand_bars.push(HandBar { number, name, role, ends, cut_at_crossings: false });
    }
    full.numbers.clear();
    full.numbered_for(&TUBES)
}

fn checked(name: &str, cage: &Cage) {
    assert!(cage.faults.is_empty(), "{:?}", cage.faults);
    let gaps = gaps(cage);
    println!("{name}: {gaps:?}");
    assert!(gaps.ends > 40 && gaps.on_bends > 8 && gaps.on_several > 3, "{gaps:?}");
    // The curve is drawn in steps of two degrees; between them the pen goes straight.
    assert!(gaps.off.0 < 0.05, "{gaps:?}");
    assert!(gaps.deep.0 < 0.05, "{gaps:?}");
}

#[test]
fn wrapped_on_its_tube_every_template_lies_on_the_bars_it_is_cut_to() {
    checked("the example", &solve(&example_record(), &TUBES));
    checked("all options and bars by hand", &solve(&full(), &TUBES));
}

/// Of a cut square to the axis no part of the wall, from bore to outside, is within a bar, and all round some part lies on
/// one: by plain distances to the bars it is cut to.
#[test]
fn a_template_of_the_whole_wall_leaves_none_of_it_in_the_way() {
    let cage = solve(&example_record(), &TUBES);
    for member in &cage.members {
        let sheet = BarSheet::of(&cage, member, &Bench::default());
        for end in 0..2 {
            let (Some(cut), End::Onto { carrier, .. }) = (&sheet.ends[end], member.ends[end]) else { continue };
            let bars: Vec<&Member> = std::iter::once(carrier)
                .chain(cut.round.iter().copied())
                .map(|bar| cage.member(bar).unwrap())
                .collect();
            let off = |at: DVec3| {
                let offs = bars.iter().map(|bar| (bar.line.nearest(at).2 - bar.tube.outside / 2.0).mm());
                offs.fold(f64::INFINITY, f64::min)
            };
            let wrap =
                Wrap { cope: &cut.cope, outside: member.tube.outside, bore: member.tube.inside(), wall: Wall::Inner };
            let (place, outside) = (placed(&sheet, end), member.tube.outside.mm() / 2.0);
            let bore = member.tube.inside().mm() / 2.0;
            for at in printed(&wrap) {
                let on_wall = on_tube(at, outside, cut.cope.long_point().mm(), place);
                let axis = place.0 + place.1 * (on_wall - place.0).dot(place.1);
                let rings = (0..=8).map(|ring| {
                    let share = (bore + (outside - bore) * f64::from(ring) / 8.0) / outside;
                    axis + (on_wall - axis) * share
                });
                let (low, high) = rings
                    .clone()
                    .map(off)
                    .fold((f64::INFINITY, 0.0_f64), |(low, high), off| (low.min(off), high.max(off)));
                assert!(low > -0.01, "{} end {end}: {low} in", member.balloon);
                assert!(low < 0.05, "{} end {end}: {low} to {high} off", member.balloon);
            }
        }
    }
}

/// Feet on plates that lean every way: each place of the wrapped template lies in the plate's plane through the end's
/// point, the long point lies farthest out, and the seam is the cut ellipse's round (Ramanujan's second formula).
#[test]
fn a_foot_on_a_sloped_plate_is_cut_to_the_plate() {
    for normal in [[-1.0, 0.0, 1.0], [0.3, 0.5, 1.0], [-0.2, -0.7, 0.9], [0.0, 0.0, 1.0], [0.9, 0.2, 0.6]] {
        let file = json!({
            "tackbook_cage": 1, "unit": "mm",
            "members": [{
                "balloon": "M1", "role": "backstay", "tube": { "outside": 38.1, "wall": 2.413 }, "bend_radius": 114.3,
                "points": [[0, -400, 0], [-60, -380, 500], [-700, -300, 800]], "ends": [{ "plate": "P1" }, { "free": true }],
            }],
            "plates": [{ "balloon": "P1", "sides": [120, 120], "thickness": 3, "normal": normal }],
        });
        let cage = solved(&file.to_string()).unwrap();
        let (member, normal) = (&cage.members[0], DVec3::from_array(normal).normalize());
        let sheet = BarSheet::of(&cage, member, &Bench::default());
        let cut = sheet.ends[0].as_ref().unwrap();
        let place = placed(&sheet, 0);
        for wall in [Wall::Outer, Wall::Inner] {
            let wrap = Wrap { cope: &cut.cope, outside: member.tube.outside, bore: member.tube.inside(), wall };
            for at in printed(&wrap) {
                let on = on_tube(at, 19.05, cut.cope.long_point().mm(), place);
                let off = (on - place.0).dot(normal);
                match wall {
                    Wall::Outer => assert!(off.abs() < 1e-6, "{normal}: {off}"),
                    // A square cut rests on the bore where the wall leans in, on the outside where it leans out.
                    Wall::Inner => {
                        let axis = place.0 + place.1 * (on - place.0).dot(place.1);
                        let inside = (axis + (on - axis) * (33.274 / 38.1) - place.0).dot(normal);
                        assert!(off.min(inside).abs() < 1e-6, "{normal}: {off} {inside}");
                    }
                }
            }
        }
        let sine = member.line.into_bar(0).dot(normal).abs();
        let (long, short) = (19.05 / sine, 19.05);
        let h = ((long - short) / (long + short)).powi(2);
        let round = std::f64::consts::PI * (long + short) * (1.0 + 3.0 * h / (10.0 + (4.0 - 3.0 * h).sqrt()));
        assert!((cut.cope.seam().mm() - round).abs() < 1e-3 * round, "{normal}");
        let metal = cut.cope.mean_cut(member.tube.wall).mm();
        assert!(metal.abs() < 1e-6, "a plane through the node takes as much as it leaves");
    }
}
