//! A weight class: between which edges it lies, and which tubes it asks for.

use crate::domain::book::Rule;
use crate::domain::book::terms::bound::Unit;
use crate::domain::book::terms::fields::Fields;
use crate::domain::book::terms::unit_of::UnitOf;
use crate::domain::book::terms::words::words;
use crate::domain::measure::amounts::{Amount, Dimension};
use crate::domain::steel::tube::TubeSize;
use crate::quantity::{Length, Mass, Show as _, Units};

use super::EdgeBelongs;

words!(
    /// What a tube is for.
    TubeUse {
        /// For the bars that the book counts with the hoops.
        Hoop = "hoop",
        /// For all the others.
        Other = "other",
    }
);

words!(
    /// How a tube was made.
    Made {
        /// Without a seam.
        Seamless = "seamless",
        /// Welded, then drawn over a mandrel.
        DrawnOverMandrel = "dom",
        /// Welded along its length and left so.
        Welded = "erw",
    }
);

/// An edge of a class.
#[derive(Debug, Clone, PartialEq)]
pub struct ClassEdge {
    /// Where it stands.
    pub at: Mass,
    /// Whether a car exactly there is in this class.
    pub included: bool,
    /// As the book prints it: `1120 kg`.
    pub printed: String,
}

impl ClassEdge {
    /// As the book prints it, and in the reader's units beside that where those are others: `1120 kg (2,469.2 lb)`.
    pub fn describe(&self, units: Units) -> String {
        let own = if self.printed.ends_with(Unit::Pound.word()) { Units::Inch } else { Units::Metric };
        if own == units { self.printed.clone() } else { format!("{} ({})", self.printed, self.at.show(units)) }
    }
}

/// Both edges of a class in words, each as it is told.
pub(in crate::domain::book) fn edges_in_words(
    [over, upto]: [Option<&ClassEdge>; 2],
    describe: impl Fn(&ClassEdge) -> String,
) -> String {
    let over = over.map(|edge| format!("{} {}", if edge.included { "from" } else { "over" }, describe(edge)));
    let upto =
        upto.map(|edge| format!("{} {}", if edge.included { "up to and including" } else { "under" }, describe(edge)));
    match (over, upto) {
        (Some(over), Some(upto)) => format!("{over}, {upto}"),
        (one, other) => one.or(other).unwrap_or_else(|| "any weight".to_owned()),
    }
}

/// A tube size a class allows, at least; one of several.
#[derive(Debug, Clone, PartialEq)]
pub struct TubeRow {
    /// Outside diameter and wall, at least.
    pub size: TubeSize,
    /// How it may have been made; any way, when empty.
    pub made: Vec<Made>,
    /// From this outside diameter on …
    pub bonus_outside: Option<Length>,
    /// … this wall is enough.
    pub bonus_wall: Option<Length>,
}

impl TubeRow {
    /// Alternatives in words: `45 × 2.5 mm or 50 × 2 mm`.
    pub fn sizes(rows: &[Self]) -> String {
        rows.iter().map(|row| row.size.to_string()).collect::<Vec<_>>().join(" or ")
    }

    /// True when a tube's two figures reach this row's, or those of its bonus.
    pub fn reached_by(&self, tube: &TubeSize) -> bool {
        let bonus = match (self.bonus_outside, self.bonus_wall) {
            (Some(outside), Some(wall)) => tube.outside >= outside && tube.wall >= wall,
            _ => false,
        };
        tube.reaches(&self.size) || bonus
    }

    /// True when a tube made so is allowed.
    pub fn allows(&self, made: Made) -> bool {
        self.made.is_empty() || self.made.contains(&made)
    }
}

/// A weight class.
#[derive(Debug, Clone, PartialEq)]
pub struct WeightClass {
    /// What every rule carries.
    pub rule: Rule,
    /// What it is called.
    pub name: String,
    /// Its lower edge; none when it begins at nothing.
    pub over: Option<ClassEdge>,
    /// Its upper edge; none when it has no end.
    pub upto: Option<ClassEdge>,
    /// Tubes for the hoops.
    pub hoop: Vec<TubeRow>,
    /// Tubes for the other bars.
    pub other: Vec<TubeRow>,
}

impl WeightClass {
    pub(in crate::domain::book) fn read(fields: &Fields<'_>, belongs: Option<EdgeBelongs>) -> Option<Self> {
        let rule = Rule::read(fields);
        let name = fields.title("name");
        let before = fields.has("over") || fields.has("upto");
        let unit = if before { fields.unit_of(Dimension::Mass) } else { UnitOf::Missing };
        fields.known("unit");
        let over = read_edge(fields, ("over", "over_included"), &unit, belongs);
        let upto = read_edge(fields, ("upto", "upto_included"), &unit, belongs);
        if let (Some(over), Some(upto)) = (&over, &upto)
            && (over.at > upto.at || (over.at == upto.at && !(over.included && upto.included)))
        {
            fields.slip("upto", "This class ends before it begins.", "Make “upto” more than “over”.");
        }
        let mut rows: Vec<(TubeUse, TubeRow)> = Vec::new();
        let tables = fields.tables("tube", "a tube of a weight class");
        for table in &tables {
            rows.extend(read_row(table));
        }
        let of = |wanted| rows.iter().filter(|row| row.0 == wanted).map(|row| row.1.clone()).collect::<Vec<_>>();
        let (hoop, other) = (of(TubeUse::Hoop), of(TubeUse::Other));
        if tables.len() == rows.len() && (hoop.is_empty() || other.is_empty()) {
            let wanted = "Give [[weight_class.tube]] at least once with use = \"hoop\" and once with use = \"other\".";
            fields.slip("", "A tube for hoops or for other bars is missing from a weight class.", wanted);
        }
        fields.finish();
        Some(Self { rule: rule?, name: name?, over, upto, hoop, other })
    }

    /// True when a car of this weight is in the class.
    pub fn holds(&self, total: Mass) -> bool {
        let above = self.over.as_ref().is_none_or(|edge| total > edge.at || (edge.included && total == edge.at));
        let below = self.upto.as_ref().is_none_or(|edge| total < edge.at || (edge.included && total == edge.at));
        above && below
    }

    /// How far a weight is inside the nearer of its edges; less than nothing outside, none without an edge.
    pub fn margin(&self, total: Mass) -> Option<Mass> {
        let below = self.over.as_ref().map(|edge| total - edge.at);
        let above = self.upto.as_ref().map(|edge| edge.at - total);
        match (below, above) {
            (Some(below), Some(above)) => Some(if below < above { below } else { above }),
            (one, other) => one.or(other),
        }
    }

    /// Its edges in words: "over 1120 kg, up to and including 1360 kg".
    pub fn edges(&self) -> String {
        edges_in_words([self.over.as_ref(), self.upto.as_ref()], |edge| edge.printed.clone())
    }
}

fn read_edge(
    fields: &Fields<'_>,
    names: (&'static str, &'static str),
    unit: &UnitOf,
    belongs: Option<EdgeBelongs>,
) -> Option<ClassEdge> {
    let (at, flag) = names;
    let said = fields.has(flag);
    let number = fields.number_maybe(at);
    let included = match belongs {
        Some(EdgeBelongs::Lighter) => at == "upto",
        Some(EdgeBelongs::Heavier) => at == "over",
        Some(EdgeBelongs::EachSays) | None => fields.flag(flag, false),
    };
    let by_weight = matches!(belongs, Some(EdgeBelongs::Lighter | EdgeBelongs::Heavier));
    if said && by_weight {
        let wanted = "Leave it out, or write edge_belongs_to = \"each class says\" under [weight].";
        fields.slip(flag, format!("“{flag}” says a second time where the edge belongs."), wanted);
    } else if !said && number.is_some() && belongs == Some(EdgeBelongs::EachSays) {
        fields.slip(
            at,
            "Whether this edge is in the class is not said.".to_owned(),
            format!("Add {flag} = true or false."),
        );
    }
    let UnitOf::Unit(unit) = unit else { return None };
    let number = number?;
    let Amount::Mass(mass) = unit.amount(number) else { return None };
    Some(ClassEdge { at: mass, included, printed: format!("{number} {}", unit.word()) })
}

fn read_row(table: &Fields<'_>) -> Option<(TubeUse, TubeRow)> {
    let use_ = table.word("use", TubeUse::WORDS);
    let (outside, wall) = (table.number("outside"), table.number("wall"));
    let unit = table.word("unit", &[("in", Unit::Inch), ("mm", Unit::Millimetre)]);
    let made = table.words("made", Made::WORDS);
    let (bonus_outside, bonus_wall) = (table.number_maybe("bonus_outside"), table.number_maybe("bonus_wall"));
    if bonus_outside.is_some() != bonus_wall.is_some() {
        let wanted = "Give bonus_outside and bonus_wall together, or neither.";
        table.slip("bonus_outside", "Half of a bonus is missing.", wanted);
    }
    table.finish();
    let (outside, wall, unit) = (outside?, wall?, unit?);
    let (size, length): (TubeSize, fn(f64) -> Length) = if unit == Unit::Inch {
        (TubeSize::inch(outside, wall), Length::from_inches)
    } else {
        (TubeSize::metric(outside, wall), Length::from_mm)
    };
    for fault in size.faults() {
        let wanted = "Check the figure and its unit.";
        table.slip(if fault.at == "wall" { "wall" } else { "outside" }, fault.why, wanted);
    }
    let row = TubeRow { size, made, bonus_outside: bonus_outside.map(length), bonus_wall: bonus_wall.map(length) };
    Some((use_?, row))
}
