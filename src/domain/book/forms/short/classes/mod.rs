//! The weight classes of a book as a table: a row each, with its edges and its two tubes.

use crate::domain::book::forms::editing::{Editing, Pairs};
use crate::domain::book::forms::short::rule::{Source, free_id, set, under};
use crate::domain::book::kinds::{EdgeBelongs, TubeUse};
use crate::domain::book::terms::mistake::Mistake;
use crate::domain::book::terms::rule_kinds::{Place, RuleKind};
use crate::domain::steel::tube::TubeSize;
use crate::domain::words::faults::Fault;
use crate::domain::words::roles::MemberRole;
use crate::quantity::{FromTyped, Mass, Typed, Units};

/// A row as it was typed. Empty edges: it begins where the row above ends, and has no end.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ClassRow {
    /// What the class is called; by its edges when empty.
    pub name: String,
    /// From this weight.
    pub over: String,
    /// To this weight.
    pub upto: String,
    /// Tube for the main bars.
    pub main: String,
    /// Tube for the other bars.
    pub other: String,
}

/// The whole table as it was typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ClassTable {
    /// Row by row; one that is empty is no class.
    pub rows: Vec<ClassRow>,
    /// To which class a weight exactly on an edge belongs.
    pub lighter: bool,
    /// The bars that take the tube for main bars.
    pub main_bars: Vec<MemberRole>,
    /// Where the table is from.
    pub source: Source,
    /// The units of a bare number.
    pub units: Units,
}

/// An edge as the book's text has it.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Edge {
    number: String,
    unit: &'static str,
}

/// A row that reads.
#[derive(Debug, Clone, PartialEq)]
struct Class {
    row: usize,
    name: String,
    over: Option<Edge>,
    upto: Option<Edge>,
    main: TubeSize,
    other: TubeSize,
}

fn tidy(number: f64) -> String {
    format!("{number:.6}").trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn edge(typed: &Typed<Mass>) -> Edge {
    let metric = typed.text.contains("kg");
    let (number, unit) = if metric { (typed.value.kg(), "kg") } else { (typed.value.lb(), "lb") };
    Edge { number: tidy(number), unit }
}

impl ClassRow {
    fn is_empty(&self) -> bool {
        [&self.name, &self.over, &self.upto, &self.main, &self.other].iter().all(|text| text.trim().is_empty())
    }
}

/// The name of a row's field in the form.
fn at(row: usize, field: &str) -> String {
    format!("class.{row}.{field}")
}

impl ClassTable {
    /// What is wrong with what was typed, at the fields `class.0.upto`, `main_bars`, `clause`, `sure`.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = self.read().err().unwrap_or_default();
        if self.rows.iter().all(ClassRow::is_empty) {
            faults.push(Fault::new(at(0, "main"), "Fill in one row at least: a table with one class has no edges."));
        }
        if self.main_bars.is_empty() {
            faults.push(Fault::new("main_bars", "Tick the bars that take the tube for main bars."));
        }
        faults.extend(self.source.faults());
        faults
    }

    fn read(&self) -> Result<Vec<Class>, Vec<Fault>> {
        let (mut classes, mut faults) = (Vec::new(), Vec::new());
        let mut above: Option<Edge> = None;
        for (row, typed) in self.rows.iter().enumerate().filter(|entry| !entry.1.is_empty()) {
            let mass = |field: &str, text: &str, faults: &mut Vec<Fault>| {
                if text.trim().is_empty() {
                    return None;
                }
                let read = Typed::<Mass>::read_as(text, self.units);
                read.map_err(|no| faults.push(Fault::new(at(row, field), no.to_string()))).ok().map(|read| edge(&read))
            };
            let tube = |field: &str, text: &str, faults: &mut Vec<Fault>| {
                let read = TubeSize::from_typed_as(text, self.units);
                let size = read.map_err(|no| faults.push(Fault::new(at(row, field), no.to_string()))).ok()?;
                let wrong = size.faults_at(&at(row, field));
                let good = wrong.is_empty();
                faults.extend(wrong);
                good.then_some(size)
            };
            let over = mass("over", &typed.over, &mut faults).or_else(|| above.clone());
            let upto = mass("upto", &typed.upto, &mut faults);
            let (main, other) = (tube("main", &typed.main, &mut faults), tube("other", &typed.other, &mut faults));
            if let (Some(over), Some(upto)) = (&over, &upto)
                && over.unit != upto.unit
            {
                faults.push(Fault::new(at(row, "upto"), "Type the weights of the table in one unit, kg or lb."));
            }
            above.clone_from(&upto);
            if let (Some(main), Some(other)) = (main, other) {
                let name = match typed.name.trim() {
                    "" => edges_in_words(over.as_ref(), upto.as_ref()),
                    name => name.to_owned(),
                };
                classes.push(Class { row, name, over, upto, main, other });
            }
        }
        if faults.is_empty() { Ok(classes) } else { Err(faults) }
    }

    /// The rows that a text's classes are; none where a table of rows cannot hold them: the text is none that a form can
    /// write, or each class says for itself whether its edges are in it.
    pub fn of(toml: &str) -> Option<(Vec<ClassRow>, bool, Vec<MemberRole>)> {
        let editing = Editing::of(toml)?;
        let weight = editing.typed(WEIGHT).unwrap_or_default();
        let belongs = under(&weight, "edge_belongs_to");
        let known = EdgeBelongs::WORDS.iter().find(|word| word.0 == belongs).map(|word| word.1);
        if known == Some(EdgeBelongs::EachSays) {
            return None;
        }
        let mut rows: Vec<ClassRow> = Vec::new();
        let mut above = String::new();
        for place in places(&editing) {
            let typed = editing.typed(place)?;
            let weight = |name: &str| match under(&typed, name) {
                "" => String::new(),
                number => format!("{number} {}", under(&typed, "unit")),
            };
            let tube = |wanted: TubeUse| {
                let at = tube_at(&typed, wanted)?;
                let part = |name: &str| under(&typed, &format!("tube.{at}.{name}")).to_owned();
                Some(format!("{} x {} {}", part("outside"), part("wall"), part("unit")))
            };
            let (over, upto) = (weight("over"), weight("upto"));
            let generated = edges_in_words(edge_of(&typed, "over").as_ref(), edge_of(&typed, "upto").as_ref());
            let name = under(&typed, "name");
            rows.push(ClassRow {
                name: if name == generated { String::new() } else { name.to_owned() },
                over: if over == above { String::new() } else { over },
                upto: upto.clone(),
                main: tube(TubeUse::Hoop)?,
                other: tube(TubeUse::Other)?,
            });
            above = upto;
        }
        let bars = under(&weight, "hoop_bars").lines().filter_map(|word| word.trim().parse().ok()).collect();
        Some((rows, known != Some(EdgeBelongs::Heavier), bars))
    }

    /// A text with these classes in the place of those it has, what a row does not say kept; and of each class there now the
    /// row that it is of. None where something is wrong, or no form can write it.
    pub fn write(&self, toml: &str) -> Option<(String, Vec<usize>)> {
        let classes = self.read().ok()?;
        let mut text = self.write_weight(toml)?;
        let there = places(&Editing::of(&text)?).len();
        let mut rows = Vec::new();
        for class in classes.iter().filter(|class| class.row < there) {
            let place = Place { kind: RuleKind::WeightClass, at: class.row };
            let editing = Editing::of(&text)?;
            let typed = class.over_typed(editing.typed(place)?);
            text = editing.write(place, &typed)?;
            rows.push(class.row);
        }
        for gone in (0..there).rev().filter(|at| !rows.contains(at)) {
            text = Editing::of(&text)?.take_out(Place { kind: RuleKind::WeightClass, at: gone })?;
        }
        for class in classes.iter().filter(|class| class.row >= there) {
            let editing = Editing::of(&text)?;
            let new = self.source.of_new(free_id(&editing, "class"), String::new());
            text = editing.add(RuleKind::WeightClass, &class.over_typed(new))?.0;
            rows.push(class.row);
        }
        Some((text, rows))
    }

    fn write_weight(&self, toml: &str) -> Option<String> {
        let editing = Editing::of(toml)?;
        let there = editing.typed(WEIGHT);
        let words = "The car is weighed, and its weight decides the tube.";
        let mut typed =
            there.clone().unwrap_or_else(|| self.source.of_new(free_id(&editing, "weighing"), words.to_owned()));
        set(&mut typed, "edge_belongs_to", if self.lighter { "lighter" } else { "heavier" });
        let bars: Vec<&str> = self.main_bars.iter().map(|role| role.word()).collect();
        set(&mut typed, "hoop_bars", bars.join("\n"));
        match there {
            Some(_) => editing.write(WEIGHT, &typed),
            None => Some(editing.add(RuleKind::Weight, &typed)?.0),
        }
    }

    /// The mistakes of a text that are about its classes or its weighing, each at the field of the form that mends it.
    pub fn faults_of(mistakes: &[Mistake], rows: &[usize]) -> Vec<Fault> {
        let fault = |mistake: &Mistake| {
            let place = Place::of_field(&mistake.at)?;
            let said = format!("{} {}", mistake.what, mistake.wanted);
            match place.kind {
                RuleKind::Weight => Some(Fault::new("weight", said)),
                RuleKind::WeightClass => {
                    let row = rows.get(place.at).copied().unwrap_or(place.at);
                    let field = match place.field_of(&mistake.at).unwrap_or_default() {
                        "over" => "over",
                        "upto" | "unit" => "upto",
                        "name" | "id" | "clause" | "text_ours" => "name",
                        field if field.starts_with("tube.0") => "main",
                        _ => "other",
                    };
                    Some(Fault::new(at(row, field), said))
                }
                _ => None,
            }
        };
        mistakes.iter().filter_map(fault).collect()
    }
}

const WEIGHT: Place = Place { kind: RuleKind::Weight, at: 0 };

fn places(editing: &Editing) -> Vec<Place> {
    let places = editing.rules().into_iter().map(|line| line.place);
    places.filter(|place| place.kind == RuleKind::WeightClass).collect()
}

/// Which of a class's tubes is the first for a use.
fn tube_at(typed: &Pairs, wanted: TubeUse) -> Option<usize> {
    let word = TubeUse::WORDS.iter().find(|word| word.1 == wanted)?.0;
    let tube = |name: &str| name.strip_prefix("tube.")?.strip_suffix(".use")?.parse().ok();
    typed.iter().filter(|pair| pair.1 == word).find_map(|pair| tube(&pair.0))
}

fn edge_of(typed: &Pairs, name: &str) -> Option<Edge> {
    let number = under(typed, name);
    let unit = if under(typed, "unit") == "kg" { "kg" } else { "lb" };
    (!number.is_empty()).then(|| Edge { number: number.to_owned(), unit })
}

fn edges_in_words(over: Option<&Edge>, upto: Option<&Edge>) -> String {
    let told = |edge: &Edge| format!("{} {}", edge.number, edge.unit);
    match (over.map(told), upto.map(told)) {
        (None, None) => "any weight".to_owned(),
        (None, Some(upto)) => format!("up to {upto}"),
        (Some(over), None) => format!("over {over}"),
        (Some(over), Some(upto)) => format!("over {over}, up to {upto}"),
    }
}

fn words(edges: &str, main: &str, other: &str) -> String {
    format!("A car of {edges}: main bars of {main}, other bars of {other}, or more.")
}

impl Class {
    /// What stood in a rule, or begins a new one, with this row written over it.
    fn over_typed(&self, mut typed: Pairs) -> Pairs {
        let said = |typed: &Pairs| {
            let size = |wanted| {
                let at = tube_at(typed, wanted)?;
                let part = |name: &str| under(typed, &format!("tube.{at}.{name}")).parse().ok();
                let metric = under(typed, &format!("tube.{at}.unit")) == "mm";
                let make = if metric { TubeSize::metric } else { TubeSize::inch };
                Some(make(part("outside")?, part("wall")?).to_string())
            };
            let edges = edges_in_words(edge_of(typed, "over").as_ref(), edge_of(typed, "upto").as_ref());
            Some(words(&edges, &size(TubeUse::Hoop)?, &size(TubeUse::Other)?))
        };
        // Words that a short form wrote follow its figures; those that somebody wrote stay theirs.
        let own = under(&typed, "text_ours");
        let follows = own.is_empty() || said(&typed).as_deref() == Some(own);
        set(&mut typed, "name", self.name.clone());
        for (name, edge) in [("over", &self.over), ("upto", &self.upto)] {
            set(&mut typed, name, edge.as_ref().map(|edge| edge.number.clone()).unwrap_or_default());
        }
        let unit = self.over.as_ref().or(self.upto.as_ref()).map(|edge| edge.unit).unwrap_or_default();
        set(&mut typed, "unit", unit);
        for (new, wanted, word, size) in
            [(0, TubeUse::Hoop, "hoop", self.main), (1, TubeUse::Other, "other", self.other)]
        {
            let tube = format!("tube.{}", tube_at(&typed, wanted).unwrap_or(new));
            let (outside, wall, unit) = match size.printed {
                Units::Inch => (size.outside.inches(), size.wall.inches(), "in"),
                Units::Metric => (size.outside.mm(), size.wall.mm(), "mm"),
            };
            set(&mut typed, format!("{tube}.use"), word);
            set(&mut typed, format!("{tube}.outside"), tidy(outside));
            set(&mut typed, format!("{tube}.wall"), tidy(wall));
            set(&mut typed, format!("{tube}.unit"), unit);
        }
        if follows {
            let edges = edges_in_words(self.over.as_ref(), self.upto.as_ref());
            let written = words(&edges, &self.main.to_string(), &self.other.to_string());
            set(&mut typed, "text_ours", written);
        }
        typed
    }
}

#[cfg(test)]
mod tests;
