//! Where balloons stand: beside the drawing, never over one another, their leaders never crossing (after ISO 6433).

use glam::{DVec2, dvec2};

/// Least free paper between two balloons, in millimetres.
const GAP: f64 = 0.8;

/// The room that balloons are placed in.
pub(in crate::drawing) struct Room {
    /// The whole frame's width and height.
    pub(in crate::drawing) frame: DVec2,
    /// Top left and bottom right corner of what is drawn.
    pub(in crate::drawing) drawn: (DVec2, DVec2),
    /// The balloons' radius.
    pub(in crate::drawing) radius: f64,
}

impl Room {
    /// A centre for each target, in the same order; none for those that found no room.
    pub(in crate::drawing) fn place(&self, targets: &[DVec2]) -> Vec<Option<DVec2>> {
        let seats = self.seats(targets.len());
        let mut taken = first_come(targets, &seats);
        for _ in 0..200 {
            if !improve(targets, &seats, &mut taken) {
                break;
            }
        }
        taken.into_iter().map(|seat| seat.and_then(|seat| seats.get(seat)).copied()).collect()
    }

    /// Where one balloon more stands beside those that stand: as near as may be, clear of them, its leader over none of theirs.
    pub(in crate::drawing) fn one_more(&self, target: DVec2, standing: &[(DVec2, Option<DVec2>)]) -> Option<DVec2> {
        let step = 2.0 * self.radius + GAP;
        let taken = || standing.iter().filter_map(|(target, seat)| Some((*target, (*seat)?)));
        let free = |seat: &DVec2| {
            taken().all(|(of, other)| other.distance(*seat) >= step - 1e-9 && !cross((of, other), (target, *seat)))
        };
        let seats = self.seats(standing.len() + 1).into_iter().filter(free);
        seats.min_by(|one, other| one.distance_squared(target).total_cmp(&other.distance_squared(target)))
    }

    /// At least `wanted` centres that keep clear of one another, while there is room: rings round the drawing from the
    /// innermost out, then the rest of the frame.
    fn seats(&self, wanted: usize) -> Vec<DVec2> {
        let step = 2.0 * self.radius + GAP;
        let mut seats: Vec<DVec2> = Vec::new();
        let (least, most) = (DVec2::splat(self.radius), self.frame - self.radius);
        if wanted == 0 || most.x < least.x || most.y < least.y {
            return seats;
        }
        for ring in 0..100_u32 {
            if seats.len() >= wanted {
                return seats;
            }
            let out = self.radius + 2.0 + f64::from(ring) * step;
            let corner = (self.drawn.0 - out).clamp(least, most);
            let opposite = (self.drawn.1 + out).clamp(least, most);
            for seat in round(corner, opposite, step) {
                keep_clear(&mut seats, seat, step);
            }
            if corner == least && opposite == most {
                break;
            }
        }
        let mut at = least;
        while at.y <= most.y && seats.len() < wanted {
            keep_clear(&mut seats, at, step);
            at.x += step / 2.0;
            if at.x > most.x {
                at = dvec2(least.x, at.y + step / 2.0);
            }
        }
        seats
    }
}

/// Whether two leaders cross.
fn cross(a: (DVec2, DVec2), b: (DVec2, DVec2)) -> bool {
    let side = |line: (DVec2, DVec2), point: DVec2| (line.1 - line.0).perp_dot(point - line.0);
    side(a, b.0) * side(a, b.1) < -1e-6 && side(b, a.0) * side(b, a.1) < -1e-6
}

fn keep_clear(seats: &mut Vec<DVec2>, seat: DVec2, step: f64) {
    if seats.iter().all(|other| other.distance(seat) >= step - 1e-9) {
        seats.push(seat);
    }
}

/// Points round a rectangle, evenly along each side.
fn round(corner: DVec2, opposite: DVec2, step: f64) -> Vec<DVec2> {
    let corners = [corner, dvec2(opposite.x, corner.y), opposite, dvec2(corner.x, opposite.y), corner];
    let mut points = Vec::new();
    for (from, to) in corners.iter().zip(corners.iter().skip(1)) {
        let stride = (*to - *from).normalize_or_zero() * step.max((to - from).length() / whole(*from, *to, step));
        let mut at = *from;
        for _ in 0..1000 {
            points.push(at);
            at += stride;
            if stride == DVec2::ZERO || (at - *from).length() > (to - from).length() - step / 2.0 {
                break;
            }
        }
    }
    points
}

/// How many whole steps a side holds, at least one.
fn whole(from: DVec2, to: DVec2, step: f64) -> f64 {
    ((to - from).length() / step).floor().max(1.0)
}

/// Each target in turn takes the nearest free seat.
fn first_come(targets: &[DVec2], seats: &[DVec2]) -> Vec<Option<usize>> {
    let mut free: Vec<bool> = vec![true; seats.len()];
    let mut taken = Vec::new();
    for target in targets {
        let nearest = seats
            .iter()
            .enumerate()
            .filter(|(seat, _)| free.get(*seat).copied().unwrap_or(false))
            .min_by(|one, other| one.1.distance_squared(*target).total_cmp(&other.1.distance_squared(*target)))
            .map(|(seat, _)| seat);
        if let Some(seat) = nearest.and_then(|seat| free.get_mut(seat)) {
            *seat = false;
        }
        taken.push(nearest);
    }
    taken
}

/// Moves or swaps seats where that makes the leaders shorter in all: of two crossing leaders the swap is always shorter
/// (triangle inequality), so when nothing is left to improve no two cross.
fn improve(targets: &[DVec2], seats: &[DVec2], taken: &mut [Option<usize>]) -> bool {
    let leader = |target: usize, seat: usize| match (targets.get(target), seats.get(seat)) {
        (Some(target), Some(seat)) => target.distance(*seat),
        _ => f64::INFINITY,
    };
    let mut better = false;
    for one in 0..taken.len() {
        for seat in 0..seats.len() {
            let Some(mine) = taken.get(one).copied().flatten() else { break };
            if seat == mine {
                continue;
            }
            let holder = taken.iter().position(|other| *other == Some(seat));
            let before = leader(one, mine) + holder.map_or(0.0, |other| leader(other, seat));
            let after = leader(one, seat) + holder.map_or(0.0, |other| leader(other, mine));
            if after < before - 1e-9 {
                if let Some(place) = holder.and_then(|other| taken.get_mut(other)) {
                    *place = Some(mine);
                }
                if let Some(place) = taken.get_mut(one) {
                    *place = Some(seat);
                }
                better = true;
            }
        }
    }
    better
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig { cases: 2000, ..ProptestConfig::default() })]

        // What ISO 6433 asks of item references: apart from one another, leaders not crossing.
        #[test]
        fn balloons_stand_apart_inside_the_frame_and_leaders_do_not_cross(
            spots in prop::collection::vec((30.0..150.0_f64, 30.0..90.0_f64), 0..50),
        ) {
            let targets: Vec<DVec2> = spots.into_iter().map(|(x, y)| dvec2(x, y)).collect();
            let room = Room { frame: dvec2(180.0, 120.0), drawn: (dvec2(30.0, 30.0), dvec2(150.0, 90.0)), radius: 4.0 };
            let placed: Vec<DVec2> = room.place(&targets).into_iter().map(Option::unwrap).collect();
            for (index, one) in placed.iter().enumerate() {
                prop_assert!(one.x >= 4.0 && one.y >= 4.0 && one.x <= 176.0 && one.y <= 116.0, "{one}");
                for (later, other) in placed.iter().enumerate().skip(index + 1) {
                    prop_assert!(one.distance(*other) >= 8.0);
                    prop_assert!(!cross((targets[index], *one), (targets[later], *other)), "{index} crosses {later}");
                }
            }
        }
    }

    #[test]
    fn what_finds_no_room_is_told() {
        let room = Room { frame: dvec2(20.0, 20.0), drawn: (dvec2(9.0, 9.0), dvec2(11.0, 11.0)), radius: 4.0 };
        let placed = room.place(&[DVec2::splat(10.0); 9]);
        assert!(placed.iter().any(Option::is_none) && placed.iter().any(Option::is_some), "{placed:?}");
    }
}
