//! Which weight class a car is in, which tubes that asks for, and how near the edge is.

use std::fmt;

use crate::domain::cage::{MainBars, Tubes};
use crate::quantity::{Mass, Units};

use super::kinds::{ClassEdge, Condition, TubeRow, WeightClass, edges_in_words};
use super::rule_book::RuleBook;

/// The tubes a class asks for; each list holds alternatives.
#[derive(Debug, Clone, PartialEq)]
pub struct ClassTubes {
    /// For the bars the book counts with the hoops.
    pub hoop: Vec<TubeRow>,
    /// For all the others.
    pub other: Vec<TubeRow>,
    /// Which bars the book counts with the hoops.
    pub main: MainBars,
}

impl ClassTubes {
    /// The first size of each list: what a shop buys that has no reason for another.
    pub fn first(&self) -> Option<Tubes> {
        Some(Tubes { hoop: self.hoop.first()?.size, other: self.other.first()?.size, main: self.main })
    }
}

/// A class that the doubt of the scale reaches.
#[derive(Debug, Clone, PartialEq)]
pub struct Neighbour {
    /// What it is called.
    pub class: String,
    /// The tubes it asks for.
    pub tubes: ClassTubes,
}

/// The class a weighed car is in.
#[derive(Debug, Clone, PartialEq)]
pub struct ClassAnswer {
    /// What it is called.
    pub class: String,
    /// The id of the rule that says so.
    pub rule_id: String,
    /// What the car weighed.
    pub total: Mass,
    /// The class's edges in words, as the book prints them.
    pub edges: String,
    /// The edges themselves, the lower and the upper; none where the class has none.
    pub between: Box<[Option<ClassEdge>; 2]>,
    /// The tubes it asks for.
    pub tubes: ClassTubes,
    /// How far the weight is inside the nearest edge; none when the class has no edge.
    pub edge: Option<Mass>,
    /// True when that is less than two standard deviations of the scale: the body's scale may say otherwise.
    pub too_close: bool,
    /// The classes that lie within two standard deviations.
    pub neighbours: Vec<Neighbour>,
}

impl ClassAnswer {
    /// The class's edges in words, in the reader's units too where the book prints others.
    pub fn edges_in(&self, units: Units) -> String {
        edges_in_words(self.between.each_ref().map(Option::as_ref), |edge| edge.describe(units))
    }
}

/// Why no class can be given.
#[derive(Debug, Clone, PartialEq)]
pub enum NoClass {
    /// The book has no weight classes.
    NotInBook,
    /// These conditions were not ticked at the weigh-in.
    NotTicked(Vec<Condition>),
    /// The weight is no number that a car can have.
    NoWeight,
    /// The weight lies in no class of the book.
    Between,
    /// The weight lies in several classes of the book.
    Several(Vec<String>),
}

impl fmt::Display for NoClass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotInBook => write!(f, "This book has no weight classes."),
            Self::NotTicked(missing) => {
                let words: Vec<_> = missing.iter().map(|condition| condition.words.as_str()).collect();
                write!(
                    f,
                    "The class counts only when this is so on the scale: {} Weigh again, or tick it.",
                    words.join(" ")
                )
            }
            Self::NoWeight => write!(f, "There is no weight. Weigh the car first."),
            Self::Between => write!(f, "The book has no class for this very weight. Ask the scrutineer."),
            Self::Several(names) => {
                write!(f, "The book puts this weight in several classes: {}. Ask the scrutineer.", names.join(", "))
            }
        }
    }
}

impl RuleBook {
    /// The class of a car of this weight. `doubt` is one standard deviation of the scale; `ticked` are the keys of the
    /// conditions that were ticked at the weigh-in.
    pub fn class(&self, total: Mass, doubt: Mass, ticked: &[String]) -> Result<ClassAnswer, NoClass> {
        if self.weight_classes.is_empty() {
            return Err(NoClass::NotInBook);
        }
        let missing = self.not_ticked(ticked);
        if !missing.is_empty() {
            return Err(NoClass::NotTicked(missing));
        }
        if !total.is_finite() || total <= Mass::from_kg(0.0) || !doubt.is_finite() {
            return Err(NoClass::NoWeight);
        }
        let holding: Vec<&WeightClass> = self.weight_classes.iter().filter(|class| class.holds(total)).collect();
        match holding.as_slice() {
            [] => Err(NoClass::Between),
            [class] => Ok(self.answer(class, total, doubt)),
            several => Err(NoClass::Several(several.iter().map(|class| class.name.clone()).collect())),
        }
    }

    /// The edges of a class, by its rule's id; none for a side without an edge.
    pub fn bounds(&self, rule_id: &str) -> Option<(Option<Mass>, Option<Mass>)> {
        let class = self.weight_classes.iter().find(|class| class.rule.id == rule_id)?;
        Some((class.over.as_ref().map(|edge| edge.at), class.upto.as_ref().map(|edge| edge.at)))
    }

    /// The conditions of the weighing that are missing from `ticked`.
    pub fn not_ticked(&self, ticked: &[String]) -> Vec<Condition> {
        let conditions = self.weight.iter().flat_map(|weight| &weight.conditions);
        conditions.filter(|condition| !ticked.contains(&condition.key)).cloned().collect()
    }

    fn answer(&self, class: &WeightClass, total: Mass, doubt: Mass) -> ClassAnswer {
        let reach = doubt.abs() * 2.0;
        let edge = class.margin(total);
        let near = |other: &&WeightClass| {
            other.rule.id != class.rule.id && other.margin(total).is_some_and(|margin| margin > -reach)
        };
        let neighbours = self.weight_classes.iter().filter(near);
        ClassAnswer {
            class: class.name.clone(),
            rule_id: class.rule.id.clone(),
            total,
            edges: class.edges(),
            between: Box::new([class.over.clone(), class.upto.clone()]),
            tubes: self.tubes_of(class),
            edge,
            too_close: edge.is_some_and(|margin| margin.abs() < reach),
            neighbours: neighbours
                .map(|other| Neighbour { class: other.name.clone(), tubes: self.tubes_of(other) })
                .collect(),
        }
    }

    fn tubes_of(&self, class: &WeightClass) -> ClassTubes {
        let main = self.weight.as_ref().map_or(MainBars::these(&[]), |weight| MainBars::these(&weight.hoop_bars));
        ClassTubes { hoop: class.hoop.clone(), other: class.other.clone(), main }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::book::read;
    use crate::domain::words::roles::MemberRole;

    fn demo() -> Option<RuleBook> {
        read(include_str!("../../demo/book.toml")).ok()
    }

    fn all(book: &RuleBook) -> Vec<String> {
        book.weight.iter().flat_map(|weight| &weight.conditions).map(|condition| condition.key.clone()).collect()
    }

    #[test]
    fn the_edge_itself_is_the_lighter_classs_and_a_little_more_the_heavier_ones() {
        let book = demo();
        let class = |kg: f64| {
            let book = book.as_ref()?;
            book.class(Mass::from_kg(kg), Mass::from_kg(0.4), &all(book)).ok()
        };
        let describe =
            |kg| class(kg).map(|answer| (answer.class, answer.edge.map(|edge| edge.kg().round()), answer.too_close));
        let wanted = |class: &str, edge: f64, close: bool| Some((class.to_owned(), Some(edge), close));
        assert_eq!(describe(1080.0), wanted("light", 40.0, false));
        assert_eq!(describe(1120.0), wanted("light", 0.0, true));
        assert_eq!(describe(1120.6), wanted("middle", 1.0, true));
        assert_eq!(describe(1200.0), wanted("middle", 80.0, false));
        assert_eq!(describe(1360.0), wanted("middle", 0.0, true));
        assert_eq!(describe(1400.0), wanted("heavy", 40.0, false));
        let first = class(1200.0).and_then(|answer| answer.tubes.first());
        assert_eq!(first.map(|tubes| (tubes.hoop.to_string(), tubes.other.to_string())), {
            Some(("42.4 × 3.2 mm".to_owned(), "38 × 2.6 mm".to_owned()))
        });
        let of = |role| first.map(|tubes| tubes.of(role).to_string());
        assert_eq!(of(MemberRole::HoopDiagonal).as_deref(), Some("42.4 × 3.2 mm"), "as the book's own list says");
        assert_eq!(of(MemberRole::Backstay).as_deref(), Some("38 × 2.6 mm"));
        let edges = |units| class(1200.0).map(|answer| answer.edges_in(units)).unwrap_or_default();
        assert_eq!(edges(Units::Metric), "over 1120 kg, up to and including 1360 kg");
        // 1 lb = 0.45359237 kg (NIST SP 811, B.8)
        assert_eq!(edges(Units::Inch), "over 1120 kg (2,469.2 lb), up to and including 1360 kg (2,998.3 lb)");
        assert_eq!(class(1359.5).map(|answer| answer.neighbours.len()), Some(1));
        assert_eq!(class(1200.0).map(|answer| answer.neighbours.len()), Some(0));
    }

    #[test]
    fn a_missing_tick_gives_no_class() {
        let Some(book) = demo() else { return assert!(demo().is_some()) };
        let ticked: Vec<String> = all(&book).into_iter().filter(|key| key != "tank at half").collect();
        let answer = book.class(Mass::from_kg(1200.0), Mass::from_lb(1.0), &ticked);
        let missing = match answer {
            Err(NoClass::NotTicked(missing)) => missing.into_iter().map(|condition| condition.key).collect(),
            _ => Vec::new(),
        };
        assert_eq!(missing, ["tank at half"]);
        assert_eq!(book.class(Mass::from_lb(f64::NAN), Mass::from_lb(1.0), &all(&book)), Err(NoClass::NoWeight));
    }
}
