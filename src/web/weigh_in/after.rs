//! What the weigh-in sheet shows of the finished car beside its prediction.

use crate::domain::derived::findings::Findings;
use crate::domain::judge::verdicts::Word;
use crate::drawing::weight_line::{Classes, compared_line, height};
use crate::quantity::{Length, Mass, Show as _, Units};
use crate::web::svg::Svg;

/// The drawing's width and its type, in millimetres of its own: on a phone its words stay readable.
const DRAWN: (Length, Length) = (Length::from_mm(110.0), Length::from_mm(4.6));

/// The finished car beside its prediction.
pub(super) struct After {
    pub(super) apart: String,
    pub(super) doubt: String,
    pub(super) more: &'static str,
    pub(super) fits: bool,
    pub(super) sentence: String,
    pub(super) class: Option<String>,
    /// Each kind of bars: the word, the bars, and what holds of them.
    pub(super) effects: Vec<(Word, String, String)>,
    pub(super) explains: Vec<String>,
    pub(super) ticked: Vec<(String, u32)>,
    pub(super) drawn: Option<Svg>,
}

impl After {
    /// From what follows; none before the finished car was weighed.
    pub(super) fn of(found: &Findings, units: Units) -> Option<Self> {
        let compared = found.compared.as_ref()?;
        let rules = found.worked.rules.as_ref().filter(|rules| !rules.weight_classes.is_empty());
        let (wide, size) = DRAWN;
        let effects = compared.effects.iter().map(|effect| (effect.word, effect.named(), effect.describe()));
        Some(Self {
            apart: compared.difference.abs().show(units),
            doubt: (compared.doubt * 2.0).show(units),
            more: if compared.difference < Mass::default() { "less" } else { "more" },
            fits: compared.fits(),
            sentence: compared.describe(units),
            class: compared.describe_class(),
            effects: effects.collect(),
            explains: compared.explains.iter().map(|explains| explains.describe(units)).collect(),
            ticked: compared.ticked_once.clone(),
            drawn: rules.map(|rules| {
                Svg::of(
                    &compared_line(compared, &Classes { rules, chosen: found.worked.chosen() }, DRAWN, units),
                    (wide, height(size)),
                    |_| None,
                )
            }),
        })
    }
}
