//! Figures of the cage that a rule can ask for, worked out from the model.

use glam::DVec3;

use crate::domain::cage::parts::{Cage, End, Gusset, Joint, Member, Plate, Side};
use crate::domain::cage::record::CageRecord;
use crate::domain::cage::record::fittings::TubeRole;
use crate::domain::cage::record::measures::{Hand, TapeMeasure};
use crate::domain::measure::amounts::Amount;
use crate::domain::measure::figures::Figure;
use crate::domain::measure::measures::Measure;
use crate::domain::measure::tools::Tool;
use crate::domain::words::basis::{Basis, Diameter};
use crate::domain::words::ids::Balloon;
use crate::domain::words::roles::MemberRole;
use crate::geometry::angle;
use crate::quantity::{Angle, Length};

/// All figures that follow from the cage; what only a person can measure is not among them.
pub fn figures(cage: &Cage, record: &CageRecord) -> Vec<Figure> {
    let mut figures = Vec::new();
    for member in &cage.members {
        figures.extend(of_member(cage, record, member));
    }
    for plate in &cage.plates {
        figures.extend(of_plate(cage, plate));
    }
    for gusset in &cage.gussets {
        figures.extend(of_gusset(cage, gusset));
    }
    figures
}

/// A figure, and the path that led to it, in words.
type Reckoned<T> = (T, String);

/// The part that has figures: its number, its role, and the diameter that limits in diameters refer to.
type Part = (Balloon, Option<MemberRole>, Diameter);

/// A figure that follows from where the bars are.
fn drawn((of, role, diameter): Part, measure: Measure, (amount, path): Reckoned<Amount>) -> Figure {
    let (from, basis) = (format!("the model: {path}"), Basis::Drawn);
    Figure { measure, of, role, diameter, amount, from, basis, tool: None, spread: None }
}

/// A figure that somebody entered of the part itself.
fn entered(part: Part, measure: Measure, reckoned: Reckoned<Amount>) -> Figure {
    let from = format!("the cage's record: {}", reckoned.1);
    Figure { from, basis: Basis::Recorded, ..drawn(part, measure, reckoned) }
}

fn of_member(cage: &Cage, record: &CageRecord, member: &Member) -> Vec<Figure> {
    let bends = member.line.bends();
    let least = bends.iter().map(|bend| bend.radius).reduce(|one, other| if other < one { other } else { one });
    let most = bends.iter().map(|bend| bend.angle).reduce(|one, other| if other > one { other } else { one });
    let length = |(length, path): Reckoned<Length>| (Amount::Length(length), path);
    let angle = |(angle, path): Reckoned<Angle>| (Amount::Angle(angle), path);
    let bent = |which: &str| match bends.len() {
        1 => "its one bend".to_owned(),
        more => format!("the {which} of its {more} bends"),
    };
    let amounts = [
        (Measure::AngleToVertical, upright(member).map(angle)),
        (Measure::BendRadius, least.map(|least| length((least, bent("tightest"))))),
        (Measure::BendAngle, most.map(|most| angle((most, bent("largest"))))),
        (Measure::EndToFoot, of_its_pieces(cage, member, end_to_foot).map(length)),
        (Measure::EndToJoint, of_its_pieces(cage, member, end_to_joint).map(length)),
        (Measure::OverSill, over_sill(record, member).map(length)),
    ];
    let part = (member.balloon, Some(member.role), Diameter::Planned(member.tube.outside));
    let known = amounts.into_iter().filter_map(|(measure, reckoned)| Some(drawn(part, measure, reckoned?)));
    known.chain(opening(record, member)).collect()
}

/// The tape measurement that is the height of the opening a door bar is in; none of other bars.
pub fn opening_beside(member: &Member) -> Option<TapeMeasure> {
    let hand = match member.side {
        _ if member.role != MemberRole::DoorBar => return None,
        Side::Left => Hand::Left,
        Side::Right => Hand::Right,
        Side::Across => return None,
    };
    Some(TapeMeasure::DoorOpeningHeight(hand))
}

/// The height of its opening, of a door bar, as it was measured for the cage: who measured it once need not again.
fn opening(record: &CageRecord, member: &Member) -> Option<Figure> {
    let typed = record.taped(opening_beside(member)?).filter(|typed| typed.value.is_finite())?;
    let reckoned = (Amount::Length(typed.value), String::new());
    let part = (member.balloon, Some(member.role), Diameter::Planned(member.tube.outside));
    Some(Figure {
        from: format!("measuring for the cage: “{}”", typed.text),
        basis: Basis::Measured,
        tool: Some(Tool::tape_of(typed)),
        ..drawn(part, Measure::OpeningHeight, reckoned)
    })
}

/// The main hoop's plane, a lateral hoop's rear leg seen from the side, or a backstay, against the vertical.
fn upright(member: &Member) -> Option<Reckoned<Angle>> {
    let (first, last) = (*member.line.points().first()?, *member.line.points().last()?);
    let describe = |angle, path: &str| Some((angle, format!("{path}, against the vertical")));
    match member.role {
        MemberRole::Backstay => describe(angle::from_vertical(last - first), "the line from its foot to its upper end"),
        MemberRole::MainHoop => {
            let top = member.line.point_at(member.developed / 2.0).0;
            let normal = (last - first).cross(top - first);
            // A plane leans as far from upright as its normal from level.
            let lean = Angle::from_radians(normal.z.abs().atan2(normal.truncate().length()));
            describe(lean, "the plane through its two feet and the middle of its top")
        }
        MemberRole::LateralHoop => {
            let (up, down) = (member.line.direction_at_start(), member.line.direction_at_end());
            let leg = if first.x < last.x { up } else { down };
            describe(Angle::from_radians(leg.x.abs().atan2(leg.z.abs())), "its rear leg seen from the side")
        }
        _ => None,
    }
}

/// A figure of a bar's end; where a bar that crosses another is in pieces, the one that has that end has it for both.
fn of_its_pieces<T>(cage: &Cage, member: &Member, of: fn(&Cage, &Member) -> Option<T>) -> Option<T> {
    let whole = |key: &str| {
        let (stem, piece) = key.rsplit_once('/')?;
        piece.parse::<u32>().is_ok().then(|| stem.to_owned())
    };
    of(cage, member).or_else(|| {
        let own = whole(&member.key)?;
        let pieces = cage.members.iter().filter(|other| whole(&other.key).as_ref() == Some(&own));
        pieces.filter(|other| other.role == member.role).find_map(|other| of(cage, other))
    })
}

/// The end of a bar that is lower, or higher, and where it lands.
fn landing(member: &Member, lower: bool) -> Option<(&End, DVec3)> {
    let (first, last) = (*member.line.points().first()?, *member.line.points().last()?);
    let [start, end] = &member.ends;
    Some(if (first.z < last.z) == lower { (start, first) } else { (end, last) })
}

/// The piece of the same bar that a crossing cut off: the bar's far end is that piece's.
fn other_piece<'a>(cage: &'a Cage, member: &Member, end: &End) -> Option<&'a Member> {
    let End::Onto { carrier, .. } = end else { return None };
    let crossing = cage.member(*carrier).filter(|carrier| carrier.role == member.role)?;
    let (bar, piece) = member.key.rsplit_once('/')?;
    let other = match piece {
        "1" => "2",
        "2" => "1",
        _ => return None,
    };
    cage.member_called(&format!("{bar}/{other}")).filter(|other| other.balloon != crossing.balloon)
}

fn end_to_foot(cage: &Cage, member: &Member) -> Option<Reckoned<Length>> {
    let asked = [MemberRole::HoopDiagonal, MemberRole::BackstayDiagonal, MemberRole::PillarStrut];
    let member = landing(member, true).and_then(|(end, _)| other_piece(cage, member, end)).unwrap_or(member);
    let (End::Onto { carrier, along, .. }, _) = landing(member, true).filter(|_| asked.contains(&member.role))? else {
        return None;
    };
    let carrier = cage.member(*carrier)?;
    let [start, end] = &carrier.ends;
    let on_plate = |(end, far): (&End, Length)| match end {
        End::OnPlate(plate) => Some((far, plate.to_string())),
        _ => None,
    };
    let feet = [(start, *along), (end, carrier.developed - *along)].into_iter().filter_map(on_plate);
    let (far, plate) = nearest(feet)?;
    Some((far, format!("along {} from where {} lands on it to its foot on {plate}", carrier.balloon, member.balloon)))
}

/// From the upper end, or of a roof diagonal from the worse end, to the nearest junction of the basic structure on the same
/// carrier.
fn end_to_joint(cage: &Cage, member: &Member) -> Option<Reckoned<Length>> {
    match member.role {
        MemberRole::HoopDiagonal | MemberRole::BackstayDiagonal | MemberRole::PillarStrut => {
            let (end, _) = landing(member, false)?;
            let own =
                other_piece(cage, member, end).and_then(|piece| landing(piece, false)).map_or(end, |other| other.0);
            junction_distance(cage, own)
        }
        MemberRole::RoofDiagonal => {
            let ends = (0..).zip(&member.ends).filter(|(end, _)| !tip(cage, member, *end));
            let ends = ends.filter_map(|(_, end)| junction_distance(cage, end));
            ends.reduce(|one, other| if other.0 > one.0 { other } else { one })
        }
        _ => None,
    }
}

/// True where two roof diagonals end side by side: the tip of a V, which stands by itself.
fn tip(cage: &Cage, member: &Member, end: usize) -> bool {
    let here = |joint: &&Joint| joint.incoming.contains(&(member.balloon, end));
    let other = |incoming: &(Balloon, usize)| {
        incoming.0 != member.balloon
            && cage.member(incoming.0).is_some_and(|incoming| incoming.role == MemberRole::RoofDiagonal)
    };
    cage.joints.iter().find(here).is_some_and(|joint| joint.incoming.iter().any(other))
}

fn junction_distance(cage: &Cage, end: &End) -> Option<Reckoned<Length>> {
    let End::Onto { carrier, along, .. } = end else { return None };
    let carrier = cage.member(*carrier).filter(|carrier| TubeRole::of(carrier.role) == TubeRole::Hoop)?;
    let basic = |joint: &&Joint| {
        let is_basic = |end: &(Balloon, usize)| {
            cage.member(end.0).is_some_and(|incoming| TubeRole::of(incoming.role) == TubeRole::Hoop)
        };
        joint.carrier == carrier.balloon && joint.incoming.iter().any(is_basic)
    };
    let joints = cage.joints.iter().filter(basic);
    let joints = joints.map(|joint| ((joint.along - *along).abs(), joint.balloon.to_string()));
    let ends = carrier.ends.iter().zip([Length::default(), carrier.developed]);
    let onto = |(end, at): (&End, Length)| match end {
        End::Onto { carrier, .. } => Some(((at - *along).abs(), format!("its own end on {carrier}"))),
        _ => None,
    };
    let (far, junction) = nearest(joints.chain(ends.filter_map(onto)))?;
    Some((far, format!("along {} from where it lands to the nearest junction, {junction}", carrier.balloon)))
}

fn nearest(reckoned: impl Iterator<Item = Reckoned<Length>>) -> Option<Reckoned<Length>> {
    reckoned.reduce(|one, other| if other.0 < one.0 { other } else { one })
}

/// The higher end's top over the sill of its side.
fn over_sill(record: &CageRecord, member: &Member) -> Option<Reckoned<Length>> {
    let hand = match (member.role, member.side) {
        (MemberRole::SillBar, Side::Left) => Hand::Left,
        (MemberRole::SillBar, Side::Right) => Hand::Right,
        _ => return None,
    };
    let sill = record.measure(TapeMeasure::SillHeight(hand))?;
    let top = member.line.points().iter().map(|point| point.z).fold(f64::NEG_INFINITY, f64::max);
    let path = format!("the top of its higher end less the height of the {} sill", hand.word());
    Some((Length::from_mm(top) + member.tube.outside / 2.0 - sill, path))
}

fn of_plate(cage: &Cage, plate: &Plate) -> Vec<Figure> {
    let carrier = cage.member(plate.under);
    let diameter = carrier.map_or(Diameter::None, |member| Diameter::Planned(member.tube.outside));
    let role = carrier.map(|member| member.role);
    let (one, other) = (plate.sides.0.value, plate.sides.1.value);
    let (short, long) = if one < other { (one, other) } else { (other, one) };
    let amounts = [
        (Measure::PlateArea, Amount::Area(plate.area)),
        (Measure::PlateShortSide, Amount::Length(short)),
        (Measure::PlateLongSide, Amount::Length(long)),
        (Measure::PlateThickness, Amount::Length(plate.thickness.value)),
    ];
    let path = format!("{} by {} by {}", plate.sides.0.text, plate.sides.1.text, plate.thickness.text);
    let part = (plate.balloon, role, diameter);
    amounts.into_iter().map(|(measure, amount)| entered(part, measure, (amount, path.clone()))).collect()
}

fn of_gusset(cage: &Cage, gusset: &Gusset) -> Vec<Figure> {
    let bars: Vec<&Member> =
        [gusset.between.0, gusset.between.1].into_iter().filter_map(|balloon| cage.member(balloon)).collect();
    let wide = bars.iter().map(|bar| Diameter::Planned(bar.tube.outside)).reduce(Diameter::larger);
    // A gusset belongs to the bracing it supports, where one of its bars is bracing.
    let role = bars.iter().map(|bar| bar.role).max_by_key(|role| TubeRole::of(*role) == TubeRole::Other);
    let mut amounts = vec![(Measure::GussetLeg, gusset.leg), (Measure::GussetThickness, gusset.thickness)];
    amounts.extend(gusset.hole.across().map(|hole| (Measure::GussetHole, hole)));
    let path =
        format!("{}, a {}, between {} and {}", gusset.balloon, gusset.kind.word(), gusset.between.0, gusset.between.1);
    let part = (gusset.balloon, role, wide.unwrap_or_default());
    let of = |(measure, length)| entered(part, measure, (Amount::Length(length), path.clone()));
    amounts.into_iter().map(of).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::record::basic_structure::BasicStructure;
    use crate::domain::cage::record::example::{TUBES, example_on, example_record};
    use crate::domain::cage::solve;

    fn check(measure: Measure, key: &str, want: Amount) {
        check_on(&example_record(), measure, key, want);
    }

    fn check_on(record: &CageRecord, measure: Measure, key: &str, want: Amount) {
        let cage = solve(record, &TUBES);
        let of = *record.numbers.get(key).unwrap();
        let figures = figures(&cage, record);
        let found = figures.iter().find(|figure| figure.measure == measure && figure.of == of).unwrap();
        match (found.amount, want) {
            (Amount::Angle(got), Amount::Angle(want)) => assert!((got - want).abs() < Angle::from_degrees(0.001)),
            (got, want) => assert_eq!(got, want, "{} of {key}", measure.word()),
        }
    }

    /// The same places on the other structures: bracing lands so far over the plates and beside the corners whatever
    /// carries it; a lateral hoop's rear leg leans as the main hoop would.
    #[test]
    fn figures_by_hand_on_the_other_structures() {
        let inches = |value: f64| Amount::Length(Length::from_inches(value));
        let both = [BasicStructure::FrontHoop, BasicStructure::LateralHoops].map(example_on);
        for record in &both {
            check_on(record, Measure::EndToFoot, "hoop-diagonal/left", inches(2.0));
            check_on(record, Measure::EndToFoot, "pillar-strut/right", inches(2.0));
            check_on(record, Measure::EndToJoint, "hoop-diagonal/left", inches(0.0));
            check_on(record, Measure::EndToJoint, "pillar-strut/left", inches(3.25));
            check_on(record, Measure::EndToJoint, "roof-diagonal/right", inches(3.25));
            check_on(record, Measure::PlateShortSide, "plate/front/left", inches(3.5));
        }
        let [front, lateral] = &both;
        let lean = Amount::Angle(Angle::from_degrees(1.969_28));
        check_on(front, Measure::AngleToVertical, "main-hoop", lean);
        check_on(lateral, Measure::AngleToVertical, "lateral-hoop/right", lean);
    }

    /// From the example's tape measurements, by hand.
    #[test]
    fn figures_by_hand() {
        let inches = |value: f64| Amount::Length(Length::from_inches(value));
        // The hoop's top is 1 1/2 in behind its feet, 43 5/8 in up.
        check(Measure::AngleToVertical, "main-hoop", Amount::Angle(Angle::from_degrees(1.969_28)));
        check(Measure::BendRadius, "half-hoop/left", inches(4.5));
        check(Measure::EndToFoot, "hoop-diagonal/left", inches(2.0));
        // Cut where it crosses the other: both pieces are one bar with one foot.
        check(Measure::EndToFoot, "hoop-diagonal/right/1", inches(2.0));
        check(Measure::EndToFoot, "hoop-diagonal/right/2", inches(2.0));
        check(Measure::EndToFoot, "pillar-strut/right", inches(2.0));
        // The right diagonal is cut at the crossing; each piece answers for the whole bar.
        check(Measure::EndToFoot, "hoop-diagonal/right/1", inches(2.0));
        check(Measure::EndToFoot, "hoop-diagonal/right/2", inches(2.0));
        check(Measure::EndToJoint, "hoop-diagonal/right/1", inches(0.0));
        check(Measure::EndToJoint, "hoop-diagonal/right/2", inches(0.0));
        check(Measure::EndToJoint, "hoop-diagonal/left", inches(0.0));
        check(Measure::EndToJoint, "pillar-strut/left", inches(3.25));
        check(Measure::EndToJoint, "roof-diagonal/right", inches(3.25));
        check(Measure::OverSill, "sill-bar/left", inches(3.0));
        check(Measure::PlateShortSide, "plate/front/left", inches(3.5));
        check(
            Measure::PlateArea,
            "plate/backstay/right",
            Amount::Area(crate::quantity::Area::from_square_inches(16.625)),
        );
    }

    /// Every figure says what it was worked out from, by the numbers that stand in the drawing.
    #[test]
    fn a_figure_names_the_path_that_led_to_it() {
        let record = example_record();
        let cage = solve(&record, &TUBES);
        let number = |key: &str| record.numbers.get(key).unwrap().to_string();
        let path = |measure: Measure, key: &str| {
            let of = *record.numbers.get(key).unwrap();
            let figures = figures(&cage, &record);
            figures.into_iter().find(|figure| figure.measure == measure && figure.of == of).unwrap().from
        };
        // A hoop diagonal runs from its own side's corner to the other side's foot.
        let (hoop, diagonal, plate) =
            (number("main-hoop"), number("hoop-diagonal/left"), number("plate/main_hoop/right"));
        let foot = path(Measure::EndToFoot, "hoop-diagonal/left");
        assert_eq!(foot, format!("the model: along {hoop} from where {diagonal} lands on it to its foot on {plate}"));
        let radius = path(Measure::BendRadius, "main-hoop");
        assert_eq!(radius, "the model: the tightest of its 4 bends");
        assert!(path(Measure::EndToJoint, "pillar-strut/left").contains("to the nearest junction, "));
        assert_eq!(path(Measure::PlateArea, "plate/front/left"), "the cage's record: 4 3/4 in by 3 1/2 in by 3/16 in");
        assert!(path(Measure::OverSill, "sill-bar/left").ends_with("less the height of the left sill"));
    }
}
