//! The shop's bending dies: the tube each is for, its radius, its mark, and what test bends showed of springback.

pub mod bender;
pub mod made;
pub mod springback;

use serde::{Deserialize, Serialize};

use crate::domain::words::faults::Fault;
use crate::domain::words::ids::DieId;
use crate::domain::words::limits;
use crate::quantity::{Angle, Length, Typed};

pub use bender::{Bender, Plus, Swing};
pub use made::{Made, OverDie};
pub use springback::{RestsOn, Setting, Springback};

/// Most test bends of one die.
pub const TESTS: usize = 20;
/// A die fits a tube and a radius that are its own within this (own choice: dies are made to a tenth).
const FITS: Length = Length::from_mm(0.1);
/// Walls within this are one wall (own choice: less than any two gauges differ by).
const SAME_WALL: Length = Length::from_mm(0.1);

/// One test bend: what the bender was set to, what the tube showed afterwards, and which wall it had.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TestBend {
    /// What was set.
    pub set: Typed<Angle>,
    /// What was got.
    pub got: Typed<Angle>,
    /// The tube's wall; not said in test bends recorded before it was asked for.
    #[serde(default)]
    pub wall: Option<Typed<Length>>,
}

/// A bending die.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Die {
    /// The store's name for it.
    pub id: DieId,
    /// What it is called in the shop.
    pub name: String,
    /// The tube's outside diameter.
    pub outside: Typed<Length>,
    /// The centre-line radius.
    pub radius: Typed<Length>,
    /// From the die's mark to where the bend begins: a mark on the tube stands so much before the bend's start.
    pub offset: Typed<Length>,
    /// The bender it is on.
    pub bender: Bender,
    /// Its test bends, oldest first.
    pub tests: Vec<TestBend>,
    /// Whether bars are bent over it: one that is put away stays in the records alone.
    pub in_use: bool,
    /// Counts up with each change, from 1.
    pub version: i64,
}

/// Why nothing is known of what to set.
#[derive(Debug, Clone, PartialEq)]
pub enum NoSetting {
    /// No test bend is recorded.
    NotTested,
    /// Its test bends were of tube with another wall.
    OtherWall {
        /// The walls tested.
        tested: Vec<Length>,
        /// The bar's.
        asked: Length,
    },
    /// Its test bends do not say their wall.
    WallNotSaid,
    /// Its test bends do not agree.
    Contradictory,
}

impl Die {
    /// What is wrong with it, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = limits::title_faults("name", &self.name);
        let mut within = |at: &str, value: Length, (least, most): (Length, Length), what: &str| {
            if !(value >= least && value <= most) {
                faults.push(Fault::new(at, format!("{what} is {}.", Length::between(least, most))));
            }
        };
        within("outside", self.outside.value, limits::OUTSIDE, "Tube's outside diameter");
        within("radius", self.radius.value, limits::DIE_RADIUS, "A die's radius");
        within("offset", self.offset.value, limits::DIE_OFFSET, "The way from a die's mark to its bend");
        if self.tests.len() > TESTS {
            faults.push(Fault::new("set", format!("At most {TESTS} test bends of a die.")));
        }
        for test in &self.tests {
            faults.extend(test.faults());
        }
        faults
    }

    /// Whether a bar of this outside diameter, bent to this radius, is bent over it.
    pub fn fits(&self, outside: Length, radius: Length) -> bool {
        (self.outside.value - outside).abs() <= FITS && (self.radius.value - radius).abs() <= FITS
    }

    /// What is wrong with taking it in use beside these: a second die for the same tube and radius would leave open which of
    /// the two a bar is bent over.
    pub fn beside(&self, others: &[Self]) -> Vec<Fault> {
        let same =
            |other: &&Self| other.in_use && other.id != self.id && other.fits(self.outside.value, self.radius.value);
        let describe = |other: &Self| {
            let name = &other.name;
            Fault::new(
                "radius",
                format!(
                    "“{name}” is for this tube and radius already. Record its test bends there, or put it away first."
                ),
            )
        };
        others.iter().find(same).map(describe).into_iter().collect()
    }

    /// What its test bends with tube of this wall show, or why they show nothing.
    pub fn springback(&self, wall: Length) -> Result<Springback, NoSetting> {
        let of_wall =
            |test: &&TestBend| test.wall.as_ref().is_some_and(|tested| (tested.value - wall).abs() <= SAME_WALL);
        let tests: Vec<&TestBend> = self.tests.iter().filter(of_wall).collect();
        if !tests.is_empty() {
            return Springback::of(&tests).ok_or(NoSetting::Contradictory);
        }
        if self.tests.is_empty() {
            return Err(NoSetting::NotTested);
        }
        let tested = self.walls();
        if tested.is_empty() { Err(NoSetting::WallNotSaid) } else { Err(NoSetting::OtherWall { tested, asked: wall }) }
    }

    /// The walls that it was tested with, the thinnest first.
    pub fn walls(&self) -> Vec<Length> {
        let mut walls: Vec<Length> =
            self.tests.iter().filter_map(|test| test.wall.as_ref()).map(|wall| wall.value).collect();
        walls.sort_by(|one, other| one.mm().total_cmp(&other.mm()));
        walls.dedup_by(|next, kept| (*next - *kept).abs() <= SAME_WALL);
        walls
    }
}

impl TestBend {
    /// What is wrong with it, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let (set, got) = (self.set.value, self.got.value);
        if !(set > Angle::from_degrees(5.0) && set < Angle::from_degrees(175.0)) {
            return vec![Fault::new("set", "A test bend is set to more than 5 and less than 175 degrees.")];
        }
        if got > set {
            return vec![Fault::new(
                "got",
                "A tube springs back: it shows less than was set. Are the two the wrong way round?",
            )];
        }
        if got < set * 0.7 {
            return vec![Fault::new("got", "This is far less than was set. Give the deflection: straight on is 0.")];
        }
        let (least, most) = limits::WALL;
        match &self.wall {
            Some(wall) if !(wall.value >= least && wall.value <= most) => {
                vec![Fault::new("wall", format!("A wall is {}.", Length::between(least, most)))]
            }
            _ => Vec::new(),
        }
    }
}

/// A die as it is entered.
#[derive(Debug, Clone, PartialEq)]
pub struct NewDie {
    /// What it is called in the shop.
    pub name: String,
    /// The tube's outside diameter.
    pub outside: Typed<Length>,
    /// The centre-line radius.
    pub radius: Typed<Length>,
    /// From the die's mark to where the bend begins.
    pub offset: Typed<Length>,
    /// The bender it is on.
    pub bender: Bender,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Units;
    use uuid::Uuid;

    const WALL: Length = Length::from_mm(2.413);

    fn length(mm: f64) -> Typed<Length> {
        Typed::of(Length::from_mm(mm), format!("{mm} mm"))
    }

    fn test(set: f64, got: f64, wall: Option<f64>) -> TestBend {
        let angle = |degrees: f64| Typed::of(Angle::from_degrees(degrees), degrees.to_string());
        TestBend { set: angle(set), got: angle(got), wall: wall.map(length) }
    }

    fn die(tests: &[(f64, f64)]) -> Die {
        Die {
            id: Uuid::nil().into(),
            name: "4 1/2".to_owned(),
            outside: length(38.1),
            radius: length(114.3),
            offset: length(0.0),
            bender: Bender::default(),
            tests: tests.iter().map(|(set, got)| test(*set, *got, Some(WALL.mm()))).collect(),
            in_use: true,
            version: 1,
        }
    }

    fn set(die: &Die, want: f64) -> f64 {
        die.springback(WALL).unwrap().set_for(Angle::from_degrees(want)).angle.degrees()
    }

    /// Least squares by numpy polyfit 2.4 and mpmath's normal equations: got = -1.50654205607 + 0.976822429907 set.
    #[test]
    fn the_line_through_four_test_bends() {
        let die = die(&[(20.0, 18.1), (45.0, 42.4), (90.0, 86.3), (120.0, 115.8)]);
        let RestsOn::Line { a, b } = die.springback(WALL).unwrap().rests_on() else { panic!("a line") };
        assert!((a.degrees() + 1.506_542_056_07).abs() < 1e-9 && (b - 0.976_822_429_907).abs() < 1e-11);
        for (want, wanted) in [(15.0, 16.898_201_301_2), (60.0, 62.965_939_533_1), (90.0, 93.677_765_021)] {
            assert!((set(&die, want) - wanted).abs() < 1e-8, "{want}");
        }
        assert!(die.faults().is_empty());
    }

    /// By a ratio (*common practice*): 90 set gave 87.3, K = 0.97; for 60 set 61.8556701031.
    #[test]
    fn one_test_bend_gives_its_share() {
        let one = die(&[(90.0, 87.3)]);
        assert!((set(&one, 60.0) - 61.855_670_103_1).abs() < 1e-8);
        let description = one.springback(WALL).unwrap().set_for(Angle::from_degrees(60.0)).describe();
        assert!(description.contains("one test bend"), "{description}");
        // Far from it the share says nothing: a bend of 10 degrees keeps the springback of 57.3, the edge of its reach.
        assert!((set(&one, 10.0) - 10.0 - 57.3 * (1.0 / 0.97 - 1.0)).abs() < 1e-9);
        assert_eq!(die(&[]).springback(WALL), Err(NoSetting::NotTested));
    }

    /// A line of slope 0.71 through two bends, followed to 16.7 degrees, sets 12.5: less than is wanted. The springback of
    /// the nearest angles tested is kept there, and said to be a guess.
    #[test]
    fn a_line_is_not_followed_to_where_it_says_nonsense() {
        let steep = die(&[(60.0, 50.4), (90.0, 71.7)]);
        let bare = |want: f64| 60.0 + (want - 50.4) * 30.0 / 21.3;
        assert!(bare(16.7) < 16.7);
        assert!((set(&steep, 45.4) - bare(45.4)).abs() < 1e-9, "five degrees beyond");
        assert!((set(&steep, 16.7) - (16.7 + bare(45.4) - 45.4)).abs() < 1e-9, "further");
        let of = |want: f64| steep.springback(WALL).unwrap().set_for(Angle::from_degrees(want));
        assert!(of(16.7).is_beyond() && of(16.7).describe().contains("outside the angles tested"));
        assert!(!of(60.0).is_beyond() && !of(60.0).describe().contains("outside"));
    }

    proptest::proptest! {
        /// Whatever was typed and passed as test bends: what is set is never less than what is wanted.
        #[test]
        fn never_set_to_less_than_is_wanted(
            tests in proptest::collection::vec((5.1..174.9_f64, 0.7..1.0_f64), 1..6),
            want in 0.1..170.0_f64,
        ) {
            let tests: Vec<(f64, f64)> = tests.into_iter().map(|(set, share)| (set, set * share)).collect();
            let die = die(&tests);
            proptest::prop_assert!(die.faults().is_empty());
            if let Ok(springback) = die.springback(WALL) {
                let set = springback.set_for(Angle::from_degrees(want)).angle.degrees();
                proptest::prop_assert!(set >= want - 1e-9, "{set} for {want}");
            }
        }
    }

    #[test]
    fn another_wall_springs_back_otherwise() {
        let tube = |wall: f64| crate::domain::steel::tube::TubeSize::metric(38.1, wall);
        let mut one = die(&[(90.0, 87.3)]);
        one.offset = length(12.7);
        let made = |die: &Die, wall: f64| {
            Made::of(std::slice::from_ref(die), &tube(wall), Length::from_mm(114.3), Angle::from_degrees(60.0))
        };
        assert!(made(&one, 2.413).setting().is_some());
        let thick = made(&one, 3.048);
        assert!(thick.setting().is_none());
        let (marks, set) = (thick.describe_marks(Units::Metric), thick.describe_set(Units::Metric));
        assert!(marks.contains("stand 12.7 mm before"), "{marks}");
        assert!(set.contains("not known") && set.contains("2.4 mm") && set.contains("3 mm"), "{set}");
        one.tests = vec![test(90.0, 87.3, None)];
        assert!(made(&one, 2.413).describe_set(Units::Metric).contains("nobody wrote which wall"));
        // The offset is the die's, tested or not: the marks have it, and the sentence says so.
        one.tests.clear();
        assert!((made(&one, 2.413).offset().mm() - 12.7).abs() < 1e-12);
        assert!(made(&one, 2.413).describe_marks(Units::Metric).contains("stand 12.7 mm before"));
        one.in_use = false;
        assert_eq!(made(&one, 2.413), Made::NoDie);
        assert!(made(&one, 2.413).offset() == Length::default());
    }

    #[test]
    fn two_dies_for_one_tube_and_radius_are_told_apart() {
        let (one, mut other) = (die(&[]), die(&[]));
        other.id = Uuid::max().into();
        other.name = "the old one".to_owned();
        let at = |die: &Die, others: &[Die]| die.beside(others).into_iter().map(|fault| fault.at).collect::<Vec<_>>();
        assert_eq!(at(&other, std::slice::from_ref(&one)), ["radius"]);
        assert!(at(&one, std::slice::from_ref(&one)).is_empty(), "a die is not beside itself");
        let both = [one, other];
        let tube = crate::domain::steel::tube::TubeSize::metric(38.1, 2.413);
        let made = Made::of(&both, &tube, Length::from_mm(114.3), Angle::from_degrees(60.0));
        assert!(matches!(&made, Made::Several(names) if names.len() == 2));
        assert!(made.describe_marks(Units::Metric).contains("“the old one”") && made.offset() == Length::default());
    }

    #[test]
    fn what_cannot_be_is_said_where_it_was_typed() {
        let at = |tests: &[(f64, f64)]| die(tests).faults().into_iter().map(|fault| fault.at).collect::<Vec<_>>();
        assert_eq!(at(&[(90.0, 95.0)]), ["got"]);
        assert_eq!(at(&[(90.0, 30.0)]), ["got"]);
        assert_eq!(at(&[(180.0, 170.0)]), ["set"]);
        // Two bends that would make a tube spring forward give no line.
        let contrary = die(&[(30.0, 21.5), (90.0, 89.9)]);
        assert_eq!(contrary.springback(WALL), Err(NoSetting::Contradictory));
        let mut thin = die(&[]);
        thin.tests.push(test(90.0, 88.0, Some(0.1)));
        assert_eq!(thin.faults().into_iter().map(|fault| fault.at).collect::<Vec<_>>(), ["wall"]);
    }
}
