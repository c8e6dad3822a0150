//! What a form asks of each kind of rule: one field for each field of the text, under the words people use for it.

use crate::domain::book::terms::rule_kinds::RuleKind;

use crate::domain::book::kinds::{
    Before, CountsFrom, EdgeBelongs, Ends, GUSSET_KINDS, LabelField, Made, Per, Stiffener, TubeUse, TwoLabels,
};
use crate::domain::book::terms::bound::Unit;
use crate::domain::book::terms::fields::roles;
use crate::domain::book::terms::rule::{Compare, Evidence, Force, Of, Sure};
use crate::domain::measure::measures::Measure;
use crate::domain::words::car_dates::CarDate;

/// One field of a form, which is one field of the text.
#[derive(Debug, Clone, Copy)]
pub struct Ask {
    /// Its name in the text.
    pub name: &'static str,
    /// What it is called on screen.
    pub label: &'static str,
    /// The unit, an example, what is meant when it is left empty.
    pub hint: &'static str,
    /// What is filled in.
    pub shape: Shape,
}

/// What is filled into a field.
#[derive(Debug, Clone, Copy)]
pub enum Shape {
    /// A few words.
    Line,
    /// Running text.
    Text,
    /// A number, its unit beside it.
    Number,
    /// Yes or no, or nothing.
    YesNo,
    /// A day.
    Day,
    /// One of some words.
    Word(fn() -> Vec<&'static str>),
    /// Some lines, each an entry.
    Lines,
    /// Any of some words.
    Words(fn() -> Vec<&'static str>),
    /// Fields that stand together, or are all left out.
    Group(&'static [Ask]),
    /// The same fields over and over.
    Rows(&'static [Ask]),
}

const fn ask(name: &'static str, label: &'static str, shape: Shape) -> Ask {
    Ask { name, label, hint: "", shape }
}

impl Ask {
    const fn hint(self, hint: &'static str) -> Self {
        Self { hint, ..self }
    }
}

fn of<T>(words: &[(&'static str, T)]) -> Vec<&'static str> {
    words.iter().map(|entry| entry.0).collect()
}

const ROLE: Shape = Shape::Word(|| of(&roles()));
const ROLES: Shape = Shape::Words(|| of(&roles()));
const MEASURE: Shape = Shape::Word(|| Measure::ALL.iter().map(|measure| measure.word()).collect());
const OF: Shape = Shape::Word(|| of(&Of::words()));
const UNIT: Shape = Shape::Word(|| of(Unit::WORDS));

const COMMON: &[Ask] = &[
    ask("clause", "Clause", Shape::Line).hint("As the body's book numbers it."),
    ask("text_ours", "The rule in our own words", Shape::Text),
    ask("force", "How hard it binds", Shape::Word(|| of(Force::WORDS))),
    ask("evidence", "What shows that it is kept", Shape::Word(|| of(Evidence::WORDS))),
    ask("sure", "How it is known", Shape::Word(|| of(Sure::WORDS)))
        .hint("Text seen only where the body's own text was read."),
];

const WHEN: &[Ask] = &[
    ask(
        "needed_if",
        "Asked only where something is fitted, or a figure stands so",
        Shape::Group(&[
            ask("fitted", "This bar is fitted", ROLE),
            ask("measure", "or this figure", MEASURE),
            ask("of", "of", OF),
            ask("compare", "is", Shape::Word(|| of(Compare::WORDS))),
            ask("value", "this much", Shape::Number),
            ask("unit", "Unit", UNIT),
        ]),
    )
    .hint("Always asked when all of this is empty."),
    ask(
        "applies_when",
        "Asked only of cars of some age",
        Shape::Group(&[
            ask("car", "The car was", Shape::Word(|| CarDate::ALL.iter().map(|date| date.word()).collect())),
            ask("from", "from this day on", Shape::Day).hint("2026-01-31"),
            ask("before", "before this day", Shape::Day).hint("2026-01-31"),
        ]),
    )
    .hint("Of all cars when all of this is empty."),
    ask("exempt_with", "Not asked where one of these rules is met", Shape::Lines)
        .hint("The names of other rules of this book, one on each line."),
    ask("id", "Its name in this book", Shape::Line).hint(
        "Small letters, digits and hyphens: tube-light. Photographs hold on to it: keep it when only the words change.",
    ),
];

const HEAD: &[Ask] = &[
    ask("name", "Name", Shape::Line),
    ask("body", "The body whose rules it restates", Shape::Line),
    ask("edition", "Edition", Shape::Line).hint("No two editions of a book are called alike."),
    ask("valid_from", "First day in force", Shape::Day).hint("2026-01-31"),
    ask("valid_to", "Last day in force", Shape::Day).hint("2026-12-31"),
    ask("units", "Units it prints first", Shape::Word(|| vec!["inch", "metric"])),
    ask("source_note", "Where its text was seen", Shape::Text),
];

const WEIGHT: &[Ask] = &[
    ask("edge_belongs_to", "A weight exactly on an edge belongs to", Shape::Word(|| of(EdgeBelongs::WORDS))),
    ask("gaps_as_printed", "The body's own table leaves weights out, or has one twice", Shape::YesNo),
    ask("hoop_bars", "Bars that take the tube for hoops", ROLES),
    ask(
        "conditions",
        "What is ticked at the weigh-in",
        Shape::Rows(&[
            ask("key", "Short name", Shape::Line).hint("Kept with the weigh-in: tank at half."),
            ask("words", "What is ticked", Shape::Text),
        ]),
    ),
];

const WEIGHT_CLASS: &[Ask] = &[
    ask("name", "What the class is called", Shape::Line),
    ask("over", "From this weight", Shape::Number),
    ask("over_included", "That weight itself is in the class", Shape::YesNo)
        .hint("Only where each class says so for itself."),
    ask("upto", "To this weight", Shape::Number),
    ask("upto_included", "That weight itself is in the class", Shape::YesNo)
        .hint("Only where each class says so for itself."),
    ask("unit", "Unit of the weights", Shape::Word(|| vec!["kg", "lb"])),
    ask(
        "tube",
        "Tubes, at least one for hoops and one for the others",
        Shape::Rows(&[
            ask("use", "For", Shape::Word(|| of(TubeUse::WORDS))),
            ask("outside", "Outside diameter, at least", Shape::Number),
            ask("wall", "Wall, at least", Shape::Number),
            ask("unit", "Unit", Shape::Word(|| vec!["in", "mm"])),
            ask("made", "How it may have been made", Shape::Words(|| of(Made::WORDS)))
                .hint("Any way when none is chosen."),
            ask("bonus_outside", "From this outside diameter on …", Shape::Number),
            ask("bonus_wall", "… this wall is enough", Shape::Number),
        ]),
    ),
];

const STEEL: &[Ask] = &[
    ask("carbon_upto", "Carbon at most, per cent", Shape::Number),
    ask("manganese_upto", "Manganese at most, per cent", Shape::Number),
    ask("other_upto", "Any other element at most, per cent", Shape::Number),
    ask("strength", "Strength at least", Shape::Number),
    ask("strength_is", "Which strength", Shape::Word(|| vec!["tensile", "yield"])),
    ask("unit", "Unit of the strength", Shape::Word(|| vec!["N/mm²", "MPa", "ksi"])),
];

const MEMBER: &[Ask] = &[
    ask("role", "Bar", ROLE),
    ask("either", "Bars that do as well", ROLES),
    ask("count", "How many, at least", Shape::Number).hint("1 when empty."),
    ask("each_side", "So many on each side", Shape::YesNo),
];

const LIMIT: &[Ask] = &[
    ask("measure", "Figure", MEASURE),
    ask("of", "Of", OF),
    ask("least", "At least", Shape::Number),
    ask("least_included", "The least itself is allowed", Shape::YesNo).hint("Yes when left open."),
    ask("most", "At most", Shape::Number),
    ask("most_included", "The most itself is allowed", Shape::YesNo).hint("Yes when left open."),
    ask("unit", "Unit", UNIT).hint("None for a count, a ratio or a share."),
    ask("times_diameter", "Counted in diameters of the tube", Shape::YesNo).hint("Then there is no unit."),
    ask("share_of", "Counted in shares of another figure", MEASURE).hint("Then there is no unit."),
    ask("gusset_kinds", "Of gussets made as", Shape::Words(|| of(&GUSSET_KINDS))).hint("Of all when none is chosen."),
];

const PLATE: &[Ask] = &[
    ask("under", "Under the feet of", Shape::Word(|| [vec!["every foot"], of(&roles())].concat())),
    ask("unit", "Unit", Shape::Word(|| vec!["mm", "cm", "in"])).hint("Areas in its square."),
    ask("area_least", "Area at least", Shape::Number),
    ask("area_least_per_diameter", "Area at least, times the tube's diameter", Shape::Number),
    ask("area_most", "Area at most", Shape::Number),
    ask("side_least", "Each side at least", Shape::Number),
    ask("side_least_diameters", "Each side at least, in diameters", Shape::Number),
    ask("side_most", "Each side at most", Shape::Number),
    ask("thick_least", "Thickness at least", Shape::Number),
    ask("thick_most", "Thickness at most", Shape::Number),
    ask("bolts", "If bolted: bolts at least", Shape::Number),
    ask("bolt_size", "If bolted: size at least", Shape::Line).hint("M8, 3/8 in"),
    ask("bolt_grade", "If bolted: grade at least", Shape::Line).hint("8.8, grade 5"),
    ask("bolt_spread_deg", "If bolted: degrees between two bolts, at least", Shape::Number),
    ask("bolt_section_share", "If bolted: share of another foot's bolt section", Shape::Line).hint("2/3"),
    ask("bolt_section_of", "Of the feet of", ROLE),
    ask("double_shear_counts_twice", "A bolt sheared in two planes counts twice", Shape::YesNo),
];

const GUSSET: &[Ask] = &[
    ask("at", "Where these bars meet", Shape::Lines)
        .hint("One on each line, by its word; a bar twice means two of it."),
    ask("count_least", "How many, at least", Shape::Number).hint("1 when empty."),
    ask("count_most", "How many, at most", Shape::Number),
    ask("either", "What does", Shape::Words(|| of(Stiffener::WORDS))).hint("A gusset when none is chosen."),
];

const KIT: &[Ask] = &[
    ask("item", "Item", Shape::Line).hint("belts, seat"),
    ask("standards", "Standards that do", Shape::Lines).hint("One on each line; any when empty."),
    ask("counts_from", "Its life counts from when it was", Shape::Word(|| of(CountsFrom::WORDS)))
        .hint("Only an end that is printed on it ends it when left open."),
    ask("life_years", "Life in years", Shape::Number),
    ask("ends", "In its last year it ends on the", Shape::Word(|| of(Ends::WORDS))).hint(
        "Day when left open. A label that shows less, as only a year, counts from its first day; “label end” is the last day \
         of what it shows.",
    ),
    ask("included", "The last day itself is good", Shape::YesNo).hint("Yes when left open."),
    ask("extend_years", "Years that the body adds", Shape::Number),
    ask("label_fields", "What the label must show", Shape::Words(|| of(LabelField::WORDS))),
    ask("two_labels", "Of two labels counts", Shape::Word(|| of(TwoLabels::WORDS))),
];

const SHOT: &[Ask] = &[
    ask("what", "What it is of", Shape::Text),
    ask("per", "Of each", Shape::Word(|| of(Per::WORDS))),
    ask("views", "Views, a photograph each", Shape::Lines).hint("One on each line; one photograph when empty."),
    ask("must_show", "What must be seen in it", Shape::Lines).hint("One on each line."),
    ask("before", "Before which work", Shape::Word(|| of(Before::WORDS))),
];

const HOLD: &[Ask] = &[
    ask("stops_work", "Work that waits", Shape::Lines).hint("One on each line."),
    ask("released_by", "Whose yes it waits for", Shape::Line),
];

impl RuleKind {
    /// What a form asks of it, in the form's order.
    pub fn asks(self) -> impl Iterator<Item = &'static Ask> {
        let (common, own, when): (&[Ask], &[Ask], &[Ask]) = match self {
            Self::Head => (&[], HEAD, &[]),
            Self::Weight => (COMMON, WEIGHT, WHEN),
            Self::WeightClass => (COMMON, WEIGHT_CLASS, WHEN),
            Self::Steel => (COMMON, STEEL, WHEN),
            Self::Member => (COMMON, MEMBER, WHEN),
            Self::Limit => (COMMON, LIMIT, WHEN),
            Self::Plate => (COMMON, PLATE, WHEN),
            Self::Gusset => (COMMON, GUSSET, WHEN),
            Self::Kit => (COMMON, KIT, WHEN),
            Self::Shot => (COMMON, SHOT, WHEN),
            Self::Hold => (COMMON, HOLD, WHEN),
        };
        common.iter().chain(own).chain(when)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::book::read;

    /// The fields that the reader asks for, as it says them where it meets one that it does not know.
    fn asked_by_the_reader(toml: &str) -> Vec<String> {
        let mistakes = read(toml).err().unwrap_or_default();
        let found = mistakes.iter().find(|mistake| mistake.what.contains("“zzzzqqqq”"));
        let list = found.and_then(|found| found.wanted.strip_prefix("Fields here are ")).unwrap_or_default();
        let mut names: Vec<String> = list.trim_end_matches('.').split(", ").map(str::to_owned).collect();
        names.sort();
        names
    }

    fn names<'a>(asks: impl Iterator<Item = &'a Ask>) -> Vec<String> {
        let mut names: Vec<String> = asks.map(|ask| ask.name.to_owned()).collect();
        names.sort();
        names
    }

    #[test]
    fn a_form_asks_for_what_the_reader_asks_for_and_nothing_else() {
        for kind in RuleKind::ALL {
            let (table, bracket) = (kind.table(), if kind.single() { 1 } else { 2 });
            let header = format!("{}{table}{}\n", "[".repeat(bracket), "]".repeat(bracket));
            assert_eq!(asked_by_the_reader(&format!("{header}zzzzqqqq = 1\n")), names(kind.asks()), "{table}");
            for ask in kind.asks() {
                let (asks, inner) = match ask.shape {
                    Shape::Group(asks) => (asks, "{ zzzzqqqq = 1 }"),
                    Shape::Rows(asks) => (asks, "[{ zzzzqqqq = 1 }]"),
                    _ => continue,
                };
                let toml = format!("{header}{} = {inner}\n", ask.name);
                assert_eq!(asked_by_the_reader(&toml), names(asks.iter()), "{table}.{}", ask.name);
            }
        }
    }
}
