//! A rule's words beside its fields: each figure of the words that has a unit or is compared must be one that the fields
//! hold, from the same side. A rule that says two things is judged by the one and read by the other.

mod held;
mod said;
mod side;

use held::Held;
use said::{Said, figures};
use side::Side;

use crate::domain::book::kinds::{GussetRule, KitRule, Limit, MemberNeeded, PlateRule, SteelRule, WeightClass};
use crate::domain::book::terms::fields::Fields;
use crate::domain::book::terms::rule::Rule;

/// A rule whose words can be held against its fields.
pub(in crate::domain::book) trait Agreeing {
    /// What every rule carries.
    fn rule(&self) -> &Rule;
    /// The figures that its own fields hold.
    fn held(&self) -> Vec<Held>;
}

/// Every kind of rule that holds figures.
macro_rules! agreeing {
    ($($kind:ty => $held:path;)+) => {$(
        impl Agreeing for $kind {
            fn rule(&self) -> &Rule {
                &self.rule
            }
            fn held(&self) -> Vec<Held> {
                $held(self)
            }
        }
    )+};
}

agreeing! {
    WeightClass => held::of_class;
    SteelRule => held::of_steel;
    MemberNeeded => held::of_member;
    Limit => held::of_limit;
    PlateRule => held::of_plate;
    GussetRule => held::of_gusset;
    KitRule => held::of_kit;
}

/// Reads a rule, and holds its words against its fields where those have no mistake of their own.
pub(in crate::domain::book) fn read<'f, T: Agreeing>(
    table: &Fields<'f>,
    read: impl Fn(&Fields<'f>) -> Option<T>,
) -> Option<T> {
    let before = table.mistakes();
    let rule = read(table)?;
    if table.mistakes() == before {
        check(table, &rule);
    }
    Some(rule)
}

/// Notes each figure of a rule's words that its fields do not hold.
fn check(fields: &Fields<'_>, rule: &impl Agreeing) {
    let common = rule.rule();
    let mut held = rule.held();
    held.extend(held::of_condition(common));
    for said in figures(&common.words) {
        if held.iter().any(|held| agrees(&said, held)) {
            continue;
        }
        let all: Vec<&str> = held.iter().map(|held| held.text.as_str()).collect();
        let own = if all.is_empty() { "no figure".to_owned() } else { all.join("; ") };
        let what = format!("The words say “{}”; the fields of this rule hold {own}.", said.text);
        let wanted = "Let both say the same. A figure that no field can hold is left out of the words and told in “source_note”.";
        fields.slip("text_ours", what, wanted);
    }
}

/// True when a figure that is said is one that is held, and from the same side.
fn agrees(said: &Said, held: &Held) -> bool {
    let side = match (said.side, held.side) {
        (Side::Unsaid, _) | (_, Side::Unsaid) => true,
        // "more than 50 mm is refused" says what "at most 50 mm" says
        (Side::MoreThan, other) => matches!(other, Side::MoreThan | Side::AtMost),
        (Side::LessThan, other) => matches!(other, Side::LessThan | Side::AtLeast),
        (one, other) => one == other,
    };
    let same = |one: f64, other: f64| (one - other).abs() <= other.abs() * NEAR;
    let by_unit = said.base.zip(held.base).is_some_and(|(one, other)| one.0 == other.0 && same(one.1, other.1));
    // A figure without a unit is the field's own number. So is one of a diameter that is a share of another diameter.
    let bare = said.base.is_none_or(|base| base.0 == side::Kind::Diameters) && same(said.number, held.number);
    side && (by_unit || bare)
}

/// How far apart two figures may be that are the same: a mass in whole pounds beside its kilograms.
const NEAR: f64 = 1e-4;

#[cfg(test)]
mod tests {
    use crate::domain::book::read as read_book;

    /// A book with one rule of a kind.
    fn describe(kind: &str, words: &str, fields: &str) -> Vec<String> {
        let weight = "[weight]\nid = \"w\"\nclause = \"1\"\ntext_ours = \"x\"\nforce = \"must\"\nevidence = \"figure\"\n\
                      sure = \"from memory\"\nedge_belongs_to = \"lighter\"\n";
        let weight = if kind == "weight_class" { weight } else { "" };
        let toml = format!(
            "[book]\nname = \"x\"\nbody = \"x\"\nedition = \"x\"\nunits = \"metric\"\n{weight}[[{kind}]]\nid = \"r\"\n\
             clause = \"1\"\ntext_ours = \"{words}\"\nforce = \"must\"\nevidence = \"figure\"\nsure = \"from memory\"\n\
             {fields}\n"
        );
        let line = toml.lines().position(|line| line.contains(words)).map(|at| at + 1);
        let mistakes = read_book(&toml).err().unwrap_or_default();
        assert!(
            mistakes.iter().all(|mistake| Some(mistake.line) == line && mistake.at.ends_with(".text_ours")),
            "{mistakes:#?}"
        );
        mistakes.into_iter().map(|mistake| mistake.what).collect()
    }

    const LEAN: &str = "measure = \"angle to vertical\"\nof = \"backstay\"\nleast = 55\nunit = \"degrees\"";
    const GAP: &str = "measure = \"gap to the body\"\nof = \"main hoop\"\nmost = 50\nunit = \"mm\"";
    const LEG: &str = "measure = \"gusset leg\"\nof = \"gusset\"\nleast = 2\nmost = 4\ntimes_diameter = true";
    const PLATE: &str = "under = \"every foot\"\nunit = \"cm\"\narea_least = 95\nside_least = 5\nbolts = 4\nbolt_size = \"M8\"\n\
                         bolt_grade = \"10.9\"\nbolt_spread_deg = 50";

    #[test]
    fn words_and_limit_that_contradict_each_other_are_a_mistake_at_their_line() {
        let what = "The words say “at least 30”; the fields of this rule hold at least 55 degrees.";
        assert_eq!(describe("limit", "A backstay stands at least 30 off the vertical.", LEAN), [what]);
        for (kind, fields, wrong) in [
            ("limit", LEAN, "At most 55 degrees."),
            ("limit", LEAN, "At least 55 mm."),
            ("limit", LEAN, "More than 54.9 degrees."),
            ("limit", GAP, "At most 2 in."),
            ("limit", GAP, "At least 50 mm."),
            ("limit", GAP, "Not less than 50 mm."),
            ("limit", LEG, "Two to three diameters of the tube."),
            ("limit", LEG, "A leg of at least three times the tube's diameter."),
            ("plate", PLATE, "At least 96 square centimetres."),
            ("plate", PLATE, "At least three bolts."),
            ("plate", PLATE, "At least 95 cm² and 4 mm thick."),
            ("plate", PLATE, "No two bolts closer than 60 degrees."),
            ("plate", PLATE, "Class 8.8 or more."),
            ("gusset", "at = [\"main hoop\", \"backstay\"]\ncount_least = 2", "At least one gusset."),
            ("gusset", "at = [\"main hoop\", \"backstay\"]\ncount_most = 2", "No joint has more than three."),
            ("member_needed", "role = \"door bar\"\ncount = 2", "One bar or more."),
            ("steel", "carbon_upto = 0.24", "At most 0.24 % carbon and 1.5 % manganese."),
            ("kit", "item = \"belts\"\nlife_years = 4\ncounts_from = \"made\"", "Belts last five years."),
        ] {
            assert_eq!(describe(kind, wrong, fields).len(), 1, "{wrong}");
        }
    }

    #[test]
    fn words_that_say_what_the_fields_hold_read() {
        for (kind, fields, right) in [
            ("limit", LEAN, "At least 55 degrees from the vertical, as drawing 253-15 of 2009 shows (see 4.30)."),
            ("limit", LEAN, "Less than 55 degrees is refused; two straight stays, one a side, are in front of 3 feet."),
            ("limit", LEAN, "A stay is not below 55° off the vertical."),
            ("limit", GAP, "A gap over 50 mm is shown to the scrutineer."),
            ("limit", GAP, "No further than 5 cm from the shell."),
            ("limit", GAP, "The gap stays within 50 mm, or it is no more than 0.05 m."),
            ("limit", LEG, "Two to four diameters of the larger tube."),
            ("limit", LEG, "At least twice, two times the outside diameter, and at most 4 of its diameters."),
            (
                "plate",
                PLATE,
                "At least 95 cm², 9500 mm², and at least four bolts, class 10.9 or more, 50 degrees or more apart.",
            ),
            ("plate", PLATE, "No side is shorter than 50 mm, and no two bolts stand closer together than 50 degrees."),
            (
                "gusset",
                "at = [\"main hoop\", \"backstay\"]\ncount_least = 1\ncount_most = 2",
                "One or more, and no joint has more than two.",
            ),
            (
                "member_needed",
                "role = \"door bar\"\ncount = 2",
                "At least two bars in each door; from 1 January 2007 on.",
            ),
            ("steel", "carbon_upto = 0.24", "At most 0.24 per cent of carbon."),
            (
                "steel",
                "strength = 60\nstrength_is = \"yield\"\nunit = \"ksi\"",
                "At least 60 ksi, which is 413.7 N/mm².",
            ),
            (
                "kit",
                "item = \"belts\"\nlife_years = 4\nextend_years = 2\ncounts_from = \"made\"",
                "Four years, and 2 years more.",
            ),
            (
                "weight_class",
                CLASS,
                "A car of at most 1,120 kg (2,469 lb): 42.4 × 2.6 mm, others 1.5 × .095 in or 38 by 2.3 mm.",
            ),
            ("shot", "what = \"x\"\nper = \"joint\"\nbefore = \"paint\"", "From at least 2 m away."),
        ] {
            assert_eq!(describe(kind, right, fields), Vec::<String>::new(), "{right}");
        }
    }

    const CLASS: &str = "name = \"light\"\nupto = 1120\nunit = \"kg\"\ntube = [{ use = \"hoop\", outside = 42.4, wall = 2.6, \
                         unit = \"mm\" }, { use = \"other\", outside = 1.5, wall = 0.095, unit = \"in\" }, { use = \"other\", \
                         outside = 38, wall = 2.3, unit = \"mm\" }]";

    #[test]
    fn a_condition_of_the_rule_may_stand_in_its_words() {
        let only = "role = \"pillar strut\"\ncount = 1\nneeded_if = { measure = \"pillar dimension A\", of = \"front hoop\", \
                    compare = \"more than\", value = 200, unit = \"mm\" }";
        assert_eq!(
            describe("member_needed", "A strut where dimension A is more than 200 mm.", only),
            Vec::<String>::new()
        );
        let other = describe("member_needed", "A strut where dimension A is more than 180 mm.", only);
        let what = "The words say “more than 180 mm”; the fields of this rule hold at least 1; more than 200 mm.";
        assert_eq!(other, [what]);
    }
}
