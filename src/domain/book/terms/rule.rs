//! What every rule of a book carries: its name, clause and words, how hard it binds, what proves it, when it is asked.

use crate::domain::measure::measures::Measure;
use crate::domain::words::roles::MemberRole;

use super::bound::Value;
use super::dated::AppliesWhen;
use super::fields::Fields;
use super::words::words;

words!(
    /// How hard a rule binds.
    Force {
        /// It must be kept.
        Must = "must",
        /// It is recommended.
        Should = "should",
        /// It is allowed.
        May = "may",
        /// The scrutineer decides in each case.
        Scrutineer = "scrutineer",
    }
);

words!(
    /// What shows that a rule is kept.
    Evidence {
        /// A figure, from the model or measured.
        Figure = "figure",
        /// A photograph.
        Photo = "photo",
        /// A certificate, a receipt, a declaration: photographed too.
        Paper = "paper",
    }
);

words!(
    /// How sure the book's writer is of a rule.
    Sure {
        /// The body's own text was read.
        TextSeen = "text seen",
        /// Somebody's restatement was read.
        SecondHand = "quoted second-hand",
        /// Written from memory.
        FromMemory = "from memory",
        /// No rule; what shops usually do.
        CommonPractice = "common practice",
        /// The body is invented, and so is the rule: it is in no real book.
        Invented = "invented",
        /// Made up for the demo's book, and for nothing else.
        ForTheDemo = "invented for the demo",
    }
);

words!(
    /// How a figure is compared with a value.
    Compare {
        /// The value itself does not count.
        MoreThan = "more than",
        /// The value itself counts.
        AtLeast = "at least",
        /// The value itself does not count.
        LessThan = "less than",
        /// The value itself counts.
        AtMost = "at most",
    }
);

/// What a limit is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Of {
    /// Bars of a role, and what belongs to them.
    Role(MemberRole),
    /// Every bar.
    EveryBar,
    /// Every foot plate.
    Plate,
    /// Every gusset.
    Gusset,
    /// Every stick of tube.
    Stick,
}

impl Of {
    /// Every value and its word.
    pub fn words() -> Vec<(&'static str, Self)> {
        let others =
            [("every bar", Self::EveryBar), ("plate", Self::Plate), ("gusset", Self::Gusset), ("stick", Self::Stick)];
        MemberRole::ALL.into_iter().map(|role| (role.word(), Self::Role(role))).chain(others).collect()
    }

    /// The word for it in a book.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Role(role) => role.word(),
            Self::EveryBar => "every bar",
            Self::Plate => "plate",
            Self::Gusset => "gusset",
            Self::Stick => "stick",
        }
    }
}

/// When a rule is asked of a car at all.
#[derive(Debug, Clone, PartialEq)]
pub enum NeededIf {
    /// When a bar of this role is fitted.
    Fitted(MemberRole),
    /// When a figure stands so to a value.
    Figure {
        /// Which figure.
        measure: Measure,
        /// Of what.
        of: Of,
        /// How it is compared.
        compare: Compare,
        /// With what.
        value: Value,
        /// The value as the book prints it.
        printed: String,
    },
}

/// What every rule carries.
#[derive(Debug, Clone, PartialEq)]
pub struct Rule {
    /// Its name in the book; no two are alike.
    pub id: String,
    /// The clause of the body's book, as cited.
    pub clause: String,
    /// What it asks, in our own words.
    pub words: String,
    /// How hard it binds.
    pub force: Force,
    /// What shows that it is kept.
    pub evidence: Evidence,
    /// How sure the writer is of it.
    pub sure: Sure,
    /// When it is asked; always, when none.
    pub needed_if: Option<NeededIf>,
    /// Of cars of which age it is asked; of all, when none.
    pub applies_when: Option<AppliesWhen>,
    /// The rules that stand in for it: it is not asked of a car that meets one of them.
    pub exempt_with: Vec<String>,
}

impl Rule {
    /// Reads the fields that every rule has.
    pub(in crate::domain::book) fn read(fields: &Fields<'_>) -> Option<Self> {
        let id = fields.key("id");
        let clause = fields.title("clause");
        let words = fields.text("text_ours");
        let force = fields.word("force", Force::WORDS);
        let evidence = fields.word("evidence", Evidence::WORDS);
        let sure = fields.word("sure", Sure::WORDS);
        let needed_if = match fields.table_maybe("needed_if", "a condition for a rule") {
            Some(table) => Some(NeededIf::read(&table)?),
            None => None,
        };
        let applies_when = match fields.table_maybe("applies_when", "the cars a rule is asked of") {
            Some(table) => Some(AppliesWhen::read(&table)?),
            None => None,
        };
        let exempt_with = fields.texts("exempt_with");
        Some(Self {
            id: id?,
            clause: clause?,
            words: words?,
            force: force?,
            evidence: evidence?,
            sure: sure?,
            needed_if,
            applies_when,
            exempt_with,
        })
    }
}

impl NeededIf {
    fn read(fields: &Fields<'_>) -> Option<Self> {
        if fields.has("fitted") {
            let role = fields.role("fitted");
            fields.finish();
            return role.map(Self::Fitted);
        }
        let measure = fields.measure("measure");
        let of = fields.word("of", &Of::words());
        let compare = fields.word("compare", Compare::WORDS);
        let number = fields.number("value");
        let unit = measure.map(|measure| fields.unit_of(measure.dimension()));
        fields.known("unit");
        fields.known("fitted");
        fields.finish();
        let (number, unit) = (number?, unit?);
        let amount = unit.amount(number)?;
        let printed = unit.printed(number);
        Some(Self::Figure { measure: measure?, of: of?, compare: compare?, value: Value::Amount(amount), printed })
    }
}
