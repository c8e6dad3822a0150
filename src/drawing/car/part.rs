//! One bar alone, as it lies on the bench: its true shape with its straights, bends, turns and check dimensions.

use glam::{DVec2, DVec3, dvec2};

use super::hiding::bounds;
use crate::domain::steel::dies::Plus;
use crate::domain::work::fabrication::BarSheet;
use crate::drawing::paper::text::width;
use crate::drawing::{Anchor, Ink, Mark, Pen, Weight};
use crate::geometry::Bend;
use crate::quantity::{Length, Units};

/// Size of the figures, 8 pt.
const TYPE: Length = Length::from_mm(2.82);
/// Room round a view for its figures, beside and above, mm: a bend's words are the widest.
const ROUND: DVec2 = dvec2(28.0, 15.0);
/// Room for a view's caption, mm.
const CAPTION: f64 = 6.0;
/// The dial of the turns: its radius, and the room it takes, mm.
const DIAL: f64 = 13.0;
const DIAL_ROOM: f64 = 48.0;
/// A turn within this of none or of half a round keeps the bar in one plane, degrees.
const LEVEL: f64 = 0.05;
/// How far a drawn bend may be from the true one.
const SAGITTA: Length = Length::from_mm(0.5);

/// The bar in a frame of this width and height. A bar in one plane takes one view; another is seen square to its first
/// bend and from beside, and its turns stand on a dial.
pub fn alone(bar: &BarSheet<'_>, frame: (Length, Length), units: Units) -> Vec<Mark> {
    let room = dvec2(frame.0.mm(), frame.1.mm());
    let Some(seen) = Seen::square_to_the_first_bend(bar) else { return Vec::new() };
    if in_one_plane(bar) {
        let words = if bar.bends.is_empty() { "" } else { "All bends lie in one plane" };
        return of_view(bar, &seen, (DVec2::ZERO, room), Some(units), words);
    }
    let upper = dvec2(room.x, (room.y * 0.6).min(room.y - DIAL_ROOM));
    let lower = room.y - upper.y;
    // Turned toward the reader about the level line: what faced the reader comes to the upper edge.
    let beside = Seen { up: seen.along.cross(seen.up), ..seen };
    let mut marks = of_view(bar, &seen, (DVec2::ZERO, upper), Some(units), &seen.describe(bar));
    let at = dvec2(0.0, upper.y);
    let across = dvec2(room.x - DIAL_ROOM, lower);
    marks.extend(of_view(bar, &beside, (at, across), None, "The same from below, toward you is up"));
    marks.extend(dial(bar, dvec2(room.x - DIAL_ROOM / 2.0, upper.y + lower / 2.0 - 3.0)));
    marks
}

fn in_one_plane(bar: &BarSheet<'_>) -> bool {
    bar.bends.iter().all(|bend| {
        let turned = bend.rotation.degrees().abs();
        !(LEVEL..=180.0 - LEVEL).contains(&turned)
    })
}

/// A way to look at the bar: what lies to the right and what lies upward on the page.
#[derive(Debug, Clone, Copy)]
struct Seen {
    along: DVec3,
    up: DVec3,
    from: DVec3,
}

impl Seen {
    /// End to end level, the body over that line.
    fn square_to_the_first_bend(bar: &BarSheet<'_>) -> Option<Self> {
        let line = &bar.member.line;
        let (first, last) = (*line.points().first()?, *line.points().last()?);
        let start = line.direction_at_start();
        let after = line.bends().first().map_or(start, |bend| line.point_at(bend.start + bend.arc()).1);
        let normal = start.cross(after).try_normalize().unwrap_or_else(|| start.any_orthonormal_vector());
        let across = last - first;
        let along = (across - normal * across.dot(normal)).try_normalize().unwrap_or(start);
        let up = normal.cross(along);
        let points = line.points();
        let over: f64 = points.iter().map(|point| (*point - first).dot(up)).sum();
        Some(Self { along, up: if over < 0.0 { -up } else { up }, from: first })
    }

    /// Which side it is seen from: a bend that goes to the left for one eye goes to the right for the eye behind the page.
    fn describe(&self, bar: &BarSheet<'_>) -> String {
        let line = &bar.member.line;
        let start = line.direction_at_start();
        let turns = line.bends().first().map(|bend| start.cross(line.point_at(bend.start + bend.arc()).1));
        let toward_you = self.along.cross(self.up);
        let left = turns.is_none_or(|turns| turns.dot(toward_you) > 0.0);
        format!("Square to bend 1, which goes {} from A", if left { "left" } else { "right" })
    }

    fn flat(&self, at: DVec3) -> DVec2 {
        let off = at - self.from;
        dvec2(off.dot(self.along), off.dot(self.up))
    }
}

/// Figures that have found their place; the next ones keep clear of them.
struct Figures {
    /// The least and the greatest corner of the room they have.
    within: (DVec2, DVec2),
    taken: Vec<(DVec2, DVec2)>,
    marks: Vec<Mark>,
}

impl Figures {
    fn within(corner: DVec2, room: DVec2) -> Self {
        Self { within: (corner, corner + room), taken: Vec::new(), marks: Vec::new() }
    }

    /// Writes words near a point, moved on `away` until they stand clear, and never beyond the room's edge.
    fn put(&mut self, at: DVec2, away: DVec2, words: &str) {
        let half = dvec2(width(words, TYPE, Weight::Regular).mm() / 2.0 + 0.6, TYPE.mm() / 2.0 + 0.2);
        let mut place = at;
        for step in 0..8_u32 {
            // Words are wide: sideways they must go further than up or down.
            let reach = 1.0 + half.dot(away.abs()) + f64::from(step) * 3.2;
            place = (at + away * reach).min(self.within.1 - half).max(self.within.0 + half);
            let clear =
                |(low, high): &(DVec2, DVec2)| (place + half).cmple(*low).any() || (place - half).cmpge(*high).any();
            if self.taken.iter().all(clear) {
                break;
            }
        }
        self.taken.push((place - half, place + half));
        self.marks.push(Mark::rectangle(place - half, half * 2.0, None, Some(Ink::White)));
        let at = place + dvec2(0.0, TYPE.mm() * 0.36);
        let (size, words) = (TYPE, words.to_owned());
        self.marks.push(Mark::Text {
            at,
            size,
            words,
            weight: Weight::Regular,
            anchor: Anchor::Middle,
            ink: Ink::Black,
        });
    }
}

/// A bar as it stands on the page.
struct OnPage<'b> {
    bar: &'b BarSheet<'b>,
    seen: &'b Seen,
    /// The middle of what is drawn, as the eye sees it and on the page.
    middle: (DVec2, DVec2),
    /// Millimetres of the page in one of the bar.
    factor: f64,
    /// The centre line.
    run: Vec<DVec2>,
}

impl<'b> OnPage<'b> {
    fn of(bar: &'b BarSheet<'b>, seen: &'b Seen, (corner, room): (DVec2, DVec2)) -> Self {
        let line = &bar.member.line;
        let run: Vec<DVec2> = line.chords(SAGITTA).into_iter().map(|at| seen.flat(at)).collect();
        let corners = line.bends().iter().map(|bend| seen.flat(bend.corner));
        let (low, high) = bounds(&run.iter().copied().chain(corners).collect::<Vec<_>>());
        let free = (room - 2.0 * ROUND - dvec2(0.0, CAPTION)).max(DVec2::ONE);
        let object = (high - low + bar.member.tube.outside.mm()).max(DVec2::ONE);
        let at = corner + dvec2(room.x / 2.0, (room.y - CAPTION) / 2.0);
        let middle = (low.midpoint(high), at);
        let mut page = Self { bar, seen, middle, factor: (free / object).min_element(), run: Vec::new() };
        page.run = run.into_iter().map(|at| page.on(at)).collect();
        page
    }

    fn on(&self, at: DVec2) -> DVec2 {
        let off = at - self.middle.0;
        self.middle.1 + dvec2(off.x, -off.y) * self.factor
    }

    fn place(&self, at: DVec3) -> DVec2 {
        self.on(self.seen.flat(at))
    }

    /// Half the tube's diameter.
    fn radius(&self) -> f64 {
        self.bar.member.tube.outside.mm() / 2.0 * self.factor
    }

    fn checks(&self, units: Units, figures: &mut Figures) -> Vec<Mark> {
        // Diagonals cross in the middle; their figures stand off it.
        let shares = [0.5, 0.3, 0.3].into_iter().cycle();
        let mut marks = Vec::new();
        for (share, check) in shares.zip(self.bar.checks.iter().filter(|check| check.drawn)) {
            let (from, to) = (self.place(check.from), self.place(check.to));
            marks.push(Mark::Line { from, to, pen: Pen::Narrow });
            figures.put(from.lerp(to, share), DVec2::ZERO, &check.length.by_tape(units));
        }
        marks
    }

    fn bends(&self, measured: Option<Units>, figures: &mut Figures) {
        let line = &self.bar.member.line;
        for (number, (bend, of)) in (1..).zip(self.bar.bends.iter().zip(line.bends())) {
            let at = self.place(line.point_at(bend.start + bend.arc / 2.0).0);
            let way = (self.place(of.corner) - self.middle.1).try_normalize().unwrap_or(DVec2::NEG_Y);
            let describe = |units| format!("{number}: {}, R {}", bend.angle.to_the_tenth(), bend.radius.by_tape(units));
            figures.put(at + way * self.radius(), way, &measured.map_or_else(|| number.to_string(), describe));
        }
    }

    fn straights(&self, units: Units, figures: &mut Figures) {
        let line = &self.bar.member.line;
        let arcs = line.bends().iter().map(Bend::arc).chain([Length::default()]);
        let mut before = Length::default();
        for (straight, arc) in line.straights().iter().zip(arcs) {
            let (one, other) = (self.place(line.point_at(before).0), self.place(line.point_at(before + *straight).0));
            let across = (other - one).perp().try_normalize().unwrap_or(DVec2::NEG_Y);
            let half_way = one.midpoint(other);
            let way = if across.dot(half_way - self.middle.1) < 0.0 { -across } else { across };
            if *straight > Length::from_mm(0.5) {
                figures.put(half_way + way * self.radius(), way, &straight.by_tape(units));
            }
            before = before + *straight + arc;
        }
    }

    fn letters(&self, figures: &mut Figures) {
        let line = &self.bar.member.line;
        let (first, last) = (line.points().first(), line.points().last());
        for (letter, at, way) in [("A", first, -line.direction_at_start()), ("B", last, line.direction_at_end())] {
            let Some(at) = at else { continue };
            let way = self.seen.flat(self.seen.from + way);
            let way = dvec2(way.x, -way.y).try_normalize().unwrap_or(DVec2::NEG_X);
            figures.put(self.place(*at), way, letter);
        }
    }
}

/// One view in its part of the frame, with its lengths where it is to be measured by it.
fn of_view(
    bar: &BarSheet<'_>,
    seen: &Seen,
    (corner, room): (DVec2, DVec2),
    measured: Option<Units>,
    words: &str,
) -> Vec<Mark> {
    let page = OnPage::of(bar, seen, (corner, room));
    let mut figures = Figures::within(corner, room);
    let mut marks = vec![tube(&page.run, page.radius())];
    marks.push(Mark::Path { points: page.run.clone(), closed: false, pen: Some(Pen::CentreChain), fill: None });
    if let Some(units) = measured {
        marks.extend(page.checks(units, &mut figures));
    }
    page.bends(measured, &mut figures);
    if let Some(units) = measured {
        page.straights(units, &mut figures);
    }
    page.letters(&mut figures);
    marks.extend(figures.marks);
    let caption = if words.is_empty() { "Not to scale".to_owned() } else { format!("{words}, not to scale") };
    marks.push(Mark::Text {
        at: corner + dvec2(room.x / 2.0, room.y - 1.5),
        size: TYPE,
        words: caption,
        weight: Weight::Regular,
        anchor: Anchor::Middle,
        ink: Ink::Grey,
    });
    marks
}

/// The wall's two edges beside a centre line, and the ends between them.
fn tube(run: &[DVec2], radius: f64) -> Mark {
    let ways: Vec<DVec2> =
        run.iter().zip(run.iter().skip(1)).map(|(from, to)| (*to - *from).normalize_or_zero()).collect();
    let edge = |side: f64| {
        let at = |(index, point): (usize, &DVec2)| {
            let into = index.checked_sub(1).and_then(|before| ways.get(before)).or_else(|| ways.first());
            let out = ways.get(index).or_else(|| ways.last());
            let way = (into.copied().unwrap_or_default() + out.copied().unwrap_or_default()).normalize_or_zero();
            *point + way.perp() * (side * radius)
        };
        run.iter().enumerate().map(at).collect::<Vec<_>>()
    };
    let mut points = edge(1.0);
    points.extend(edge(-1.0).into_iter().rev());
    Mark::Path { points, closed: true, pen: Some(Pen::Wide), fill: None }
}

/// Where the line that was scribed on top of the tube at bend 1 stands before each bend, seen from end A along the tube,
/// each with its turn as the bend sheet has it.
fn dial(bar: &BarSheet<'_>, centre: DVec2) -> Vec<Mark> {
    let radius = Length::from_mm(DIAL);
    let mut marks = vec![Mark::Circle { centre, radius, pen: Some(Pen::Narrow), fill: None }];
    let room = DVec2::splat(DIAL_ROOM);
    let mut figures = Figures::within(centre - room / 2.0, room);
    let clockwise = if bar.bender.plus == Plus::Clockwise { 1.0 } else { -1.0 };
    for (number, bend) in (1_u32..).zip(&bar.bends) {
        let (sine, cosine) = (bend.scribed.radians() * clockwise).sin_cos();
        let way = dvec2(sine, -cosine);
        marks.push(Mark::Line { from: centre, to: centre + way * DIAL, pen: Pen::Wide });
        let words = if number == 1 { "1".to_owned() } else { format!("{number}: {}", bend.turn.to_the_tenth_signed()) };
        figures.put(centre + way * DIAL, way, &words);
    }
    marks.extend(figures.marks);
    marks.push(Mark::Text {
        at: centre + dvec2(0.0, DIAL + 12.0),
        size: TYPE,
        words: "Scribed line, seen from A".to_owned(),
        weight: Weight::Regular,
        anchor: Anchor::Middle,
        ink: Ink::Grey,
    });
    marks
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::solve;
    use crate::domain::work::fabrication::Bench;

    /// Every straight, bend and check of every bent bar of the example stands in its drawing, inside the frame; seen square
    /// to its first bend the first two straights and their angle are true.
    #[test]
    fn a_bar_alone_has_all_its_dimensions() {
        let cage = solve(&example_record(), &TUBES);
        for member in cage.members.iter().filter(|member| !member.line.straight()) {
            let bar = BarSheet::of(&cage, member, &Bench::default());
            let marks = alone(&bar, (Length::from_mm(180.0), Length::from_mm(170.0)), Units::Metric);
            let said: Vec<&str> = marks
                .iter()
                .filter_map(|mark| if let Mark::Text { words, .. } = mark { Some(words.as_str()) } else { None })
                .collect();
            for straight in member.line.straights().iter().filter(|straight| **straight > Length::from_mm(0.5)) {
                assert!(
                    said.contains(&straight.by_tape(Units::Metric).as_str()),
                    "{}: {straight:?} {said:?}",
                    member.key
                );
            }
            for (number, bend) in (1..).zip(&bar.bends) {
                let begins = format!("{number}: {:.1}°", bend.angle.degrees());
                assert!(said.iter().any(|words| words.starts_with(&begins)), "{}: {begins} {said:?}", member.key);
            }
            for check in bar.checks.iter().filter(|check| check.drawn) {
                assert!(said.contains(&check.length.by_tape(Units::Metric).as_str()), "{}: {}", member.key, check.what);
            }
            for mark in &marks {
                if let Mark::Text { at, words, .. } = mark {
                    let half = dvec2(width(words, TYPE, Weight::Regular).mm() / 2.0, 0.0);
                    let inside = (*at - half).cmpge(DVec2::ZERO).all() && (*at + half).cmple(dvec2(180.0, 170.0)).all();
                    assert!(inside, "{}: {words} at {at}", member.key);
                }
            }
            let seen = Seen::square_to_the_first_bend(&bar).unwrap();
            let points: Vec<DVec2> = member.line.points().iter().map(|at| seen.flat(*at)).collect();
            let (into, out) = (points[1] - points[0], points[2] - points[1]);
            let angle = into.perp_dot(out).atan2(into.dot(out)).abs().to_degrees();
            assert!((angle - bar.bends[0].angle.degrees()).abs() < 1e-6, "{}", member.key);
        }
    }
}
