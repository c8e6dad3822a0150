//! What a rule says of a figure does not hang on the units it was typed in, nor on those it is shown in.

use proptest::prelude::*;
use tackbook::domain::book::{RuleBook, read};
use tackbook::domain::judge::verdicts::{Known, Verdict, judge};
use tackbook::domain::measure::amounts::Amount;
use tackbook::domain::measure::figures::Figure;
use tackbook::domain::measure::measures::Measure;
use tackbook::domain::measure::tools::Tool;
use tackbook::domain::steel::tube::TubeSize;
use tackbook::domain::words::car_dates::CarDates;
use tackbook::domain::words::ids::{Balloon, Kind};
use tackbook::domain::words::roles::MemberRole;
use tackbook::quantity::{FromTyped as _, Length, Show as _, Units};

use crate::known::{bar, figure, nothing};

const BAR: Balloon = Balloon::new(Kind::Member, 1);

/// So many 64ths of an inch in millimetres, every digit of them: one is 0.396875 mm.
fn millimetres(sixty_fourths: u32) -> String {
    let millionths = u64::from(sixty_fourths) * 396_875;
    format!("{}.{:06}", millionths / 1_000_000, millionths % 1_000_000)
}

/// The same in inches as a decimal: one is 0.015625 in.
fn inches(sixty_fourths: u32) -> String {
    let millionths = u64::from(sixty_fourths) * 15_625;
    format!("{}.{:06}", millionths / 1_000_000, millionths % 1_000_000)
}

/// A book with one limit on a gap, its edge printed in one unit or the other.
fn book(edge: u32, most: bool, included: bool, metric: bool) -> RuleBook {
    let (value, unit) = if metric { (millimetres(edge), "mm") } else { (inches(edge), "in") };
    let side = if most { "most" } else { "least" };
    let text = format!(
        "[book]\nname = \"x\"\nbody = \"x\"\nedition = \"x\"\nunits = \"metric\"\n[[limit]]\nid = \"r\"\nclause = \"1\"\n\
         text_ours = \"x\"\nforce = \"must\"\nevidence = \"figure\"\nsure = \"from memory\"\n\
         measure = \"helmet to the nearest bar\"\nof = \"every bar\"\n{side} = {value}\n{side}_included = {included}\n\
         unit = \"{unit}\"\n",
    );
    read(&text).unwrap()
}

/// What the rule says of a gap as typed.
fn judged(book: &RuleBook, typed: &str, units: Units, tool: Option<Tool>) -> Verdict {
    let gap = Length::from_typed_as(typed, units).unwrap();
    let tube = TubeSize::inch(1.5, 0.12);
    let hoop = MemberRole::MainHoop;
    let typed = figure(Measure::HeadGap, BAR, Some(hoop), tube.outside, Amount::Length(gap));
    let figure = Figure { tool, ..typed };
    let bar = bar(BAR, hoop, None, tube);
    let (car, today) = (CarDates::default(), jiff::civil::date(2026, 6, 1));
    let known = Known { figures: &[figure], members: &[bar], ..nothing(&car, today) };
    judge(book, &known).verdicts.remove(0)
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(500) })]

    #[test]
    fn a_verdict_never_flips_by_the_units(
        edge in 1_u32..640,
        off in -3_i64..=3,
        (most, included) in (any::<bool>(), any::<bool>()),
        tool in prop::option::of(prop::sample::select(Tool::ALL)),
    ) {
        let gap = u32::try_from((i64::from(edge) + off).max(1)).unwrap();
        let tool = tool.filter(|tool| matches!(tool.step(), None | Some(Amount::Length(_))));
        let as_typed = [
            (format!("{gap}/64 in"), Units::Metric),
            (inches(gap), Units::Inch),
            (millimetres(gap), Units::Metric),
            (format!("{} mm", millimetres(gap)), Units::Inch),
        ];
        let mut words = Vec::new();
        for metric in [false, true] {
            let book = book(edge, most, included, metric);
            for (typed, units) in &as_typed {
                let verdict = judged(&book, typed, *units, tool);
                words.push(verdict.word);
                // What is shown must not say otherwise: a broken rule is not off by nothing, and its figure is not its limit.
                for shown in [Units::Inch, Units::Metric].into_iter().filter(|_| verdict.word.fails() && gap != edge) {
                    let told = verdict.describe(shown);
                    prop_assert!(told.contains(|c: char| ('1'..='9').contains(&c)), "{told}: {typed} against {edge}/64");
                    let limit = verdict.limit.as_ref().and_then(|limit| limit.amount).unwrap();
                    prop_assert_ne!(verdict.describe_figure(shown), limit.show(shown));
                }
            }
        }
        prop_assert!(words.windows(2).all(|pair| pair.first() == pair.last()), "{words:?}: {gap} against {edge}");
    }
}
