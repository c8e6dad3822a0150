//! Where the ends of bars stand, and the joints that they make.

use crate::domain::cage::lay::draft::Landing;
use crate::domain::cage::lay::joints::Meeting;
use crate::domain::cage::lay::numbers::{Numbers, plate_key};
use crate::domain::cage::parts::{End, Joint, Member, weld};

/// Where an end stands, by the number of what it stands on.
pub(in crate::domain::cage) fn end_of(landing: &Landing, numbers: &Numbers) -> End {
    let end = match landing {
        Landing::Plate(foot, hand) => numbers.of(&plate_key(*foot, *hand)).map(End::OnPlate),
        Landing::Onto(place) => {
            numbers.of(&place.carrier).map(|carrier| End::Onto { carrier, along: place.along, offset: place.offset })
        }
    };
    end.unwrap_or(End::Free)
}

/// The joint of a meeting of ends; none while its carrier is not there.
pub(in crate::domain::cage) fn joint(meeting: &Meeting, members: &[Member], numbers: &Numbers) -> Option<Joint> {
    let (key, balloon) = meeting.keys().find_map(|key| numbers.of(&key).map(|balloon| (key, balloon)))?;
    let carrier = members.iter().find(|member| member.key == meeting.carrier)?;
    let called = |(key, end): &(String, usize)| Some((members.iter().find(|member| member.key == *key)?, *end));
    let ends: Vec<(&Member, usize)> = meeting.incoming.iter().filter_map(called).collect();
    let incoming = ends.iter().map(|(member, end)| (member.balloon, *end)).collect();
    let (seam, overhead) = weld(ends.into_iter());
    let at = carrier.line.point_at(meeting.along).0;
    Some(Joint { balloon, key, carrier: carrier.balloon, incoming, at, along: meeting.along, seam, overhead })
}
