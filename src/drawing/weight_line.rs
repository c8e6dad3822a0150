//! The weight classes as a line, with the car now above it and the finished car below, each with its spread.

use glam::{DVec2, dvec2};

use super::gauge::hatched;
use super::paper::text::width;
use super::{Anchor, Ink, Mark, Pen, Weight};
use crate::domain::book::RuleBook;
use crate::domain::book::kinds::{ClassEdge, TubeRow, WeightClass};
use crate::domain::cage::Tubes;
use crate::domain::derived::weighed_after::Compared;
use crate::domain::weight::foreseen::{CagePart, Foreseen};
use crate::quantity::{Length, Mass, Show as _, Units};

/// Two standard deviations are drawn to either side.
const SPREAD: f64 = 2.0;
/// How much of the range is left free at either end.
const FREE: f64 = 0.14;
/// The least range drawn, so that a scale's own doubt is seen but does not fill the line.
const LEAST: Mass = Mass::from_kg(40.0);

/// How high the drawing is for type of this size.
pub fn height(size: Length) -> Length {
    size * 8.6
}

/// The classes of a book, and the tube that is chosen; none while no class asks for one.
pub struct Classes<'a> {
    /// The book.
    pub rules: &'a RuleBook,
    /// The tube.
    pub chosen: Option<&'a Tubes>,
}

/// The line, `wide` and with type of this size. Hatched are the classes that do not allow the chosen tube, where one is chosen.
pub fn weight_line(
    foreseen: &Foreseen,
    classes: &Classes<'_>,
    (wide, size): (Length, Length),
    units: Units,
) -> Vec<Mark> {
    let cars = [(foreseen.weighed, foreseen.weighed_doubt), (foreseen.finished, foreseen.doubt)];
    let line = Line::around(&cars, classes.rules, (wide, size), units);
    let mut marks = line.classes(classes.rules, classes.chosen);
    let now = format!("weighed {}", foreseen.weighed.show(units));
    marks.extend(line.car((foreseen.weighed, foreseen.weighed_doubt), true, &now));
    if foreseen.tells() {
        let missing = if foreseen.cage == CagePart::NotLaidOut { ", cage not counted" } else { "" };
        let finished = format!("finished, predicted {}{missing}", foreseen.figure(units));
        marks.extend(line.car((foreseen.finished, foreseen.doubt), false, &finished));
    }
    marks
}

/// The same with the finished car as weighed above the line and as foreseen below it.
pub fn compared_line(
    compared: &Compared,
    classes: &Classes<'_>,
    (wide, size): (Length, Length),
    units: Units,
) -> Vec<Mark> {
    let weighed = (compared.weighed, compared.weighed_doubt);
    let foreseen = (compared.forecast.finished, compared.forecast.doubt);
    let line = Line::around(&[weighed, foreseen], classes.rules, (wide, size), units);
    let mut marks = line.classes(classes.rules, classes.chosen);
    let spread = |(mass, doubt): (Mass, Mass)| format!("{} ± {}", mass.show(units), (doubt * SPREAD).show(units));
    marks.extend(line.car(weighed, true, &format!("weighed {}", spread(weighed))));
    marks.extend(line.car(foreseen, false, &format!("predicted {}", spread(foreseen))));
    marks
}

struct Line {
    /// The masses at both ends.
    ends: (Mass, Mass),
    wide: f64,
    size: Length,
    units: Units,
}

impl Line {
    /// Wide enough for these cars with their spreads, and for the edge nearest to the last of them.
    fn around(cars: &[(Mass, Mass)], rules: &RuleBook, (wide, size): (Length, Length), units: Units) -> Self {
        let spread = |(mass, doubt): &(Mass, Mass)| [*mass - *doubt * SPREAD, *mass + *doubt * SPREAD];
        let mut masses: Vec<Mass> = cars.iter().flat_map(spread).collect();
        let last = cars.last().map(|car| car.0).unwrap_or_default();
        let far = |edge: &Mass| (*edge - last).abs().kg();
        masses.extend(edges(rules).into_iter().map(|edge| edge.at).min_by(|one, two| far(one).total_cmp(&far(two))));
        let kilograms = || masses.iter().map(|mass| mass.kg());
        let (least, most) = (kilograms().fold(f64::MAX, f64::min), kilograms().fold(f64::MIN, f64::max));
        let range = (most - least).max(LEAST.kg());
        let middle = f64::midpoint(least, most);
        let half = range * (0.5 + FREE);
        let ends = (Mass::from_kg(middle - half), Mass::from_kg(middle + half));
        Self { ends, wide: wide.mm(), size, units }
    }

    fn x(&self, mass: Mass) -> f64 {
        ((mass - self.ends.0) / (self.ends.1 - self.ends.0)).clamp(0.0, 1.0) * self.wide
    }

    /// So many heights of the type from the top.
    fn y(&self, lines: f64) -> f64 {
        self.size.mm() * lines
    }

    fn stroke(from: DVec2, to: DVec2, pen: Pen) -> Mark {
        Mark::Line { from, to, pen }
    }

    /// Words centred on a point as far as the drawing's ends let them be.
    fn words(&self, (x, y): (f64, f64), words: &str, weight: Weight, ink: Ink) -> Mark {
        let half = width(words, self.size, weight).mm() / 2.0;
        let x = x.max(half).min((self.wide - half).max(half));
        let (at, words) = (dvec2(x, self.y(y)), words.to_owned());
        Mark::Text { at, size: self.size, words, weight, anchor: Anchor::Middle, ink }
    }

    /// The frame, hatched where the chosen tube is not allowed, its edges, and the classes' names under it.
    fn classes(&self, rules: &RuleBook, chosen: Option<&Tubes>) -> Vec<Mark> {
        let (top, high) = (self.y(LEVEL), self.y(FRAME));
        let span = |class: &WeightClass| {
            let edge = |edge: &Option<ClassEdge>, none: f64| edge.as_ref().map_or(none, |edge| self.x(edge.at));
            (edge(&class.over, 0.0), edge(&class.upto, self.wide))
        };
        let shut = rules.weight_classes.iter().filter(|class| chosen.is_some_and(|tubes| !allows(class, tubes)));
        let hatched = |(from, to): (f64, f64)| hatched(from, to, top, high);
        let mut marks: Vec<Mark> = shut.flat_map(|class| hatched(span(class))).collect();
        marks.push(Mark::rectangle(dvec2(0.0, top), dvec2(self.wide, high), Some(Pen::Narrow), None));
        let inside = |mass: &Mass| *mass > self.ends.0 && *mass < self.ends.1;
        for edge in edges(rules).into_iter().filter(|edge| inside(&edge.at)) {
            let x = self.x(edge.at);
            marks.push(Self::stroke(dvec2(x, self.y(LEVEL - 1.2)), dvec2(x, self.y(7.4)), Pen::Wide));
            marks.push(self.words((x, 8.3), &edge.describe(self.units), Weight::Bold, Ink::Black));
        }
        for class in &rules.weight_classes {
            let (from, to) = span(class);
            if to - from > width(&class.name, self.size, Weight::Regular).mm() {
                let middle = f64::midpoint(from, to);
                marks.push(self.words((middle, LEVEL + FRAME + 1.2), &class.name, Weight::Regular, Ink::Grey));
            }
        }
        marks
    }

    /// A car on the line: a triangle at its mass, its spread as a bar, and what it is.
    fn car(&self, (mass, doubt): (Mass, Mass), above: bool, words: &str) -> Vec<Mark> {
        let x = self.x(mass);
        let (tip, base) = if above { (LEVEL - 0.15, LEVEL - 1.0) } else { (LEVEL + FRAME + 1.7, LEVEL + FRAME + 2.55) };
        let half = self.size.mm() * 0.45;
        let corners = vec![dvec2(x, self.y(tip)), dvec2(x - half, self.y(base)), dvec2(x + half, self.y(base))];
        let fill = Some(if above { Ink::White } else { Ink::Black });
        let bar = self.y(if above { LEVEL } else { tip });
        let spread = [self.x(mass - doubt * SPREAD), self.x(mass + doubt * SPREAD)];
        let mut marks = Vec::new();
        if !above {
            let [from, to] = spread;
            marks.push(Self::stroke(dvec2(from, bar), dvec2(to, bar), Pen::Marked));
            for end in spread {
                let cap = self.size.mm() * 0.3;
                marks.push(Self::stroke(dvec2(end, bar - cap), dvec2(end, bar + cap), Pen::Marked));
            }
        }
        marks.push(Mark::Path { points: corners, closed: true, pen: Some(Pen::Narrow), fill });
        let line = if above { LEVEL - 1.45 } else { LEVEL + FRAME + 3.7 };
        let description = self.words((x, line), words, Weight::Bold, Ink::Black);
        // An edge ends where words stand, and goes on below them.
        if let Mark::Text { at, .. } = &description {
            let room = width(words, self.size, Weight::Bold).mm() + self.size.mm() * 0.4;
            let corner = dvec2(at.x - room / 2.0, at.y - self.size.mm() * 0.95);
            marks.push(Mark::rectangle(corner, dvec2(room, self.size.mm() * 1.2), None, Some(Ink::White)));
        }
        marks.push(description);
        marks
    }
}

/// How far down the line lies, in heights of the type.
const LEVEL: f64 = 2.6;
/// How high its frame is, likewise.
const FRAME: f64 = 0.8;

/// Whether a class allows bars of these tubes.
fn allows(class: &WeightClass, tubes: &Tubes) -> bool {
    let one = |rows: &[TubeRow], tube| rows.iter().any(|row| row.reached_by(tube));
    one(&class.hoop, &tubes.hoop) && one(&class.other, &tubes.other)
}

/// Every edge of a class once.
fn edges(rules: &RuleBook) -> Vec<&ClassEdge> {
    let mut found: Vec<&ClassEdge> = Vec::new();
    for edge in rules.weight_classes.iter().flat_map(|class| class.over.iter().chain(&class.upto)) {
        if !found.iter().any(|known| known.at == edge.at) {
            found.push(edge);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::steel::tube::TubeSize;

    fn strokes(marks: &[Mark]) -> Vec<(f64, f64)> {
        let faint = |mark: &Mark| match mark {
            Mark::Line { from, to, pen: Pen::Faint } => Some((from.x, to.x)),
            _ => None,
        };
        marks.iter().filter_map(faint).collect()
    }

    /// Hatched is where the chosen tube is not allowed and nowhere else; without a chosen tube nothing is.
    #[test]
    fn the_classes_that_do_not_allow_the_chosen_tube_are_hatched() {
        let rules = crate::domain::book::read(include_str!("../demo/book.toml")).unwrap();
        let all = edges(&rules);
        let (first, last) = (all.first().unwrap().at, all.last().unwrap().at);
        let ends = (first - LEAST, last + LEAST);
        let line = Line { ends, wide: 110.0, size: Length::from_mm(4.6), units: Units::Metric };
        let thin = TubeSize::inch(1.0, 0.03);
        let thick = TubeSize::inch(2.5, 0.25);
        let lightest = rules.weight_classes.first().unwrap();
        let lightest = Tubes::new(lightest.hoop.first().unwrap().size, lightest.other.first().unwrap().size);
        assert!(strokes(&line.classes(&rules, None)).is_empty());
        assert!(strokes(&line.classes(&rules, Some(&Tubes::new(thick, thick)))).is_empty());
        let everywhere = strokes(&line.classes(&rules, Some(&Tubes::new(thin, thin))));
        assert!(everywhere.len() > 20, "{}", everywhere.len());
        let heavier = strokes(&line.classes(&rules, Some(&lightest)));
        assert!(!heavier.is_empty() && heavier.len() < everywhere.len());
        let edge = line.x(first);
        assert!(heavier.iter().all(|(from, _)| *from >= edge - 1e-9), "{edge}: {heavier:?}");
    }
}
