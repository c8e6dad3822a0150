//! A gusset in the angle of two tubes: its blank as flat plate, as bent sheet saddled over both, as a tube with two copes.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

use glam::{DVec2, DVec3, dvec2};

use crate::geometry::cope::{Cope, CopeFault, Meeting};
use crate::geometry::polygon::{Polygon, PolygonFault};
use crate::geometry::sheet_blank::{Hole, SheetBlank, bend_allowance, neutral_share};
use crate::quantity::{Angle, Length};

/// The corner of a sheet gusset is cut back so far along each tube, to clear the joint's own weld (*common practice*).
pub const ROOT: Length = Length::from_mm(10.0);
/// Of a leg, at most this share is cut back at the corner (own choice).
const ROOT_SHARE: f64 = 0.25;
/// The inside radius of a saddle's bends, in thicknesses of the sheet (*common practice* for mild steel).
pub const INSIDE_RADIUS: f64 = 1.0;
/// Points of a saddle's edge over half of its band, and over one bend: chords within 0.05 mm of the true edge.
const BAND: u32 = 32;
const BEND: u32 = 12;

/// The angle a gusset sits in, of two tubes whose axes meet. Drawn flat its corner, where both tubes' surfaces meet, is
/// the origin, y halves the angle, the first tube lies to the left.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GussetSeat {
    /// Between the tubes' directions.
    pub between: Angle,
    /// Both tubes' outside diameters.
    pub outside: [Length; 2],
    /// From the corner to the gusset's end, along each tube.
    pub leg: Length,
}

/// Why a gusset cannot be made.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum GussetFault {
    /// No metal is left between the bends, or between a bend and the corner.
    #[error("Its legs are too short to bend it of this sheet. Give it longer legs or thinner sheet.")]
    TooSmall,
    /// The outline crosses itself.
    #[error(transparent)]
    Outline(#[from] PolygonFault),
    /// The tube cannot be coped to both bars.
    #[error(transparent)]
    Cope(#[from] CopeFault),
}

/// A gusset of tube: its blank and how both ends are cut.
#[derive(Debug, Clone, PartialEq)]
pub struct TubeGusset {
    /// From axis to axis of the two bars, along its own axis.
    pub between_axes: Length,
    /// The cuts to the first and the second bar.
    pub copes: [Cope; 2],
}

impl TubeGusset {
    /// The blank: from long point to long point.
    pub fn cut_length(&self) -> Length {
        self.between_axes - self.copes.iter().map(Cope::long_point).sum::<Length>()
    }

    /// The metal's mean length, for its mass.
    pub fn metal_length(&self, wall: Length) -> Length {
        self.between_axes - self.copes.iter().map(|cope| cope.mean_cut(wall)).sum::<Length>()
    }
}

impl GussetSeat {
    fn half(&self) -> f64 {
        self.between.radians() / 2.0
    }

    /// From the corner to the middle of the long side.
    fn height(&self) -> f64 {
        self.leg.mm() * self.half().cos()
    }

    fn root(edge: f64) -> f64 {
        ROOT.mm().min(edge * ROOT_SHARE)
    }

    /// The circle inside a triangle of this height from the corner: its radius.
    fn inscribed(&self, height: f64) -> f64 {
        height * self.half().sin() / (1.0 + self.half().sin())
    }

    /// A flat plate between the tubes in the plane of their axes: both legs, the long side, the corner cut back. The
    /// hole stands where most metal is left round it.
    pub fn flat(&self, hole: Option<Length>) -> Result<SheetBlank, GussetFault> {
        let (sine, cosine) = self.half().sin_cos();
        let (root, leg) = (Self::root(self.leg.mm()), self.leg.mm());
        let right = dvec2(sine, cosine);
        let left = dvec2(-sine, cosine);
        let outline = Polygon::new(vec![right * root, right * leg, left * leg, left * root])?;
        let centre = dvec2(0.0, self.height() - self.inscribed(self.height()));
        let holes = hole.map(|diameter| Hole { centre, diameter }).into_iter().collect();
        Ok(SheetBlank { outline, holes, bends: Vec::new(), scribed: Vec::new() })
    }

    /// How far a tube's surface lies under its crown, at this distance from the plane of the axes; beside the tube, as
    /// far as its axis.
    fn under_crown(outside: Length, aside: f64) -> f64 {
        let radius = outside.mm() / 2.0;
        radius - (radius * radius - aside * aside).max(0.0).sqrt()
    }

    /// From the middle to both edges, at a height over the corner and a distance from the plane of the axes.
    fn edges(&self, height: f64, aside: f64) -> [f64; 2] {
        let (sine, cosine) = self.half().sin_cos();
        let [left, right] = self.outside.map(|outside| height * sine + Self::under_crown(outside, aside));
        [-left / cosine, right / cosine]
    }

    /// Bent sheet saddled over both tubes: a band over the long side, as wide inside as the wider tube, bent square at
    /// both sides into a wing that lies on the tubes' flanks and reaches to their axes. The band's outer face ends the
    /// legs; edges are where the inner face meets the tubes, so that square-cut sheet fits and leaves a groove for the
    /// weld. Laid flat, x runs along the long side and y across the band; the two holes are in the wings.
    pub fn saddle(&self, thickness: Length, hole: Option<Length>) -> Result<SheetBlank, GussetFault> {
        let (sine, cosine) = self.half().sin_cos();
        let thick = thickness.mm();
        let inside = thick * INSIDE_RADIUS;
        let half = self.outside.map(Length::mm).into_iter().fold(0.0, f64::max) / 2.0;
        let bend = self.saddle_bend(thickness).mm();
        // Heights over the corner: of the band's inner face, and where the wings begin.
        let band = self.height() - thick;
        let wing = band - inside;
        if half <= inside || wing <= 0.0 {
            return Err(GussetFault::TooSmall);
        }
        let mut run: Vec<(f64, [f64; 2])> = Vec::new();
        // Steps shrink toward the flank, where the surface falls away.
        let last = ((half - inside) / half).asin();
        for step in 0..=BAND {
            let aside = half * (last * f64::from(step) / f64::from(BAND)).sin();
            run.push((aside, self.edges(band, aside)));
        }
        for step in 1..=BEND {
            let share = f64::from(step) / f64::from(BEND);
            let (turned_sine, turned_cosine) = (share * FRAC_PI_2).sin_cos();
            let aside = half - inside + inside * turned_sine;
            run.push((half - inside + bend * share, self.edges(band - inside * (1.0 - turned_cosine), aside)));
        }
        // The wings' edges are the two axes; they meet at the node, and the corner there is cut back.
        let node = -(self.outside[0] + self.outside[1]).mm() / (4.0 * sine);
        let foot = node + Self::root((wing - node) / cosine) * cosine;
        let flat = half - inside + bend;
        run.push((flat + wing - foot, self.edges(foot, half)));
        let upper = run.iter().map(|(across, [_, right])| dvec2(*right, *across)).rev();
        let lower = run.iter().skip(1).map(|(across, [_, right])| dvec2(*right, -across));
        let right: Vec<DVec2> = upper.chain(lower).collect();
        let upper = run.iter().map(|(across, [left, _])| dvec2(*left, *across));
        let lower = run.iter().skip(1).map(|(across, [left, _])| dvec2(*left, -across)).rev();
        let outline = Polygon::new(right.into_iter().chain(lower).chain(upper).collect())?;
        // Half of the bend is turned at the middle of its allowance.
        let halfway = FRAC_PI_4.sin();
        let [left, right] = self.edges(band - inside * (1.0 - halfway), half - inside * (1.0 - halfway));
        let line = half - inside + bend / 2.0;
        let bends = [line, -line].map(|across| [dvec2(left, across), dvec2(right, across)]).to_vec();
        let middle = flat + self.inscribed(wing);
        let holes = hole
            .into_iter()
            .flat_map(|diameter| [middle, -middle].map(|across| Hole { centre: dvec2(0.0, across), diameter }));
        let [left, right] = self.edges(band, 0.0);
        let scribed = vec![vec![dvec2(left, 0.0), dvec2(right, 0.0)]];
        Ok(SheetBlank { outline, holes: holes.collect(), bends, scribed })
    }

    /// How far a saddle's wings stand off each tube's flanks, on both sides: they are as far apart as the wider tube is.
    pub fn wings_off(&self) -> [Length; 2] {
        let [one, other] = self.outside;
        let wider = if one < other { other } else { one };
        [(wider - one) / 2.0, (wider - other) / 2.0]
    }

    /// The flat length that each of a saddle's two square bends takes.
    pub fn saddle_bend(&self, thickness: Length) -> Length {
        let inside = thickness * INSIDE_RADIUS;
        bend_allowance(Angle::from_radians(FRAC_PI_2), inside, thickness, neutral_share(inside, thickness))
    }

    /// A tube of this diameter whose axis passes the two legs' ends.
    pub fn tube(&self, outside: Length) -> Result<TubeGusset, GussetFault> {
        let (sine, cosine) = self.half().sin_cos();
        let cut = |side: f64, carrier: Length| {
            Cope::of(&Meeting {
                carrier_direction: DVec3::new(side * sine, cosine, 0.0),
                branch_direction: DVec3::X * -side,
                offset: Length::default(),
                carrier_outside: carrier,
                branch_outside: outside,
            })
        };
        let [left, right] = self.outside;
        let reach = self.height() * sine * 2.0 + (left + right).mm() / 2.0;
        Ok(TubeGusset { between_axes: Length::from_mm(reach / cosine), copes: [cut(-1.0, left)?, cut(1.0, right)?] })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Area;

    const fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    fn seat(degrees: f64, one: f64, other: f64, leg: f64) -> GussetSeat {
        GussetSeat { between: Angle::from_degrees(degrees), outside: [mm(one), mm(other)], leg: mm(leg) }
    }

    /// The place in space of a point of a saddle's blank: bent back to the shape it takes, its inner face. The corner is
    /// the origin, z is aside.
    fn bent(seat: &GussetSeat, thick: f64, at: DVec2) -> DVec3 {
        let half = seat.outside[0].mm().max(seat.outside[1].mm()) / 2.0;
        let (height, bend) = (seat.leg.mm() * (seat.between.radians() / 2.0).cos(), seat.saddle_bend(mm(thick)).mm());
        let across = at.y.abs();
        let (aside, up) = if across <= half - thick {
            (across, height - thick)
        } else if across <= half - thick + bend {
            let turned = (across - half + thick) / bend * FRAC_PI_2;
            (half - thick + thick * turned.sin(), height - 2.0 * thick + thick * turned.cos())
        } else {
            (half, height - 2.0 * thick - (across - half + thick - bend))
        };
        DVec3::new(at.x, up, aside * at.y.signum())
    }

    /// Bent back, every point of the saddle's edge lies on the tube it is cut to; the wings end at the tubes' axes.
    #[test]
    fn a_saddles_edges_lie_on_both_tubes() {
        for seat in [seat(90.0, 40.0, 40.0, 100.0), seat(52.0, 44.45, 38.1, 90.0), seat(118.0, 38.1, 44.45, 110.0)] {
            let blank = seat.saddle(mm(1.5), None).unwrap();
            let (sine, cosine) = (seat.between.radians() / 2.0).sin_cos();
            let ways = [DVec3::new(-sine, cosine, 0.0), DVec3::new(sine, cosine, 0.0)];
            let sin_between = seat.between.radians().sin();
            let [one, other] = seat.outside.map(|outside| outside.mm() / 2.0);
            let node = -(ways[0] * other + ways[1] * one) / sin_between;
            let mut off_wings = [f64::INFINITY; 2];
            for at in blank.outline.corners() {
                let side = usize::from(at.x > node.x);
                let (place, radius) = (bent(&seat, 1.5, *at), seat.outside[side].mm() / 2.0);
                let from = place - node;
                let off = (from - ways[side] * from.dot(ways[side])).length();
                if place.z.abs() <= radius {
                    assert!((off - radius).abs() < 1e-6, "{at}: {off}");
                } else {
                    // Beside the thinner tube the wing ends at its axis, seen square to the plane of the axes.
                    assert!((off - place.z.abs()).abs() < 1e-6, "{at}: {off}");
                }
                // Where it is a wing, it is nowhere nearer to the tube's wall than is told.
                let wider = seat.outside[0].mm().max(seat.outside[1].mm()) / 2.0;
                if (place.z.abs() - wider).abs() < 1e-9 {
                    off_wings[side] = off_wings[side].min(off - radius);
                }
            }
            for (off, description) in off_wings.into_iter().zip(seat.wings_off()) {
                assert!((off - description.mm()).abs() < 1e-6, "{off}, not {}", description.mm());
            }
        }
    }

    /// The area by another way: the band by the closed form of its circular ends, the bends by the rule of the trapezium
    /// in fine steps, the wings as trapezia.
    #[test]
    fn a_saddles_area_by_a_second_method() {
        for (seat, thick) in [(seat(90.0, 40.0, 40.0, 100.0), 2.0), (seat(60.0, 44.45, 38.1, 90.0), 1.5)] {
            let (sine, cosine) = (seat.between.radians() / 2.0).sin_cos();
            let [one, other] = seat.outside.map(|outside| outside.mm() / 2.0);
            let half = one.max(other);
            let (height, flat) = (seat.leg.mm() * cosine, half - thick);
            // The integral of R - sqrt(R² - z²) over -flat..flat; beyond R it is R.
            let ends = |radius: f64| {
                let z = flat.min(radius);
                let under = z * (radius * radius - z * z).max(0.0).sqrt() + radius * radius * (z / radius).asin();
                2.0 * radius * flat - under
            };
            let band = 2.0 * flat * 2.0 * (height - thick) * sine / cosine + (ends(one) + ends(other)) / cosine;
            let bend = seat.saddle_bend(mm(thick)).mm();
            let wide = |turned: f64| {
                let (z, up) = (flat + thick * turned.sin(), height - 2.0 * thick + thick * turned.cos());
                let crown = |radius: f64| radius - (radius * radius - z * z).max(0.0).sqrt();
                (2.0 * up * sine + crown(one) + crown(other)) / cosine
            };
            let steps = 20_000_u32;
            let middles = (0..steps).map(|step| wide((f64::from(step) + 0.5) / f64::from(steps) * FRAC_PI_2));
            let bends = 2.0 * bend * middles.sum::<f64>() / f64::from(steps);
            let (wing, node) = (height - 2.0 * thick, (one + other) / (2.0 * sine));
            let whole = (wing + node).powi(2) * sine / cosine;
            let cut = ROOT.mm().powi(2) * sine * cosine;
            let want = band + bends + 2.0 * (whole - cut);
            let got = seat.saddle(mm(thick), None).unwrap().gross().mm2();
            assert!((got - want).abs() < want * 2e-4, "{got} is not {want}");
            let holed = seat.saddle(mm(thick), Some(mm(20.0))).unwrap();
            assert!((got - holed.net().mm2() - 200.0 * std::f64::consts::PI).abs() < 1e-6);
        }
    }

    /// By hand: a plate between 40 mm tubes at right angles, legs of 100 mm, 10 mm cut back: 5000 - 50 mm². Its circle
    /// inside has the radius 100 (2 - sqrt 2) / 2 = 29.29 mm: a hole of 20 mm leaves 19.29 mm.
    #[test]
    fn a_flat_plate_by_hand() {
        let blank = seat(90.0, 40.0, 40.0, 100.0).flat(Some(mm(20.0))).unwrap();
        assert!((blank.gross() - Area::from_mm2(4_950.0)).mm2().abs() < 1e-9);
        assert!((blank.round_holes().unwrap().mm() - 19.289_321_88).abs() < 1e-6);
        let large = seat(90.0, 40.0, 40.0, 100.0).flat(Some(mm(70.0))).unwrap();
        assert!(large.round_holes().unwrap() < Length::default());
    }

    /// A tube of 30 mm between 40 mm bars at right angles, legs 100 mm: it meets both at 45 degrees; from axis to axis
    /// 2 (100 sin 45 + 20 / cos 45) = 197.99 mm. At its crowns the cut is (20 -/+ 15 cos 45) / sin 45 from the axis.
    #[test]
    fn a_tube_by_hand() {
        let tube = seat(90.0, 40.0, 40.0, 100.0).tube(mm(30.0)).unwrap();
        assert!((tube.between_axes.mm() - 197.989_898_7).abs() < 1e-6, "{}", tube.between_axes.mm());
        for cope in &tube.copes {
            assert!((cope.angle().degrees() - 45.0).abs() < 1e-9);
            assert!((cope.short_point().mm() - 43.284_271_2).abs() < 1e-6, "{}", cope.short_point().mm());
        }
        assert!(seat(90.0, 40.0, 40.0, 100.0).tube(mm(44.0)).is_err());
    }

    #[test]
    fn sheet_too_thick_for_its_legs_is_refused() {
        assert_eq!(seat(90.0, 40.0, 40.0, 10.0).saddle(mm(5.0), None), Err(GussetFault::TooSmall));
    }
}
