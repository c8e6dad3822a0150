//! A photograph that is asked for.

use crate::domain::book::Rule;
use crate::domain::book::terms::fields::Fields;
use crate::domain::book::terms::words::words;

words!(
    /// Of each of which things.
    Per {
        /// Of each joint.
        Joint = "joint",
        /// Of each gusset.
        Gusset = "gusset",
        /// Of each foot plate.
        Plate = "plate",
        /// Of each bent bar.
        Bend = "bend",
        /// Of each stick of tube.
        Stick = "stick",
        /// Of each item of kit.
        Kit = "kit item",
        /// Of each weigh-in.
        WeighIn = "weigh-in",
        /// Of the car, once.
        Car = "car",
    }
);

words!(
    /// Before which work.
    Before {
        /// Before the joint is tacked.
        Tack = "tack",
        /// Before full welding.
        Welding = "welding",
        /// Before paint.
        Paint = "paint",
    }
);

/// A photograph that is asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct ShotRule {
    /// What every rule carries.
    pub rule: Rule,
    /// What it is of, in words.
    pub what: String,
    /// Of each of which things.
    pub per: Per,
    /// The views, one photograph each; one photograph, when empty.
    pub views: Vec<String>,
    /// What must be seen in it.
    pub must_show: Vec<String>,
    /// Before which work.
    pub before: Before,
}

impl ShotRule {
    pub(in crate::domain::book) fn read(fields: &Fields<'_>) -> Option<Self> {
        let rule = Rule::read(fields);
        let what = fields.text("what");
        let per = fields.word("per", Per::WORDS);
        let views = fields.texts("views");
        let twice = views.iter().enumerate().any(|(at, view)| views.iter().skip(at + 1).any(|other| other == view));
        if twice {
            fields.slip("views", "A view is here twice.", "Name each view once.");
        }
        let must_show = fields.texts("must_show");
        let before = fields.word("before", Before::WORDS);
        fields.finish();
        Some(Self { rule: rule?, what: what?, per: per?, views, must_show, before: before? })
    }

    /// The keys its photographs are kept under, one for each view: `joint-tacked/wide`.
    pub fn keys(&self) -> Vec<String> {
        if self.views.is_empty() {
            return vec![self.rule.id.clone()];
        }
        self.views.iter().map(|view| format!("{}/{view}", self.rule.id)).collect()
    }
}
