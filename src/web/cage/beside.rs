//! What follows from the body and the seats, in words for the cage's sheet and their own.

use crate::domain::cage::around::body::{NEAR, TORCH, gaps};
use crate::domain::cage::around::seats::SeatAt;
use crate::domain::cage::{Around, Cage, Member};
use crate::domain::derived::findings::Findings;
use crate::domain::words::ids::Balloon;
use crate::domain::words::roles::MemberRole;
use crate::quantity::{Length, Show, Units};
use crate::web::gate::Seen;
use crate::web::page::part_address;

/// A bar with its gaps to the body.
pub(super) struct GapLine {
    pub(super) bar: String,
    pub(super) to: String,
    pub(super) role: &'static str,
    pub(super) narrowest: String,
    pub(super) widest: String,
}

/// What is known of the body beside the bars.
pub(super) struct Gaps {
    pub(super) lines: Vec<GapLine>,
    /// The ball taken for a torch.
    pub(super) torch: String,
    /// Joints behind which it does not go, with the room there is.
    pub(super) shut: Vec<(String, String, String)>,
    /// Joints behind which it goes.
    pub(super) open: Vec<(String, String)>,
    /// Joints near which nothing of the body is measured.
    pub(super) unknown: usize,
    pub(super) near: String,
}

/// A seat and what follows for who sits in it.
pub(super) struct SeatLine {
    pub(super) number: u32,
    pub(super) name: String,
    pub(super) ball: String,
    pub(super) nearest: String,
    pub(super) harness: String,
    pub(super) padding: Vec<(String, String, String)>,
}

impl Gaps {
    /// None while nothing of the body is measured.
    pub(super) fn of(seen: &Seen, cage: &Cage, around: &Around) -> Option<Self> {
        if around.body.is_empty() {
            return None;
        }
        let units = seen.who.units;
        let to = |balloon: Balloon| seen.address(&part_address(balloon));
        let lines = gaps(&around.body).into_iter().filter_map(|(bar, [narrowest, widest])| {
            let role = cage.member(bar)?.role.word();
            let none = |gap: Length| (gap < Length::default()).then(|| "none".to_owned());
            // Neither the least room nor the widest gap is told better than it is.
            let narrowest = none(narrowest.gap).unwrap_or_else(|| narrowest.gap.by_tape_at_most(units));
            let widest = none(widest.gap).unwrap_or_else(|| widest.gap.by_tape_at_least(units));
            Some(GapLine { bar: bar.to_string(), to: to(bar), role, narrowest, widest })
        });
        let (mut shut, mut open, mut unknown) = (Vec::new(), Vec::new(), 0);
        for behind in &around.behind_joints {
            let joint = behind.joint;
            match (behind.reached_by(around.torch), behind.room) {
                (Some(true), _) => open.push((joint.to_string(), to(joint))),
                (Some(false), Some((room, _))) => {
                    let room = if room < Length::default() { Length::default() } else { room };
                    shut.push((joint.to_string(), to(joint), room.by_tape_at_most(units)));
                }
                _ => unknown += 1,
            }
        }
        let torch = format!(
            "a ball of {} radius, so {} of room{}",
            around.torch.by_tape(units),
            (around.torch * 2.0).by_tape(units),
            if around.torch == TORCH { ", common practice" } else { ", as the shop says" }
        );
        Some(Self { lines: lines.collect(), torch, shut, open, unknown, near: NEAR.by_tape(units) })
    }
}

/// The seats of a cage.
pub(super) fn seats(seen: &Seen, found: &Findings) -> Vec<SeatLine> {
    found.worked.around.seats.iter().map(|seat| SeatLine::of(seen, &found.worked.cage, seat)).collect()
}

fn named(bar: &Member) -> String {
    format!("{} {}", bar.balloon, bar.role.word())
}

impl SeatLine {
    pub(super) fn of(seen: &Seen, cage: &Cage, seat: &SeatAt) -> Self {
        let units = seen.who.units;
        let nearest = seat.bars.first().and_then(|(bar, left)| Some((cage.member(*bar)?, *left)));
        let nearest = nearest.map_or_else(
            || "no bar is laid out yet".to_owned(),
            |(bar, left)| {
                if left < Length::default() {
                    format!("{} stands {} within the ball", named(bar), (left * -1.0).by_tape_at_least(units))
                } else {
                    format!("{} to {}", left.by_tape_at_most(units), named(bar))
                }
            },
        );
        let padding = seat.padding.iter().map(|padding| {
            let (from, to) = (padding.from.by_tape_at_most(units), padding.to.by_tape_at_least(units));
            let along = format!("from {from} to {to} along it: {}", padding.length().by_tape_at_least(units));
            (padding.bar.to_string(), seen.address(&part_address(padding.bar)), along)
        });
        Self {
            number: seat.number,
            name: seat.name.clone(),
            ball: format!("{} radius, moving {}", seat.radius.by_tape(units), seat.reach.by_tape(units)),
            nearest,
            harness: harness(cage, seat, units),
            padding: padding.collect(),
        }
    }
}

fn harness(cage: &Cage, seat: &SeatAt, units: Units) -> String {
    let Some(harness) = &seat.harness else {
        let there = cage.members.iter().any(|bar| bar.role == MemberRole::HarnessBar);
        let why = if there { "The harness bar does not lie behind this shoulder." } else { "There is no harness bar." };
        return why.to_owned();
    };
    let (way, by) =
        if harness.falls.degrees() < 0.0 { ("climbs", harness.falls * -1.0) } else { ("falls", harness.falls) };
    format!(
        "{} stands {} up, {} behind the shoulder; over its top the strap {way} {} from level on its way back.",
        harness.bar,
        harness.height.by_tape(units),
        harness.behind.by_tape(units),
        by.show(units)
    )
}
