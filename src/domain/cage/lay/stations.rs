//! Places on the bars of the basic structure, named the way a fabricator measures them.

use glam::DVec3;

use super::draft::{Draft, Placed};
use crate::domain::cage::record::basic_structure::BasicStructure;
use crate::domain::cage::record::fittings::Toward;
use crate::domain::cage::record::key_words::words;
use crate::domain::cage::record::measures::{Hand, TapeMeasure};
use crate::geometry::CentreLine;
use crate::quantity::Length;

/// The main hoop's key.
pub(in crate::domain::cage) const MAIN_HOOP: &str = "main-hoop";
/// The front hoop's key.
pub(in crate::domain::cage) const FRONT_HOOP: &str = "front-hoop";
/// The windscreen header's key.
pub(in crate::domain::cage) const HEADER: &str = "header";
/// The rear transverse bar's key.
pub(in crate::domain::cage) const REAR_BAR: &str = "rear-transverse-bar";
/// How far over its plate a bracing bar lands on a leg, along the leg: near enough for 100 mm (MSUK 9.3) and far
/// enough for the torch (*common practice*).
pub(in crate::domain::cage) const OVER_PLATE: Length = Length::from_inches(2.0);
/// Bars that land beside a corner stand this many outside diameters of the carrier off it, so that both can be welded
/// round (*common practice*), but never further than [`BESIDE_MOST`].
const BESIDE: f64 = 2.0;
/// Less than 100 mm from a junction is asked of roof diagonals and pillar bars (FIA 253-8, *from memory*).
const BESIDE_MOST: Length = Length::from_mm(90.0);
/// In so many steps a line is walked along to find where it passes something.
const STEPS: u32 = 100;

/// The half hoop's key.
pub(in crate::domain::cage) fn half_hoop(hand: Hand) -> String {
    format!("half-hoop/{}", hand.word())
}

/// The lateral hoop's key.
pub(in crate::domain::cage) fn lateral_hoop(hand: Hand) -> String {
    format!("lateral-hoop/{}", hand.word())
}

/// The roof bar's key.
pub(in crate::domain::cage) fn roof_bar(hand: Hand) -> String {
    format!("roof-bar/{}", hand.word())
}

/// The backstay's key.
pub(in crate::domain::cage) fn backstay(hand: Hand) -> String {
    format!("backstay/{}", hand.word())
}

/// Along a line, the middle of the bend at a corner point; where nothing bends, the nearest place.
pub(in crate::domain::cage) fn middle_of_bend(line: &CentreLine, corner: DVec3) -> Length {
    let bend = line.bends().iter().find(|bend| bend.corner.distance(corner) < 1.0);
    bend.map_or_else(|| line.nearest(corner).0, |bend| bend.start + bend.arc() / 2.0)
}

/// Where a stretch of a line that only rises or only falls passes a height.
fn at_height(line: &CentreLine, stretch: (Length, Length), height: f64) -> Option<Length> {
    where_none(stretch, |along| line.point_at(along).0.z - height)
}

/// Where a figure that only rises or only falls over a stretch is nothing; none where it keeps its sign.
fn where_none((mut low, mut high): (Length, Length), of: impl Fn(Length) -> f64) -> Option<Length> {
    if of(low) * of(high) > 0.0 {
        return None;
    }
    let rising = of(high) >= of(low);
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if (of(middle) < 0.0) == rising { low = middle } else { high = middle }
    }
    Some((low + high) / 2.0)
}

/// The first place along a line, coming from one of its ends, at which a figure of its points is nothing. It is looked
/// for in steps of a hundredth of the line.
pub(in crate::domain::cage) fn first_passing(
    line: &CentreLine,
    from: Toward,
    of: impl Fn(DVec3) -> f64,
) -> Option<Length> {
    let whole = line.developed_length();
    let at = |step: u32| {
        let share = f64::from(step) / f64::from(STEPS);
        whole * if from == Toward::Start { share } else { 1.0 - share }
    };
    let stretches = (0..STEPS).map(|step| (at(step), at(step + 1)));
    stretches.into_iter().find_map(|stretch| where_none(stretch, |along| of(line.point_at(along).0)))
}

/// A leg of the structure: a hoop from one of its feet up to the middle of its upper bend.
pub(in crate::domain::cage) struct Leg {
    /// The hoop's key.
    key: String,
    /// Whether the foot is the hoop's first point.
    rising: bool,
    /// Where the straights of the upper bend would meet.
    upper: Option<DVec3>,
    /// Where those of the bend half way up would meet: the shoulder, or the knee.
    middle: Option<DVec3>,
}

/// What lies across the car at the roof, from the left corner to the right: a hoop's top, or a bar of its own.
struct Top {
    key: &'static str,
    from: Length,
    to: Length,
}

/// The front or the rear end of the cage's roof.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::domain::cage) enum RoofEnd {
    /// Over the screen.
    Front,
    /// Behind the seats.
    Rear,
}

impl Draft<'_> {
    /// The leg behind the seats: of the main hoop, or of the side's lateral hoop.
    pub(in crate::domain::cage) fn rear_leg(&self, hand: Hand) -> Leg {
        let (upper, middle) = (self.hoop_corner_point(hand), self.hoop_shoulder_point(hand));
        let (key, rising) = match self.record.structure {
            BasicStructure::LateralHoops => (lateral_hoop(hand), true),
            _ => (MAIN_HOOP.to_owned(), hand == Hand::Left),
        };
        Leg { key, rising, upper, middle }
    }

    /// The leg along the screen pillar: of the front hoop, or of the side's half hoop or lateral hoop.
    pub(in crate::domain::cage) fn front_leg(&self, hand: Hand) -> Leg {
        let (upper, middle) = (self.screen_corner_point(hand), self.knee_point(hand));
        let (key, rising) = match self.record.structure {
            BasicStructure::FrontHoop => (FRONT_HOOP.to_owned(), hand == Hand::Left),
            BasicStructure::HalfHoops => (half_hoop(hand), false),
            BasicStructure::LateralHoops => (lateral_hoop(hand), false),
        };
        Leg { key, rising, upper, middle }
    }

    /// The middle of the leg's upper bend.
    fn leg_corner(&self, leg: &Leg) -> Placed {
        self.bend_of(&leg.key, leg.upper)
    }

    /// On the leg, so far over its plate.
    pub(in crate::domain::cage) fn leg_foot(&self, leg: &Leg) -> Placed {
        let whole = self.carrier(&leg.key)?.line.developed_length();
        self.place(&leg.key, if leg.rising { OVER_PLATE } else { whole - OVER_PLATE })
    }

    /// On the leg at a height.
    pub(in crate::domain::cage) fn leg_at(&self, leg: &Leg, height: f64) -> Placed {
        let corner = self.leg_corner(leg)?;
        let line = &self.carrier(&leg.key)?.line;
        let whole = line.developed_length();
        let stretch = if leg.rising { (Length::default(), corner.along) } else { (corner.along, whole) };
        let off = || {
            let height = Length::from_mm(height).in_both();
            format!("At {height} over the floor it would land off the end of the {}.", words(&leg.key))
        };
        self.place(&leg.key, at_height(line, stretch, height).ok_or_else(off)?)
    }

    /// What lies across the car at an end of the roof.
    fn top(&self, end: RoofEnd) -> Result<Top, String> {
        let hoop = |key, corners: [Placed; 2]| {
            let [left, right] = corners;
            Ok(Top { key, from: left?.along, to: right?.along })
        };
        let bar = |key| Ok(Top { key, from: Length::default(), to: self.carrier(key)?.line.developed_length() });
        match (end, self.record.structure) {
            (RoofEnd::Rear, BasicStructure::LateralHoops) => bar(REAR_BAR),
            (RoofEnd::Rear, _) => hoop(MAIN_HOOP, Hand::BOTH.map(|hand| self.hoop_corner(hand))),
            (RoofEnd::Front, BasicStructure::FrontHoop) => {
                hoop(FRONT_HOOP, Hand::BOTH.map(|hand| self.screen_corner(hand)))
            }
            (RoofEnd::Front, _) => bar(HEADER),
        }
    }

    /// On what lies across an end of the roof, just inboard of its corner.
    pub(in crate::domain::cage) fn beside_corner(&self, end: RoofEnd, hand: Hand) -> Placed {
        let top = self.top(end)?;
        let beside = self.beside(top.key)?;
        self.place(top.key, if hand == Hand::Left { top.from + beside } else { top.to - beside })
    }

    /// On what lies across an end of the roof, so many of its diameters from its middle toward a side.
    pub(in crate::domain::cage) fn off_middle(&self, end: RoofEnd, hand: Hand, diameters: f64) -> Placed {
        let top = self.top(end)?;
        let off = self.carrier(top.key)?.tube.outside * diameters;
        self.place(top.key, (top.from + top.to) / 2.0 - off * hand.sign())
    }

    /// Where a backstay and a diagonal behind the seats begin: at the main hoop's upper bend. A lateral hoop's bend there
    /// turns into the roof and would run along the backstay, and a bar across sits on it: on the leg under the bend.
    pub(in crate::domain::cage) fn under_corner(&self, hand: Hand) -> Placed {
        let leg = self.rear_leg(hand);
        let corner = self.leg_corner(&leg)?;
        if self.record.structure.has_main_hoop() {
            return Ok(corner);
        }
        let bends = self.carrier(&leg.key)?.line.bends();
        let bend = bends.iter().find(|bend| bend.start <= corner.along && corner.along <= bend.start + bend.arc());
        let (half, beside) = (bend.map_or(Length::default(), |bend| bend.arc() / 2.0), self.beside(&leg.key)?);
        self.place(&leg.key, corner.along - if half > beside { half } else { beside })
    }

    /// The upper corner point behind the seats, where the straights of the hoop would meet.
    pub(in crate::domain::cage) fn hoop_corner_point(&self, hand: Hand) -> Option<DVec3> {
        let [height, width, lean] = [TapeMeasure::HoopRoofHeight, TapeMeasure::HoopRoofWidth, TapeMeasure::HoopLean]
            .map(|m| self.coordinate(m));
        Some(DVec3::new(-lean?, hand.sign() * width? / 2.0, height?))
    }

    /// The shoulder point behind the seats.
    pub(in crate::domain::cage) fn hoop_shoulder_point(&self, hand: Hand) -> Option<DVec3> {
        let height = self.coordinate(TapeMeasure::HoopShoulderHeight)?;
        let out = hand.sign() * self.coordinate(TapeMeasure::HoopShoulderWidth)? / 2.0;
        Some(DVec3::new(self.hoop_x(height)?, out, height))
    }

    /// How far forward the hoop's plane is at a height.
    pub(in crate::domain::cage) fn hoop_x(&self, height: f64) -> Option<f64> {
        Some(-self.coordinate(TapeMeasure::HoopLean)? * height / self.coordinate(TapeMeasure::HoopRoofHeight)?)
    }

    /// The screen's upper corner point.
    pub(in crate::domain::cage) fn screen_corner_point(&self, hand: Hand) -> Option<DVec3> {
        let [forward, out, up] = [
            TapeMeasure::ScreenCornerForward(hand),
            TapeMeasure::ScreenCornerOut(hand),
            TapeMeasure::ScreenCornerUp(hand),
        ]
        .map(|measure| self.coordinate(measure));
        Some(DVec3::new(forward?, hand.sign() * out?, up?))
    }

    /// The pillar's knee point.
    pub(in crate::domain::cage) fn knee_point(&self, hand: Hand) -> Option<DVec3> {
        let [forward, out, up] =
            [TapeMeasure::KneeForward(hand), TapeMeasure::KneeOut(hand), TapeMeasure::KneeUp(hand)]
                .map(|measure| self.coordinate(measure));
        Some(DVec3::new(forward?, hand.sign() * out?, up?))
    }

    /// The middle of the bend at a corner point of a bar.
    fn bend_of(&self, key: &str, corner: Option<DVec3>) -> Placed {
        let bar = self.carrier(key)?;
        let corner = corner.ok_or_else(|| "Measurements are missing.".to_owned())?;
        self.place(key, middle_of_bend(&bar.line, corner))
    }

    /// The middle of the upper bend behind the seats.
    pub(in crate::domain::cage) fn hoop_corner(&self, hand: Hand) -> Placed {
        self.leg_corner(&self.rear_leg(hand))
    }

    /// The middle of the bend at the screen's upper corner.
    pub(in crate::domain::cage) fn screen_corner(&self, hand: Hand) -> Placed {
        self.leg_corner(&self.front_leg(hand))
    }

    /// The middle of the bend half way up a leg: the shoulder's, or the knee's.
    pub(in crate::domain::cage) fn leg_middle(&self, leg: &Leg) -> Placed {
        self.bend_of(&leg.key, leg.middle)
    }

    fn beside(&self, key: &str) -> Result<Length, String> {
        let beside = self.carrier(key)?.tube.outside * BESIDE;
        Ok(if beside > BESIDE_MOST { BESIDE_MOST } else { beside })
    }

    /// On a bar whose last point stands on a plate, so far over it.
    pub(in crate::domain::cage) fn over_last(&self, key: &str) -> Placed {
        let whole = self.carrier(key)?.line.developed_length();
        self.place(key, whole - OVER_PLATE)
    }

    /// On a bar, so far from its first point in carrier diameters, for a bar that lands beside the joint there.
    pub(in crate::domain::cage) fn beside_first(&self, key: &str) -> Placed {
        self.place(key, self.beside(key)?)
    }
}
