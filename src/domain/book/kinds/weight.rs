//! How the car is weighed: what must be so on the scale, and to which class an edge belongs.

use crate::domain::book::Rule;
use crate::domain::book::terms::fields::Fields;
use crate::domain::book::terms::words::words;
use crate::domain::words::roles::MemberRole;

words!(
    /// To which class the weight exactly on an edge belongs.
    EdgeBelongs {
        /// To the lighter one: "up to and including".
        Lighter = "lighter",
        /// To the heavier one: "under".
        Heavier = "heavier",
        /// Each class says whether its edges are included, as its book prints them.
        EachSays = "each class says",
    }
);

/// Something that must be so while the car is weighed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Condition {
    /// Its short name, kept with the weigh-in.
    pub key: String,
    /// What is ticked.
    pub words: String,
}

/// How the car is weighed.
#[derive(Debug, Clone, PartialEq)]
pub struct Weight {
    /// What every rule carries.
    pub rule: Rule,
    /// What must be so.
    pub conditions: Vec<Condition>,
    /// Where an edge belongs.
    pub edge_belongs_to: EdgeBelongs,
    /// Whether the body's own table leaves weights out between classes, or puts one in two.
    pub gaps_as_printed: bool,
    /// The bars that take the class's tube for hoops; all others take the other one.
    pub hoop_bars: Vec<MemberRole>,
}

impl Weight {
    pub(in crate::domain::book) fn read(fields: &Fields<'_>) -> Option<Self> {
        let rule = Rule::read(fields);
        let edge_belongs_to = fields.word("edge_belongs_to", EdgeBelongs::WORDS);
        let hoop_bars = fields.roles("hoop_bars");
        let gaps_as_printed = fields.flag("gaps_as_printed", false);
        let mut conditions: Vec<Condition> = Vec::new();
        for table in fields.tables("conditions", "a condition of the weighing") {
            let (key, words) = (table.title("key"), table.text("words"));
            table.finish();
            if let (Some(key), Some(words)) = (key, words) {
                if conditions.iter().any(|known| known.key == key) {
                    table.slip("key", format!("“{key}” is here twice."), "Give each condition its own key.");
                }
                conditions.push(Condition { key, words });
            }
        }
        fields.finish();
        Some(Self { rule: rule?, conditions, edge_belongs_to: edge_belongs_to?, gaps_as_printed, hoop_bars })
    }
}
