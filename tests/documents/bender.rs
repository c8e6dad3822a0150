//! A bender that does what the bend sheet prints, read from the PDF by poppler, and nothing else: the tube that comes out is
//! laid over the model's centre line. Mirror images differ by what no length and no angle shows, so that each is compared
//! signed. The bender is written out from the words of the sheet, in the machine's own axes, without the program's geometry.

use glam::{DMat3, DQuat, DVec3};
use proptest::prelude::*;
use serde_json::json;
use tackbook::documents::fabrication::{Fabrication, make, sheets_of};
use tackbook::domain::cage::files::solved;
use tackbook::domain::cage::{Cage, Member};
use tackbook::domain::steel::dies::{Bender, Die, Plus, Swing, TestBend};
use tackbook::domain::work::cut_plan::CutPlan;
use tackbook::domain::work::fabrication::{BarSheet, Bench};
use tackbook::domain::work::seams::Rates;
use tackbook::drawing::Paper;
use tackbook::drawing::wrap::Wall;
use tackbook::quantity::{Angle, Length, Typed, Units};

use crate::{Folder, run};

/// One line of the sheet's table: millimetres and degrees.
#[derive(Debug, Clone, Copy)]
struct Row {
    mark: f64,
    turn: f64,
    line: f64,
    angle: f64,
    radius: f64,
    arc: f64,
}

/// What stands on a bend sheet.
#[derive(Debug)]
struct Printed {
    rows: Vec<Row>,
    /// What the marks stand before the bends.
    offset: f64,
    clockwise: bool,
    to_the_left: bool,
    words: String,
}

impl Printed {
    fn read(words: &str) -> Self {
        let one_line = words.split_whitespace().collect::<Vec<_>>().join(" ");
        let after = |begins: &str| one_line.split_once(begins).map(|(_, rest)| rest.to_owned());
        let offset = after("the marks stand ").map_or(0.0, |rest| figure(&rest));
        let rows = words.lines().filter_map(row).collect();
        let plus = after("plus is ").unwrap();
        let swung = after("swung to the ").unwrap();
        Self {
            rows,
            offset,
            clockwise: plus.starts_with("clockwise"),
            to_the_left: swung.starts_with("left"),
            words: one_line,
        }
    }
}

/// The figure that a text begins with.
fn figure(text: &str) -> f64 {
    let end = text.find(|letter: char| !(letter.is_ascii_digit() || "+-.".contains(letter))).unwrap_or(text.len());
    text[..end].parse().unwrap()
}

/// A line of the table: number, mark, turn, line, angle, set, radius, arc, two blanks or more between them.
fn row(line: &str) -> Option<Row> {
    let cells: Vec<&str> = line.split("  ").map(str::trim).filter(|cell| !cell.is_empty()).collect();
    let [number, mark, turn, scribed, angle, _set, radius, arc] = cells.as_slice() else { return None };
    number.parse::<u32>().ok()?;
    let turn = if *turn == "–" { 0.0 } else { figure(turn) };
    let all = [mark, scribed, angle, radius, arc].map(|cell| figure(cell));
    let [mark, line, angle, radius, arc] = all;
    Some(Row { mark, turn, line, angle, radius, arc })
}

/// The bender: the tube's rest lies along its x axis, the die is ahead at plus x, y is to the left of who stands at the rest,
/// z is up. A piece of tube stands at `x = -s`, `s` being its distance from end A, which is ahead.
struct Machine {
    /// Points of the tube's middle, each with its distance from end A.
    tube: Vec<(f64, DVec3)>,
}

impl Machine {
    fn with(length: f64) -> Self {
        let points = (0..=800).map(|at| length * f64::from(at) / 800.0);
        Self { tube: points.map(|s| (s, DVec3::new(-s, 0.0, 0.0))).collect() }
    }

    /// Turns the whole tube by degrees, clockwise for who looks from end A along the tube: looking toward minus x, what is
    /// up goes to the right hand, which is plus y.
    fn turn_clockwise(&mut self, degrees: f64) {
        let (sine, cosine) = degrees.to_radians().sin_cos();
        for (_, at) in &mut self.tube {
            *at = DVec3::new(at.x, at.y * cosine + at.z * sine, at.z * cosine - at.y * sine);
        }
    }

    /// Draws the tube from `begins` on round the die; what is ahead of it swings to the left by plus degrees.
    fn bend(&mut self, begins: f64, row: &Row, left: f64) {
        let full = row.angle.to_radians();
        // The die has one radius; how much tube is drawn round it follows from the angle.
        let ends = begins + row.radius * full;
        for (s, at) in &mut self.tube {
            let swung = ((ends - *s) / row.radius).clamp(0.0, full);
            if swung <= 0.0 {
                continue;
            }
            let turn = DQuat::from_rotation_z(left * swung);
            let tip = DVec3::new(-ends + row.radius * swung.sin(), left * row.radius * (1.0 - swung.cos()), 0.0);
            *at = if *s >= begins { tip } else { tip + turn * (*at - DVec3::new(-begins, 0.0, 0.0)) };
        }
    }

    /// The whole sheet, one bend after another.
    fn made(printed: &Printed, length: f64) -> Self {
        let mut machine = Self::with(length);
        for row in &printed.rows {
            machine.turn_clockwise(if printed.clockwise { row.turn } else { -row.turn });
            machine.bend(row.mark + printed.offset, row, if printed.to_the_left { 1.0 } else { -1.0 });
        }
        machine
    }

    /// Laid over the model by its first straight and its first bend's plane, both right-handed: the furthest that a point of
    /// the tube is from where the model has it.
    fn off(&self, member: &Member, first_cut: f64) -> f64 {
        let model = |s: f64| member.line.point_at(Length::from_mm(s + first_cut)).0;
        let bend = member.line.bends()[0];
        let (before, after) = (bend.start.mm() - first_cut, bend.start.mm() + bend.arc().mm() - first_cut);
        let here = |s: f64| {
            let next = self.tube.iter().position(|point| point.0 >= s).unwrap().max(1);
            let ((from, one), (to, other)) = (self.tube[next - 1], self.tube[next]);
            one.lerp(other, (s - from) / (to - from))
        };
        let axes = |at: &dyn Fn(f64) -> DVec3| {
            let along = (at(before * 0.9) - at(0.0)).normalize();
            let out = at(after + 20.0) - at(0.0);
            let up = along.cross(out).normalize();
            DMat3::from_cols(along, up, along.cross(up))
        };
        let (to, from) = (axes(&model), axes(&here));
        let laid = |at: DVec3| model(0.0) + to * (from.transpose() * (at - here(0.0)));
        self.tube.iter().map(|(s, at)| laid(*at).distance(model(*s))).fold(0.0, f64::max)
    }
}

fn typed(mm: f64) -> Typed<Length> {
    Typed::of(Length::from_mm(mm), format!("{mm} mm"))
}

fn die(member: &Member, bender: Bender, offset: f64) -> Die {
    let test = |set: f64, got: f64| {
        let angle = |degrees: f64| Typed::of(Angle::from_degrees(degrees), format!("{degrees}"));
        TestBend { set: angle(set), got: angle(got), wall: Some(typed(member.tube.wall.mm())) }
    };
    Die {
        id: uuid::Uuid::nil().into(),
        name: "long".to_owned(),
        outside: typed(member.tube.outside.mm()),
        radius: typed(member.line.radius().mm()),
        offset: typed(offset),
        bender,
        tests: vec![test(30.0, 28.4), test(90.0, 87.0)],
        in_use: true,
        version: 1,
    }
}

/// The bend sheet of a bar as poppler reads it.
fn printed(cage: &Cage, member: &Member, dies: &[Die]) -> Printed {
    let (rates, cuts) = (Rates::usual(), CutPlan::default());
    let of = Fabrication {
        cage,
        dies,
        rates: &rates,
        cuts: &cuts,
        name: "Pine Coupe",
        book: "",
        hold: "Held",
        made_by: "a test",
        day: jiff::civil::date(2026, 11, 29),
        units: Units::Metric,
        wall: Wall::Outer,
        paper: Paper::A4,
    };
    let pdf = make(&of, &sheets_of(&of, member)).unwrap();
    let folder = Folder::new(&format!("bends-{}", uuid::Uuid::now_v7()));
    let file = folder.put("bends.pdf", &pdf);
    Printed::read(&run("pdftotext", &["-layout", "-l", "1", file.to_str().unwrap(), "-"]))
}

/// A bar alone, both ends free, through these corners.
fn bar(points: &[DVec3]) -> Cage {
    let points: Vec<[f64; 3]> = points.iter().map(DVec3::to_array).collect();
    let file = json!({
        "tackbook_cage": 1, "unit": "mm",
        "members": [{
            "balloon": "M1", "role": "main hoop", "tube": { "outside": 38.1, "wall": 2.413 }, "bend_radius": 114.3,
            "points": points, "ends": [{ "free": true }, { "free": true }],
        }],
    });
    solved(&file.to_string()).unwrap()
}

const MIRRORED: DVec3 = DVec3::new(1.0, -1.0, 1.0);

/// A bar that leaves its first bend's plane twice: a pillar bar's shape, on the left of a car.
fn pillar() -> Vec<DVec3> {
    [[1150.0, 640.0, 10.0], [1060.0, 655.0, 660.0], [690.0, 480.0, 1050.0], [60.0, 455.0, 1110.0]]
        .map(DVec3::from)
        .to_vec()
}

fn benders() -> impl Iterator<Item = Bender> {
    Swing::ALL.into_iter().flat_map(|swing| Plus::ALL.map(|plus| Bender { swing, plus }))
}

/// Half of a printed tenth, in degrees, at each bend of a bar so long.
fn room(member: &Member) -> f64 {
    let bends = f64::from(u32::try_from(member.line.bends().len()).unwrap());
    0.3 + 2.0 * bends * 0.05_f64.to_radians() * member.developed.mm()
}

#[test]
fn done_as_printed_the_part_comes_out_and_not_its_mirror_image() {
    let mut reversed = pillar();
    reversed.reverse();
    let mirrored: Vec<DVec3> = pillar().iter().map(|at| *at * MIRRORED).collect();
    for (points, bender) in
        [pillar(), reversed, mirrored].iter().flat_map(|points| benders().map(move |bender| (points, bender)))
    {
        let cage = bar(points);
        let member = &cage.members[0];
        let printed = printed(&cage, member, &[die(member, bender, 12.7)]);
        assert_eq!(printed.rows.len(), member.line.bends().len(), "{}", printed.words);
        assert!((printed.offset - 12.7).abs() < 1e-9 && printed.clockwise == (bender.plus == Plus::Clockwise));
        let machine = Machine::made(&printed, member.developed.mm());
        let off = machine.off(member, 0.0);
        assert!(off < room(member), "{bender:?}: off by {off:.1} mm: {}", printed.words);
        // The same with every turn the other way is the mirror image: a hand's breadth off.
        let rows = printed.rows.iter().map(|row| Row { turn: -row.turn, ..*row }).collect();
        let other = Machine::made(&Printed { rows, ..printed }, member.developed.mm()).off(member, 0.0);
        assert!(other > 100.0, "{other}");
    }
}

/// Each bent bar of the example cage, left and right, with and without a die.
#[test]
fn every_bent_bar_of_a_cage_comes_out_as_modelled() {
    let cage = solved(include_str!("../../static/cage-file-measured.json")).unwrap();
    let mut bent = 0;
    for member in cage.members.iter().filter(|member| !member.line.straight()) {
        let first_cut = member.copes[0].as_ref().unwrap().long_point().mm();
        for dies in [vec![], vec![die(member, Bender { swing: Swing::Right, plus: Plus::Anticlockwise }, 25.4)]] {
            let printed = printed(&cage, member, &dies);
            let length = member.cut_length.mm();
            let off = Machine::made(&printed, length).off(member, first_cut);
            assert!(off < room(member), "{}: off by {off:.1} mm: {}", member.key, printed.words);
            // Mark, turn and angle each give the model's own, to the tenth that is printed.
            for (row, bend) in printed.rows.iter().zip(member.line.bends()) {
                assert!((row.mark + printed.offset - (bend.start.mm() - first_cut)).abs() < 0.1, "{row:?}");
                assert!((row.angle - bend.angle.degrees()).abs() < 0.1 && (row.arc - bend.arc().mm()).abs() < 0.1);
                let turned = (row.turn.abs() - bend.rotation.degrees().abs()).abs();
                assert!(turned < 0.1, "{row:?} {}", bend.rotation.degrees());
            }
            bent += 1;
        }
    }
    assert_eq!(bent, 6, "a hoop and two pillar bars, each without a die and with one");
}

/// With the sheet's own figures, unrounded, as a machine's table would take them.
fn exactly(cage: &Cage, member: &Member, bender: Bender) -> Printed {
    let dies = [die(member, bender, 9.0)];
    let sheet = BarSheet::of(cage, member, &Bench { dies: &dies, grip: Length::default() });
    let row = |bend: &tackbook::domain::work::fabrication::BendStep| Row {
        mark: bend.mark.mm(),
        turn: bend.turn.degrees(),
        line: bend.scribed.degrees(),
        angle: bend.angle.degrees(),
        radius: bend.radius.mm(),
        arc: bend.arc.mm(),
    };
    Printed {
        rows: sheet.bends.iter().map(row).collect(),
        offset: 9.0,
        clockwise: bender.plus == Plus::Clockwise,
        to_the_left: bender.swing == Swing::Left,
        words: String::new(),
    }
}

fn corners() -> impl Strategy<Value = Vec<DVec3>> {
    let leg = (450.0..900.0_f64, 10.0..100.0_f64, -180.0..180.0_f64);
    (300.0..900.0_f64, proptest::collection::vec(leg, 1..5)).prop_map(|(first, legs)| {
        let (mut here, mut way, mut side) = (DVec3::new(40.0, 300.0, 20.0), DVec3::Z, DVec3::Y);
        let mut points = vec![here];
        here += way * first;
        points.push(here);
        for (length, angle, rotation) in legs {
            side = DQuat::from_axis_angle(way, rotation.to_radians()) * side;
            let axis = way.cross(side).normalize();
            let turn = DQuat::from_axis_angle(axis, angle.to_radians());
            (way, side) = ((turn * way).normalize(), (turn * side).normalize());
            here += way * length;
            points.push(here);
        }
        points
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    /// Whatever the bar: its sheet's figures bend the model, from either end, on every bender.
    #[test]
    fn any_bar_from_either_end_on_any_bender(points in corners(), backwards: bool, way in 0..4_usize) {
        let mut points = points;
        if backwards {
            points.reverse();
        }
        let cage = bar(&points);
        let member = &cage.members[0];
        let printed = exactly(&cage, member, benders().nth(way).unwrap());
        let off = Machine::made(&printed, member.developed.mm()).off(member, 0.0);
        // Points of the tube stand so far apart that a chord over a bend is a little off: alignment alone.
        prop_assert!(off < 0.5, "off by {off} mm");
        let scribed = printed.rows.iter().fold(0.0, |sum, row| sum + row.turn);
        let line = printed.rows.last().unwrap().line;
        prop_assert!(((scribed - line) / 360.0 - ((scribed - line) / 360.0).round()).abs() < 1e-9);
    }

    /// A cage and its mirror image have sheets that differ in the way of the turns alone, and in which way the check says.
    #[test]
    fn a_mirrored_bar_has_mirrored_turns(points in corners()) {
        let mirrored: Vec<DVec3> = points.iter().map(|at| *at * MIRRORED).collect();
        let (cage, other) = (bar(&points), bar(&mirrored));
        let sheets = [&cage, &other].map(|cage| BarSheet::of(cage, &cage.members[0], &Bench::default()));
        let [one, two] = &sheets;
        for (bend, mirror) in one.bends.iter().zip(&two.bends) {
            prop_assert!((bend.mark - mirror.mark).abs().mm() < 1e-6 && (bend.angle - mirror.angle).degrees().abs() < 1e-6);
            let sum = (bend.turn + mirror.turn).degrees().abs();
            prop_assert!(sum < 1e-6 || (sum - 360.0).abs() < 1e-6, "{} {}", bend.turn.degrees(), mirror.turn.degrees());
        }
        let handed = |sheet: &BarSheet<'_>| {
            let check = sheet.checks.iter().find(|check| check.what.contains("mirror image"))?;
            Some((check.what.contains("to the left"), check.length))
        };
        match (handed(one), handed(two)) {
            (Some((left, height)), Some((other, its))) => {
                prop_assert!(left != other && (height - its).abs().mm() < 1e-6);
            }
            (None, None) => {}
            _ => prop_assert!(false, "one of the two is flat"),
        }
    }
}
