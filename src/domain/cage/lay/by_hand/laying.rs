//! Bars added by hand on their way into the cage: each end's place found, and moved beside its carrier.

use glam::DVec3;

use super::station::Carrier;
use crate::domain::cage::lay::bracing::straight_through;
use crate::domain::cage::lay::draft::{Draft, Label, Place, Placed};
use crate::domain::cage::parts::Side;
use crate::domain::cage::record::by_hand::Stand;
use crate::domain::cage::record::key_words::words;
use crate::quantity::Length;

/// In a corner the axes of both carriers pass this near to one point (own choice).
const ONE_POINT: Length = Length::from_mm(1.0);
/// Each end's offset turns the bar a little, and that the other end's offset: after so many rounds nothing moves.
const ROUNDS: usize = 12;

/// Adds every bar that was added by hand, in the order they were added.
pub(in crate::domain::cage) fn lay(draft: &mut Draft<'_>) {
    for bar in &draft.record.hand_bars {
        let [first, last] = places(draft, &bar.ends);
        let middle = match (&first, &last) {
            (Ok(first), Ok(last)) => Side::at((first.point + last.point) / 2.0),
            _ => Side::Across,
        };
        let label = Label::new(bar.key(), bar.role, middle);
        if bar.cut_at_crossings {
            straight_through(draft, &label, first, last);
        } else {
            draft.straight(label, first, last);
        }
    }
}

/// Both ends' places, moved beside their carriers where an offset is given.
fn places(draft: &Draft<'_>, ends: &[Stand; 2]) -> [Placed; 2] {
    let on_axis = ends.each_ref().map(|stand| place(draft, stand));
    let [Ok(first), Ok(last)] = &on_axis else { return on_axis };
    let [at_first, at_last] = ends;
    let (mut one, mut other) = (first.clone(), last.clone());
    for _ in 0..ROUNDS {
        let way = other.point - one.point;
        one = beside(draft, at_first, first, way);
        other = beside(draft, at_last, last, -way);
    }
    [Ok(one), Ok(other)]
}

/// A place on its carrier's axis, moved beside it by the offset; `way` leads into the bar.
fn beside(draft: &Draft<'_>, stand: &Stand, on_axis: &Place, way: DVec3) -> Place {
    let (Some(offset), Some(carrier)) = (&stand.offset, draft.bar(&stand.on)) else { return on_axis.clone() };
    let along = carrier.line.point_at(on_axis.along).1;
    let positive = along.cross(way).normalize_or_zero();
    let up = if positive.z.abs() > 1e-6 { positive.z } else { positive.x };
    let signed = offset.value * if up < 0.0 { -1.0 } else { 1.0 };
    Place { point: on_axis.point + positive * signed.mm(), offset: signed, ..on_axis.clone() }
}

/// The place on the carrier's axis.
fn place(draft: &Draft<'_>, stand: &Stand) -> Placed {
    let carrier = draft.carrier(&stand.on)?;
    let on = Carrier::laid(&stand.on, &carrier.line, &carrier.ends);
    let along = stand.at.along(&on, |key| draft.carrier(key).map(|other| &other.line))?;
    let place = draft.place(&stand.on, along)?;
    match &stand.corner_with {
        None => Ok(place),
        Some(other) => {
            let (_, _, off) = draft.carrier(other)?.line.nearest(place.point);
            if off > ONE_POINT {
                let other = words(other);
                let off = off.in_both();
                return Err(format!("The {other} passes this place by {off}; in a corner both axes meet."));
            }
            Ok(Place { corner_with: Some(other.clone()), ..place })
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::record::by_hand::{At, Axis, HandBar, next_number};
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::record::fittings::Toward;
    use crate::domain::cage::solve;
    use crate::domain::cage::{Cage, CageRecord, End, Member};
    use crate::domain::words::roles::MemberRole;
    use crate::quantity::{Angle, Typed};

    fn inches(value: f64) -> Typed<Length> {
        Typed::of(Length::from_inches(value), format!("{value} in"))
    }

    fn with(ends: [Stand; 2]) -> (CageRecord, Cage) {
        let mut record = example_record();
        let number = next_number(&record.hand_bars, record.numbers.keys());
        let name = "engine stay".to_owned();
        record.hand_bars.push(HandBar { number, name, role: MemberRole::OtherBar, ends, cut_at_crossings: false });
        let record = record.numbered_for(&TUBES);
        let cage = solve(&record, &TUBES);
        (record, cage)
    }

    /// The bar from the middle of the left backstay to a place on the main hoop, and the place.
    fn to_the_hoop(at: At) -> (Cage, Member, DVec3) {
        let (_, cage) = with([Stand::new("backstay/left", At::Middle), Stand::new("main-hoop", at)]);
        let bar = cage.member_called("by-hand/1").unwrap().clone();
        let end = *bar.line.points().last().unwrap();
        (cage, bar, end)
    }

    fn refused(ends: [Stand; 2]) -> String {
        let (record, cage) = with(ends);
        let balloon = record.numbers.get("by-hand/1").unwrap().to_string();
        cage.faults.into_iter().find(|fault| fault.at == balloon).unwrap().why
    }

    /// By the example's tape measurements: the left plate is 1/4 in up, the roof corner 43 5/8 in up and 19 3/8 in out.
    #[test]
    fn each_way_of_measuring_finds_its_place() {
        let up = |at: At| Length::from_mm(to_the_hoop(at).2.z);
        let near = |got: Length, inches: f64| {
            assert!((got - Length::from_inches(inches)).abs() < Length::from_mm(0.01), "{} in", got.inches());
        };
        near(up(At::OverPlate { end: Toward::Start, by: inches(10.0) }), 10.25);
        near(up(At::OverPlate { end: Toward::End, by: inches(10.0) }), 10.375);
        near(up(At::Passing { axis: Axis::Up, at: inches(30.0), from: Toward::Start }), 30.0);
        let out = |at: At| Length::from_mm(to_the_hoop(at).2.y);
        near(out(At::Passing { axis: Axis::Left, at: inches(5.0), from: Toward::End }), 5.0);
        assert!(out(At::Passing { axis: Axis::Up, at: inches(30.0), from: Toward::End }) < Length::default());
        assert!(out(At::Middle).abs() < Length::from_inches(0.125), "the floor is not even");
        let (cage, _, end) = to_the_hoop(At::FromEnd { end: Toward::End, by: inches(4.0) });
        let hoop = cage.member_called("main-hoop").unwrap();
        near(hoop.developed - hoop.line.nearest(end).0, 4.0);
        // The left backstay lands on the middle of the hoop's upper left bend, the second from its first point.
        let (cage, _, at_bend) = to_the_hoop(At::Bend { bend: 2, past: None });
        let stay = cage.member_called("backstay/left").unwrap();
        assert!(at_bend.distance(stay.line.points()[0]) < 0.01);
        let (_, _, past) = to_the_hoop(At::Bend { bend: 2, past: Some(inches(3.0)) });
        assert!((past.distance(at_bend) - 76.2).abs() < 3.0 && past.y < at_bend.y);
        let (_, _, meets) = to_the_hoop(At::Meets { bar: "half-hoop/left".to_owned(), from: None });
        assert!(meets.distance(at_bend) < 0.01);
    }

    /// A bar into the corner of main hoop and half hoop is cut to both, and round what is fitted there before it: its
    /// cut lies on one of them, and beyond it none is in the way.
    #[test]
    fn an_end_in_a_corner_is_coped_over_both() {
        let corner = Stand {
            corner_with: Some("half-hoop/left".to_owned()),
            ..Stand::new("main-hoop", At::Meets { bar: "half-hoop/left".to_owned(), from: None })
        };
        let low = Stand::new("half-hoop/left", At::OverPlate { end: Toward::End, by: inches(4.0) });
        let (_, cage) = with([corner, low]);
        let bar = cage.member_called("by-hand/1").unwrap();
        assert!(matches!(bar.ends[0], End::Onto { carrier, .. } if carrier.to_string() == "M1"));
        assert!(bar.round[0].iter().any(|round| round.to_string() == "M2"), "{:?}", bar.round);
        let (cope, into) = (bar.copes[0].as_ref().unwrap(), bar.line.into_bar(0));
        let fitted = |other: &&Member| other.key == "main-hoop" || bar.round[0].contains(&other.balloon);
        let all: Vec<&Member> = cage.members.iter().filter(fitted).collect();
        for step in 0..72 {
            let phi = Angle::from_degrees(5.0 * f64::from(step));
            let (sine, cosine) = phi.radians().sin_cos();
            let zero = cope.place_zero();
            let wall = bar.line.points()[0] + (zero * cosine + zero.cross(into) * sine) * bar.tube.outside.mm() / 2.0;
            let off = |along: f64| {
                let at = wall + into * along;
                let offs = all.iter().map(|other| (other.line.nearest(at).2 - other.tube.outside / 2.0).mm());
                offs.fold(f64::INFINITY, f64::min)
            };
            let cut = cope.cut_at(phi).mm();
            assert!(off(cut).abs() < 1e-5, "{} at {phi:?}", off(cut));
            assert!((1..150).all(|more| off(cut + f64::from(more)) > -1e-5), "{phi:?}");
        }
    }

    /// Beside its carrier the bar's axis passes it at the offset, on the upper side.
    #[test]
    fn an_offset_end_passes_its_carrier_at_the_offset() {
        let beside = Stand { offset: Some(inches(0.25)), ..Stand::new("main-hoop", At::Middle) };
        let (_, cage) = with([Stand::new("header", At::Middle), beside]);
        let bar = cage.member_called("by-hand/1").unwrap();
        let hoop = cage.member_called("main-hoop").unwrap();
        let (place, along) = hoop.line.point_at(hoop.developed / 2.0);
        let [from, to] = [bar.line.points()[0], bar.line.points()[1]];
        let apart = (place - from).dot((to - from).cross(along).normalize()).abs();
        assert!((apart - 6.35).abs() < 1e-6, "a quarter of an inch between the two axes, not {apart} mm");
        assert!(to.z > place.z);
        // The rule of the cope: overhanging its carrier it is no cope.
        let far = Stand { offset: Some(inches(1.0)), ..Stand::new("main-hoop", At::Middle) };
        let why = refused([Stand::new("header", At::FromEnd { end: Toward::Start, by: inches(9.0) }), far]);
        assert!(why.contains("overhangs"), "{why}");
    }

    #[test]
    fn what_cannot_be_laid_out_says_why_by_its_number() {
        let hoop = |at: At| Stand::new("main-hoop", at);
        let stay = || Stand::new("backstay/left", At::Middle);
        let high = At::OverPlate { end: Toward::Start, by: inches(90.0) };
        assert!(refused([stay(), hoop(high)]).contains("does not reach"));
        assert!(refused([stay(), hoop(At::Bend { bend: 9, past: None })]).contains("no such bend"));
        assert!(refused([stay(), hoop(At::Bend { bend: 0, past: None })]).contains("no such bend"));
        let off = At::FromEnd { end: Toward::Start, by: inches(300.0) };
        assert!(refused([stay(), hoop(off)]).contains("off the end"));
        let plate = At::OverPlate { end: Toward::Start, by: inches(4.0) };
        assert!(refused([hoop(At::Middle), Stand::new("backstay/left", plate)]).contains("not stand on a plate"));
        assert!(refused([stay(), Stand::new("no-bar", At::Middle)]).contains("cannot be laid out yet"));
        let corner = Stand { corner_with: Some("header".to_owned()), ..hoop(At::Middle) };
        assert!(refused([stay(), corner]).contains("in a corner both axes meet"));
        assert!(refused([stay(), stay()]).contains("too short"));
    }

    /// Cut at crossings, a bar is pieces that end on what stands in its way.
    #[test]
    fn a_bar_cut_at_crossings_is_pieces() {
        let (mut record, _) = with([
            Stand::new("main-hoop", At::Passing { axis: Axis::Up, at: inches(13.0), from: Toward::Start }),
            Stand::new("main-hoop", At::Passing { axis: Axis::Up, at: inches(13.0), from: Toward::End }),
        ]);
        assert!(solve(&record, &TUBES).faults.iter().any(|fault| fault.why.contains("runs into")));
        record.hand_bars[0].cut_at_crossings = true;
        let cage = solve(&record.numbered_for(&TUBES), &TUBES);
        assert_eq!(cage.faults, []);
        let pieces = cage.members.iter().filter(|member| member.key.starts_with("by-hand/1/")).count();
        assert!(pieces >= 2, "{pieces}");
    }

    #[test]
    fn a_number_is_given_once() {
        let (mut record, _) = with([Stand::new("header", At::Middle), Stand::new("main-hoop", At::Middle)]);
        record.hand_bars.clear();
        assert_eq!(next_number(&record.hand_bars, record.numbers.keys()), 2);
        let json = serde_json::to_string(&record).unwrap();
        assert_eq!(serde_json::from_str::<CageRecord>(&json).unwrap(), record);
    }
}
