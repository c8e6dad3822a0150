//! What an end is cut with: a hole saw makes one shape, and only where that is the cut may the sheet name one.

use crate::domain::cage::{End, Member};
use crate::geometry::Cope;
use crate::quantity::{Angle, Length, Show as _, Units};

/// A notcher's saw tilts no further than 60 degrees from square: flatter than this to the carrier it does not come
/// (*common practice*; the maker's own figure comes first).
pub const FLATTEST: Angle = Angle::from_degrees(30.0);
/// An offset up to this is none (own choice).
const OFFSET: Length = Length::from_mm(0.05);

/// What makes the cut.
#[derive(Debug, Clone, PartialEq)]
pub enum Tool {
    /// A flat saw cut, to a plate.
    Flat,
    /// A hole saw of this diameter, the carrier's: one straight carrier, met middle to middle.
    HoleSaw(Length),
    /// The template alone: why no hole saw makes it.
    Template(Vec<NoSaw>),
}

/// Why no hole saw makes a cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NoSaw {
    /// The carrier bends where it is met; a saw cuts straight through.
    OnBend,
    /// It is cut to several bars; a saw cuts to one.
    Several,
    /// The tubes' axes pass each other; a saw guided by the tube's middle cuts on the axis.
    Offset(Length),
    /// The tubes meet at so flat an angle that the saw does not come round.
    Flat(Angle),
    /// The tube is thicker than the saw that its carrier asks for.
    Wider,
}

impl NoSaw {
    /// Why, in words.
    pub fn why(&self, units: Units) -> String {
        match self {
            Self::OnBend => "the carrier bends here".to_owned(),
            Self::Several => "it is cut to more than one bar".to_owned(),
            Self::Offset(offset) => format!("the axes pass at {}", offset.abs().show(units)),
            Self::Flat(angle) => {
                let (got, least) = (angle.degrees(), FLATTEST.degrees());
                format!("{got:.1}° is flatter than the {least:.0}° that a saw comes to (common practice)")
            }
            Self::Wider => "the tube is thicker than its carrier".to_owned(),
        }
    }
}

impl Tool {
    /// What cuts this end of a bar, of which the carrier has this outside diameter.
    pub fn of(member: &Member, end: End, cope: &Cope, carrier: Option<Length>) -> Self {
        let (End::Onto { offset, .. }, Some(saw)) = (end, carrier) else { return Self::Flat };
        let reasons = [
            cope.on_bend().then_some(NoSaw::OnBend),
            cope.several().then_some(NoSaw::Several),
            (offset.abs() > OFFSET).then_some(NoSaw::Offset(offset)),
            (cope.angle() < FLATTEST).then_some(NoSaw::Flat(cope.angle())),
            (member.tube.outside > saw).then_some(NoSaw::Wider),
        ];
        let reasons: Vec<NoSaw> = reasons.into_iter().flatten().collect();
        if reasons.is_empty() { Self::HoleSaw(saw) } else { Self::Template(reasons) }
    }

    /// The hole saw's diameter; none where no hole saw makes the cut.
    pub fn hole_saw(&self) -> Option<Length> {
        match self {
            Self::HoleSaw(saw) => Some(*saw),
            Self::Flat | Self::Template(_) => None,
        }
    }

    /// What to cut with, in words that follow the angle's.
    pub fn describe(&self, tilt: Angle, units: Units) -> String {
        let tilt = tilt.degrees();
        match self {
            Self::Flat => format!("flat cut, tilted {tilt:.1}° from square"),
            Self::HoleSaw(saw) => format!("hole saw {}, tilted {tilt:.1}° from square", saw.show(units)),
            Self::Template(reasons) => {
                let why: Vec<String> = reasons.iter().map(|reason| reason.why(units)).collect();
                format!("cut by the template; no hole saw makes it: {}", why.join(", "))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::solve;

    /// A hole saw of the carrier's diameter is a cylinder: where the sheet names one the true cut is nowhere off the closed
    /// form's cut to such a cylinder (s = (sqrt(R² - r² sin²) + r cos cos) / sin, by hand); where it names none it is off,
    /// or the saw does not come there.
    #[test]
    fn a_hole_saw_is_named_only_where_it_makes_the_cut() {
        let cage = solve(&example_record(), &TUBES);
        let (mut sawn, mut by_template) = (0, Vec::new());
        for member in &cage.members {
            for (end, cope) in member.ends.iter().zip(&member.copes) {
                let (Some(cope), End::Onto { carrier, .. }) = (cope, end) else { continue };
                let carrier = cage.member(*carrier).unwrap();
                let tool = Tool::of(member, *end, cope, Some(carrier.tube.outside));
                let (saw, reach) = (carrier.tube.outside.mm() / 2.0, member.tube.outside.mm() / 2.0);
                let off = (0..360).map(|step| {
                    let phi = Angle::from_degrees(f64::from(step));
                    let (sine, cosine) = phi.radians().sin_cos();
                    let root = (saw * saw - (reach * sine).powi(2)).max(0.0).sqrt();
                    let by = |angle: f64| (root + reach * cosine * angle.cos()) / angle.sin();
                    let angle = cope.angle().radians();
                    // The carrier's line may be taken either way.
                    let cut = cope.cut_at(phi).mm();
                    [cut - by(angle), cut - by(std::f64::consts::PI - angle)]
                });
                let off =
                    off.fold([0.0_f64; 2], |[one, other], [now, then]| [one.max(now.abs()), other.max(then.abs())]);
                let off = off[0].min(off[1]);
                match tool {
                    Tool::Flat => panic!("{} stands on a bar", member.balloon),
                    Tool::HoleSaw(named) => {
                        assert!(named == carrier.tube.outside && off < 1e-4, "{}: {off}", member.balloon);
                        sawn += 1;
                    }
                    Tool::Template(reasons) => {
                        let saw_is_short = reasons.iter().any(|reason| matches!(reason, NoSaw::Flat(_)));
                        assert!(saw_is_short || off > 0.01, "{}: {reasons:?}, {off}", member.balloon);
                        by_template.push(reasons);
                    }
                }
            }
        }
        assert!(sawn > 20 && by_template.len() > 8, "{sawn} {by_template:?}");
        assert!(by_template.iter().flatten().any(|why| *why == NoSaw::OnBend));
        assert!(by_template.iter().flatten().any(|why| *why == NoSaw::Several));
        assert!(by_template.iter().flatten().any(|why| matches!(why, NoSaw::Flat(_))));
    }
}
