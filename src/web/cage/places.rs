//! Where on a bar: what there is to choose from, and what was chosen and typed.

use crate::domain::cage::record::by_hand::{At, Axis};
use crate::domain::cage::{End, Joint, Member, Toward};
use crate::domain::derived::findings::Findings;
use crate::domain::words::ids::Balloon;
use crate::quantity::{Length, Units};
use crate::web::form::Form;

/// Every way to say where on a bar, each with where that is; `except` is a bar that it cannot be told by.
pub(super) fn places(found: &Findings, bar: &Member, except: Option<Balloon>, units: Units) -> Vec<(String, String)> {
    let describe = |along: Length| {
        let at = bar.line.point_at(along).0;
        let up = Length::from_mm(at.z).by_tape(units);
        let out = Length::from_mm(at.y.abs()).by_tape(units);
        let side = if at.y < 0.0 { "right" } else { "left" };
        format!("{up} up, {out} {side} of the centre")
    };
    let mut lines = vec![("middle".to_owned(), format!("its middle ({})", describe(bar.developed / 2.0)))];
    for (number, bend) in (1..).zip(bar.line.bends()) {
        let middle = bend.start + bend.arc() / 2.0;
        lines.push((format!("bend {number}"), format!("bend {number}, or so far past it ({})", describe(middle))));
    }
    for (toward, end, place) in [("start", &bar.ends[0], Length::default()), ("end", &bar.ends[1], bar.developed)] {
        let description = describe(place);
        if matches!(end, End::OnPlate(_)) {
            lines.push((format!("plate {toward}"), format!("so high over its plate ({description})")));
        }
        lines.push((format!("along {toward}"), format!("so far along it from its end ({description})")));
        for (way, words) in [("up", "so high over the floor"), ("out", "so far left"), ("forward", "so far forward")] {
            lines.push((format!("{way} {toward}"), format!("{words}, seen from its end ({description})")));
        }
    }
    let met = meetings(found, bar, except);
    for (member, joint, along) in &met {
        let same = || met.iter().filter(|other| other.0.balloon == member.balloon);
        // Where two bars meet at several places, the first and the last from this bar's first point are told apart.
        let way = match (same().count(), same().all(|other| other.2 >= *along), same().all(|other| other.2 <= *along)) {
            (1, ..) => "meets",
            (_, true, _) => "first",
            (_, _, true) => "last",
            _ => continue,
        };
        let words = format!(
            "where {} {} meets it, {} ({})",
            member.balloon,
            member.role.word(),
            joint.balloon,
            describe(*along)
        );
        lines.push((format!("{way} {}", member.key), words));
    }
    lines
}

/// The bars that meet a bar, each with the joint and so far along the bar.
fn meetings<'f>(found: &'f Findings, bar: &Member, except: Option<Balloon>) -> Vec<(&'f Member, &'f Joint, Length)> {
    let own = |joint: &&Joint| joint.carrier == bar.balloon || joint.incoming.iter().any(|end| end.0 == bar.balloon);
    let mut met = Vec::new();
    for joint in found.worked.cage.joints.iter().filter(own) {
        let there = joint.incoming.iter().map(|end| end.0).chain([joint.carrier]);
        let there = there.filter(|there| *there != bar.balloon && Some(*there) != except);
        let along = bar.line.nearest(joint.at).0;
        met.extend(there.filter_map(|there| found.worked.cage.member(there)).map(|member| (member, joint, along)));
    }
    met
}

/// The place chosen in one field and measured in another; faults are noted at either.
pub(super) fn read(form: &mut Form, (place, by): (&str, &str)) -> Option<At> {
    let chosen = form.text(place).to_owned();
    let (way, which) = chosen.split_once(' ').unwrap_or((chosen.as_str(), ""));
    let toward = if which == "end" { Toward::End } else { Toward::Start };
    let passing = |axis: Axis, by| At::Passing { axis, at: by, from: toward };
    if matches!(way, "middle" | "meets" | "first" | "last") && !form.text(by).is_empty() {
        form.fault(by, "There nothing is measured; leave this empty, or choose another way to say where.");
    }
    match way {
        "middle" => Some(At::Middle),
        "bend" => Some(At::Bend { bend: which.parse().unwrap_or_default(), past: form.read_if_typed(by) }),
        "meets" => Some(At::Meets { bar: which.to_owned(), from: None }),
        "first" => Some(At::Meets { bar: which.to_owned(), from: Some(Toward::Start) }),
        "last" => Some(At::Meets { bar: which.to_owned(), from: Some(Toward::End) }),
        "plate" => form.read(by).map(|by| At::OverPlate { end: toward, by }),
        "along" => form.read(by).map(|by| At::FromEnd { end: toward, by }),
        "up" => form.read(by).map(|by| passing(Axis::Up, by)),
        "out" => form.read(by).map(|by| passing(Axis::Left, by)),
        "forward" => form.read(by).map(|by| passing(Axis::Forward, by)),
        _ => {
            form.fault(place, "Choose where on it.");
            None
        }
    }
}
