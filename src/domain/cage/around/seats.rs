//! What follows for who sits in the car: the bar nearest to the helmet, how the harness runs, where padding is needed.

use glam::DVec3;

use crate::domain::cage::parts::{Cage, Member};
use crate::domain::cage::record::seats::{HELMET, REACH, SeatRecord};
use crate::domain::words::ids::Balloon;
use crate::domain::words::roles::MemberRole;
use crate::geometry::CentreLine;
use crate::quantity::{Angle, Length};

/// A bar is looked at this often along its length for where a helmet reaches it; the edges are then found to a hundredth of
/// a millimetre.
const STEP: f64 = 5.0;
/// Halvings that bring a step under a hundredth of a millimetre.
const HALVINGS: usize = 10;

/// A seat on the worked out cage. Points in millimetres on the car's axes.
#[derive(Debug, Clone, PartialEq)]
pub struct SeatAt {
    /// Its number.
    pub number: u32,
    /// Who sits there.
    pub name: String,
    /// Where cushion and back meet.
    pub hips: DVec3,
    /// The top of the shoulder.
    pub shoulder: DVec3,
    /// The helmet's middle.
    pub helmet: DVec3,
    /// The ball taken for the helmet.
    pub radius: Length,
    /// So far the head is taken to move.
    pub reach: Length,
    /// From the ball to each bar's outside, nearest first; less than nothing where they overlap.
    pub bars: Vec<(Balloon, Length)>,
    /// Where the helmet reaches a bar.
    pub padding: Vec<Padding>,
    /// How the harness runs; none without a harness bar behind the shoulder.
    pub harness: Option<Harness>,
}

/// A stretch of a bar that a helmet reaches.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Padding {
    /// The bar.
    pub bar: Balloon,
    /// From so far along it.
    pub from: Length,
    /// To so far along it.
    pub to: Length,
}

impl Padding {
    /// How long it is.
    pub fn length(&self) -> Length {
        self.to - self.from
    }
}

/// How a shoulder strap runs from the shoulder back to the harness bar.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Harness {
    /// The bar.
    pub bar: Balloon,
    /// The bar's middle over the floor, behind the seat.
    pub height: Length,
    /// From the shoulder back to the bar's middle, level.
    pub behind: Length,
    /// How far the strap falls from level on its way back, laid over the top of the tube; less than nothing where it climbs.
    pub falls: Angle,
}

impl Cage {
    /// A seat on this cage.
    pub fn seat_at(&self, record: &SeatRecord) -> SeatAt {
        SeatAt::of(self, record)
    }
}

/// Every seat on the cage.
pub(in crate::domain::cage) fn seats(cage: &Cage, records: &[SeatRecord]) -> Vec<SeatAt> {
    records.iter().map(|record| SeatAt::of(cage, record)).collect()
}

impl SeatAt {
    fn of(cage: &Cage, record: &SeatRecord) -> Self {
        let at = |forward: Length, up: Length| DVec3::new(forward.mm(), record.left.value.mm(), up.mm());
        let shoulder = at(record.shoulder_forward.value, record.shoulder_up.value);
        let helmet = at(record.helmet_forward.value, record.helmet_up.value);
        let radius = record.helmet_radius.as_ref().map_or(HELMET, |typed| typed.value);
        let reach = record.reach.as_ref().map_or(REACH, |typed| typed.value);
        let off = |bar: &Member| bar.line.nearest(helmet).2 - bar.tube.outside / 2.0 - radius;
        let mut bars: Vec<(Balloon, Length)> = cage.members.iter().map(|bar| (bar.balloon, off(bar))).collect();
        bars.sort_by(|one, next| one.1.mm().total_cmp(&next.1.mm()));
        let padded = |bar: &Member| {
            let within = radius + reach + bar.tube.outside / 2.0;
            let stretches = reached(&bar.line, helmet, within);
            stretches.into_iter().map(|(from, to)| Padding { bar: bar.balloon, from, to }).collect::<Vec<_>>()
        };
        Self {
            number: record.number,
            name: record.name.clone(),
            hips: at(record.hips_forward.value, record.hips_up.value),
            shoulder,
            helmet,
            radius,
            reach,
            bars,
            padding: cage.members.iter().flat_map(padded).collect(),
            harness: harness(cage, shoulder),
        }
    }
}

/// The stretches of a line that are nearer to a point than this.
fn reached(line: &CentreLine, point: DVec3, within: Length) -> Vec<(Length, Length)> {
    let (nearest, _, least) = line.nearest(point);
    if least >= within {
        return Vec::new();
    }
    let whole = line.developed_length().mm();
    let inside = |along: f64| line.point_at(Length::from_mm(along)).0.distance(point) < within.mm();
    let steps = std::iter::successors(Some(0.0), |along| Some(along + STEP)).take_while(|along| *along < whole);
    let mut looked: Vec<f64> = steps.chain([whole, nearest.mm().clamp(0.0, whole)]).collect();
    looked.sort_by(f64::total_cmp);
    // One end of each pair lies inside, the other outside.
    let edge = |within: f64, without: f64| {
        let halved = (0..HALVINGS).fold((within, without), |(within, without), _| {
            let middle = f64::midpoint(within, without);
            if inside(middle) { (middle, without) } else { (within, middle) }
        });
        f64::midpoint(halved.0, halved.1)
    };
    let mut stretches: Vec<(f64, f64)> = Vec::new();
    let mut before: Option<f64> = None;
    let mut open: Option<f64> = None;
    for along in looked {
        match (inside(along), open) {
            (true, None) => open = Some(before.map_or(along, |before| edge(along, before))),
            (false, Some(from)) => {
                stretches.push((from, before.map_or(along, |before| edge(before, along))));
                open = None;
            }
            _ => {}
        }
        before = Some(along);
    }
    stretches.extend(open.map(|from| (from, whole)));
    stretches.into_iter().map(|(from, to)| (Length::from_mm(from), Length::from_mm(to))).collect()
}

/// The strap from a shoulder to the harness bar, seen from the side in the plane of the seat.
fn harness(cage: &Cage, shoulder: DVec3) -> Option<Harness> {
    let bars = cage.members.iter().filter(|bar| bar.role == MemberRole::HarnessBar);
    // A harness bar that is cut at crossings is in pieces: the one that lies behind this seat.
    let behind = bars.map(|bar| (bar, across(&bar.line, shoulder.y)));
    let (bar, at) =
        behind.min_by(|one, next| (one.1.y - shoulder.y).abs().total_cmp(&(next.1.y - shoulder.y).abs()))?;
    let (back, down) = (shoulder.x - at.x, shoulder.z - at.z);
    let (far, radius) = (back.hypot(down), bar.tube.outside.mm() / 2.0);
    if back <= 0.0 || far <= radius {
        return None;
    }
    // Over the top of the tube the strap leaves the line to its middle by the angle whose sine is radius over distance.
    let falls = Angle::from_radians(down.atan2(back) - (radius / far).asin());
    Some(Harness { bar: bar.balloon, height: Length::from_mm(at.z), behind: Length::from_mm(back), falls })
}

/// The point of a straight bar across the car in the plane at this distance from the centre plane, or its end nearest to it.
fn across(line: &CentreLine, left: f64) -> DVec3 {
    let (Some(first), Some(last)) = (line.points().first(), line.points().last()) else { return DVec3::ZERO };
    let wide = last.y - first.y;
    let share = if wide.abs() < 1e-9 { 0.0 } else { ((left - first.y) / wide).clamp(0.0, 1.0) };
    first.lerp(*last, share)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::figures::gap_figures;
    use crate::domain::cage::files::solved;
    use crate::domain::cage::{Around, CageRecord};
    use crate::domain::measure::amounts::Amount;
    use crate::domain::measure::figures::Figure;
    use crate::domain::measure::measures::Measure;
    use crate::quantity::Typed;
    use proptest::prelude::*;

    /// A bar over the head, 40 mm wide, 1000 mm up; a harness bar 200 mm behind the shoulder's plane, 600 mm up.
    fn two_bars() -> Cage {
        let text = r#"{"tackbook_cage": 1, "unit": "mm", "members": [
            {"balloon": "M1", "role": "main hoop", "tube": {"outside": 40, "wall": 3},
             "points": [[0, -500, 1000], [0, 500, 1000]], "ends": [{"free": true}, {"free": true}]},
            {"balloon": "M2", "role": "harness bar", "tube": {"outside": 40, "wall": 3},
             "points": [[-200, -500, 600], [-200, 500, 600]], "ends": [{"free": true}, {"free": true}]}]}"#;
        solved(text).unwrap()
    }

    fn mm(value: f64) -> Typed<Length> {
        Typed::of(Length::from_mm(value), format!("{value} mm"))
    }

    fn seat(shoulder: [f64; 2], helmet: [f64; 2]) -> SeatRecord {
        SeatRecord {
            number: 1,
            name: "driver".to_owned(),
            left: mm(0.0),
            hips_forward: mm(200.0),
            hips_up: mm(100.0),
            shoulder_forward: mm(shoulder[0]),
            shoulder_up: mm(shoulder[1]),
            helmet_forward: mm(helmet[0]),
            helmet_up: mm(helmet[1]),
            helmet_radius: None,
            reach: None,
        }
    }

    fn near(got: f64, wanted: f64) {
        assert!((got - wanted).abs() < 0.01, "{got}, not {wanted}");
    }

    /// By hand, with a ball of 150 and a reach of 75 mm. M1: 200 − 20 − 150 = 30. M2: √(200² + 200²) = 282.843, so 112.843.
    /// Reached is what is nearer than 150 + 75 + 20 = 245 to the middle: of M1 √(245² − 200²) = √20025 = 141.510 on both
    /// sides of its middle; nothing of M2.
    #[test]
    fn the_nearest_bar_and_what_the_helmet_reaches_are_as_by_hand() {
        let found = two_bars().seat_at(&seat([0.0, 700.0], [0.0, 800.0]));
        let [(first, left), (second, beyond)] = [found.bars[0], found.bars[1]];
        assert_eq!((found.bars.len(), first.number, second.number), (2, 1, 2));
        near(left.mm(), 30.0);
        near(beyond.mm(), 112.843);
        let padding = found.padding[0];
        assert_eq!((found.padding.len(), padding.bar.number), (1, 1));
        near(padding.from.mm(), 500.0 - 141.510);
        near(padding.to.mm(), 500.0 + 141.510);
        near(padding.length().mm(), 283.020);
        // A ball and a reach of the shop's own: 200 − 20 − 120 = 60; 120 + 40 + 20 = 180 does not reach 200.
        let own =
            SeatRecord { helmet_radius: Some(mm(120.0)), reach: Some(mm(40.0)), ..seat([0.0, 700.0], [0.0, 800.0]) };
        let found = two_bars().seat_at(&own);
        near(found.bars[0].1.mm(), 60.0);
        assert!(found.padding.is_empty());
    }

    /// By hand: 200 mm back and 100 down, √(200² + 100²) = 223.607 away. Down to the bar's middle atan(100/200) = 26.565°;
    /// over the top of a tube of 20 mm radius asin(20/223.607) = 5.132° less.
    #[test]
    fn the_strap_falls_as_by_hand() {
        let cage = two_bars();
        let harness = cage.seat_at(&seat([0.0, 700.0], [0.0, 860.0])).harness.unwrap();
        assert_eq!(harness.bar.number, 2);
        near(harness.height.mm(), 600.0);
        near(harness.behind.mm(), 200.0);
        near(harness.falls.degrees(), 26.565 - 5.132);
        // As far under the bar it climbs: −26.565 − 5.132.
        let climbs = cage.seat_at(&seat([0.0, 500.0], [0.0, 860.0])).harness.unwrap();
        near(climbs.falls.degrees(), -31.697);
        assert_eq!(
            cage.seat_at(&seat([-300.0, 700.0], [0.0, 860.0])).harness,
            None,
            "the bar lies before the shoulder"
        );
        assert_eq!(Cage::default().seat_at(&seat([0.0, 700.0], [0.0, 860.0])).harness, None);
        // Beyond the bar's end the strap goes to that end.
        let wide = SeatRecord { left: mm(900.0), ..seat([0.0, 700.0], [0.0, 860.0]) };
        near(cage.seat_at(&wide).harness.unwrap().behind.mm(), 200.0);
    }

    /// A rule asks for the way from the helmet to the nearest bar, whichever bar it names: M1 is nearest to the first helmet,
    /// and every bar's figure says so. The second's ball overlaps M2, √(100² + 100²) = 141.421 less 20 and 150: nothing is
    /// left.
    #[test]
    fn what_is_left_to_the_nearest_bar_is_the_figure_of_each_bar() {
        let mut cage = two_bars();
        let records =
            [seat([0.0, 700.0], [0.0, 800.0]), SeatRecord { number: 2, ..seat([0.0, 400.0], [-100.0, 700.0]) }];
        let figures = |cage: &Cage, around: &Around| {
            let heads = gap_figures(cage, around).into_iter().filter(|figure| figure.measure == Measure::HeadGap);
            let describe = |figure: Figure| match figure.amount {
                Amount::Length(left) => {
                    (figure.of.number, left.mm().round(), figure.from.contains("150 mm (5.906 in) radius"))
                }
                _ => (0, f64::NAN, false),
            };
            heads.map(describe).collect::<Vec<_>>()
        };
        let round = |cage: &Cage, seats: &[SeatRecord]| {
            Around::of(&CageRecord { seats: seats.to_vec(), ..CageRecord::default() }, cage)
        };
        let one = round(&cage, &records[..1]);
        assert_eq!(figures(&cage, &one), [], "a bar that is not laid out yet may be nearer");
        cage.whole = true;
        assert_eq!(figures(&cage, &one), [(1, 30.0, true), (2, 30.0, true)]);
        assert!(gap_figures(&cage, &one)[1].from.ends_with("to M1 main hoop"));
        assert_eq!(figures(&cage, &round(&cage, &records)), [(1, 0.0, true), (2, 0.0, true)]);
    }

    #[test]
    fn a_seat_that_cannot_be_is_told_at_its_field() {
        let at = |seat: SeatRecord| seat.faults().into_iter().map(|fault| fault.at).collect::<Vec<_>>();
        assert_eq!(at(seat([0.0, 700.0], [0.0, 860.0])), Vec::<String>::new());
        assert_eq!(at(seat([0.0, 90.0], [0.0, 860.0])), ["hips_up"]);
        assert_eq!(at(seat([0.0, 900.0], [0.0, 860.0])), ["shoulder_up"]);
        assert_eq!(at(SeatRecord { name: String::new(), ..seat([0.0, 700.0], [0.0, 860.0]) }), ["name"]);
        let stated =
            SeatRecord { helmet_radius: Some(mm(20.0)), reach: Some(mm(900.0)), ..seat([0.0, 700.0], [9e9, 860.0]) };
        assert_eq!(at(stated), ["helmet_forward", "helmet_radius", "reach"]);
    }

    proptest! {
        /// A stretch ends where the helmet's reach does, on straights and in bends; nothing that it reaches is left out.
        #[test]
        fn what_is_reached_is_within_a_stretch_and_nothing_else(
            x in -200.0..700.0_f64, y in -300.0..300.0_f64, z in 0.0..900.0_f64, within in 20.0..500.0_f64,
        ) {
            let corners = vec![DVec3::ZERO, DVec3::new(0.0, 0.0, 600.0), DVec3::new(500.0, 0.0, 800.0)];
            let line = CentreLine::new(corners, Length::from_mm(114.3)).unwrap();
            let (point, within) = (DVec3::new(x, y, z), Length::from_mm(within));
            let stretches = reached(&line, point, within);
            let whole = line.developed_length().mm();
            for step in 0..=700 {
                let along = whole * f64::from(step) / 700.0;
                let left = line.point_at(Length::from_mm(along)).0.distance(point) - within.mm();
                let inside = stretches.iter().any(|(from, to)| from.mm() <= along && along <= to.mm());
                // At the very edge either answer is right.
                prop_assert!(left.abs() < 0.05 || inside == (left < 0.0), "{along}: {left} {stretches:?}");
            }
        }
    }
}
