//! Places on the bars of the basic structure, named the way a fabricator measures them.

use glam::DVec3;

use super::draft::{Draft, Placed, words};
use super::measures::{Hand, TapeMeasure};
use crate::geometry::CentreLine;
use crate::quantity::Length;

/// The main hoop's key.
pub(super) const MAIN_HOOP: &str = "main-hoop";
/// The windscreen header's key.
pub(super) const HEADER: &str = "header";
/// How far over its plate a bracing bar lands on a leg, along the leg: near enough for 100 mm (MSUK 9.3) and far
/// enough for the torch (*common practice*).
pub(super) const OVER_PLATE: Length = Length::from_inches(2.0);
/// Bars that land beside a corner stand this many outside diameters of the carrier off it, so that both can be welded
/// round (*common practice*), but never further than [`BESIDE_MOST`].
const BESIDE: f64 = 2.0;
/// Less than 100 mm from a junction is asked of roof diagonals and pillar bars (FIA 253-8, *from memory*).
const BESIDE_MOST: Length = Length::from_mm(90.0);

/// The half hoop's key.
pub(super) fn half_hoop(hand: Hand) -> String {
    format!("half-hoop/{}", hand.word())
}

/// The backstay's key.
pub(super) fn backstay(hand: Hand) -> String {
    format!("backstay/{}", hand.word())
}

/// Along a line, the middle of the bend at a corner point; where nothing bends, the nearest place.
pub(super) fn middle_of_bend(line: &CentreLine, corner: DVec3) -> Length {
    let bend = line.bends().iter().find(|bend| bend.corner.distance(corner) < 1.0);
    bend.map_or_else(|| line.nearest(corner).0, |bend| bend.start + bend.arc() / 2.0)
}

/// Where a stretch of a line that only rises or only falls passes a height.
fn at_height(line: &CentreLine, stretch: (Length, Length), height: f64) -> Option<Length> {
    let over = |along: Length| line.point_at(along).0.z - height;
    let (mut low, mut high) = stretch;
    if over(low) * over(high) > 0.0 {
        return None;
    }
    let rising = over(high) >= over(low);
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if (over(middle) < 0.0) == rising { low = middle } else { high = middle }
    }
    Some((low + high) / 2.0)
}

impl Draft<'_> {
    /// The main hoop's upper corner point, where its straights would meet.
    pub(super) fn hoop_corner_point(&self, hand: Hand) -> Option<DVec3> {
        let [height, width, lean] = [TapeMeasure::HoopRoofHeight, TapeMeasure::HoopRoofWidth, TapeMeasure::HoopLean]
            .map(|m| self.coordinate(m));
        Some(DVec3::new(-lean?, hand.sign() * width? / 2.0, height?))
    }

    /// The main hoop's shoulder point.
    pub(super) fn hoop_shoulder_point(&self, hand: Hand) -> Option<DVec3> {
        let height = self.coordinate(TapeMeasure::HoopShoulderHeight)?;
        let out = hand.sign() * self.coordinate(TapeMeasure::HoopShoulderWidth)? / 2.0;
        Some(DVec3::new(self.hoop_x(height)?, out, height))
    }

    /// How far forward the hoop's plane is at a height.
    pub(super) fn hoop_x(&self, height: f64) -> Option<f64> {
        Some(-self.coordinate(TapeMeasure::HoopLean)? * height / self.coordinate(TapeMeasure::HoopRoofHeight)?)
    }

    /// The screen's upper corner point.
    pub(super) fn screen_corner_point(&self, hand: Hand) -> Option<DVec3> {
        let [forward, out, up] = [
            TapeMeasure::ScreenCornerForward(hand),
            TapeMeasure::ScreenCornerOut(hand),
            TapeMeasure::ScreenCornerUp(hand),
        ]
        .map(|measure| self.coordinate(measure));
        Some(DVec3::new(forward?, hand.sign() * out?, up?))
    }

    /// The pillar's knee point.
    pub(super) fn knee_point(&self, hand: Hand) -> Option<DVec3> {
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

    /// The middle of the main hoop's upper bend.
    pub(super) fn hoop_corner(&self, hand: Hand) -> Placed {
        self.bend_of(MAIN_HOOP, self.hoop_corner_point(hand))
    }

    /// The middle of the main hoop's bend at the shoulder.
    pub(super) fn hoop_shoulder(&self, hand: Hand) -> Placed {
        self.bend_of(MAIN_HOOP, self.hoop_shoulder_point(hand))
    }

    /// The middle of the half hoop's bend at the screen's upper corner.
    pub(super) fn screen_corner(&self, hand: Hand) -> Placed {
        self.bend_of(&half_hoop(hand), self.screen_corner_point(hand))
    }

    /// The middle of the half hoop's bend at the knee.
    pub(super) fn knee(&self, hand: Hand) -> Placed {
        self.bend_of(&half_hoop(hand), self.knee_point(hand))
    }

    /// On the main hoop's top, just inboard of its upper bend.
    pub(super) fn hoop_top(&self, hand: Hand) -> Placed {
        let corner = self.hoop_corner(hand)?;
        let beside = self.beside(MAIN_HOOP)?;
        self.place(MAIN_HOOP, if hand == Hand::Left { corner.along + beside } else { corner.along - beside })
    }

    /// On the windscreen header, just inboard of the half hoop.
    pub(super) fn header_end(&self, hand: Hand) -> Placed {
        let beside = self.beside(HEADER)?;
        let whole = self.carrier(HEADER)?.line.developed_length();
        self.place(HEADER, if hand == Hand::Left { beside } else { whole - beside })
    }

    fn beside(&self, key: &str) -> Result<Length, String> {
        let beside = self.carrier(key)?.tube.outside * BESIDE;
        Ok(if beside > BESIDE_MOST { BESIDE_MOST } else { beside })
    }

    /// So far from the middle of a bar that runs across, toward a side.
    pub(super) fn off_middle(&self, key: &str, hand: Hand, off: Length) -> Placed {
        let line = &self.carrier(key)?.line;
        let middle = line.developed_length() / 2.0;
        self.place(key, middle - off * hand.sign())
    }

    /// On the main hoop's leg, so far over the plate.
    pub(super) fn hoop_foot(&self, hand: Hand) -> Placed {
        let whole = self.carrier(MAIN_HOOP)?.line.developed_length();
        self.place(MAIN_HOOP, if hand == Hand::Left { OVER_PLATE } else { whole - OVER_PLATE })
    }

    /// On a bar whose last point stands on a plate, so far over it.
    pub(super) fn over_last(&self, key: &str) -> Placed {
        let whole = self.carrier(key)?.line.developed_length();
        self.place(key, whole - OVER_PLATE)
    }

    /// On a bar, so far from its first point in carrier diameters, for a bar that lands beside the joint there.
    pub(super) fn beside_first(&self, key: &str) -> Placed {
        self.place(key, self.beside(key)?)
    }

    /// On the main hoop's leg at a height.
    pub(super) fn hoop_at(&self, hand: Hand, height: f64) -> Placed {
        let corner = self.hoop_corner(hand)?;
        let whole = self.carrier(MAIN_HOOP)?.line.developed_length();
        let stretch = if hand == Hand::Left { (Length::default(), corner.along) } else { (corner.along, whole) };
        self.leg_at(MAIN_HOOP, stretch, height)
    }

    /// On the half hoop's leg, under the screen's upper corner, at a height.
    pub(super) fn front_at(&self, hand: Hand, height: f64) -> Placed {
        let key = half_hoop(hand);
        let corner = self.screen_corner(hand)?;
        let whole = self.carrier(&key)?.line.developed_length();
        self.leg_at(&key, (corner.along, whole), height)
    }

    fn leg_at(&self, key: &str, stretch: (Length, Length), height: f64) -> Placed {
        let bar = self.carrier(key)?;
        let off = || format!("At {height:.0} mm over the floor it would land off the end of the {}.", words(key));
        let along = at_height(&bar.line, stretch, height).ok_or_else(off)?;
        self.place(key, along)
    }
}
