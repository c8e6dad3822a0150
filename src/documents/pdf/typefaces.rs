//! The faces of a document, each cut down to the signs that stand in it.

use std::collections::BTreeMap;

use allsorts::binary::read::ReadScope;
use allsorts::font_data::FontData;
use allsorts::subset::{CmapTarget, SubsetProfile, subset};
use printpdf::{Codepoint, FontId, ParsedFont, PdfDocument, PdfFont, TextItem};

use crate::documents::DocumentError;
use crate::drawing::Mark;
use crate::drawing::paper::faces::{FACES, Glyph, Typeface, set};
use crate::drawing::paper::sheet::each;

/// Of every face by its place, where each of its signs that are used stands once the face is cut down.
#[derive(Default)]
pub(super) struct Typefaces(BTreeMap<usize, BTreeMap<u16, u16>>);

impl Typefaces {
    /// Looks at all words among these marks.
    pub(super) fn look(&mut self, marks: &[Mark]) {
        for mark in each(marks) {
            let Mark::Text { words, weight, .. } = mark else { continue };
            // lines of a paragraph stand apart by a space of the writer's own
            for glyph in set(words, *weight).into_iter().chain(set(" ", *weight)) {
                self.0.entry(glyph.face).or_default().insert(glyph.id, 0);
            }
        }
        for signs in self.0.values_mut() {
            // what stands for no sign comes first, then the signs in their order
            signs.remove(&0);
            for (place, sign) in (1..).zip(signs.values_mut()) {
                *sign = place;
            }
        }
    }

    /// Puts the faces into the document.
    pub(super) fn add_to(&self, pdf: &mut PdfDocument) -> Result<(), DocumentError> {
        for (at, signs) in &self.0 {
            let Some(face) = FACES.get(*at) else { continue };
            let unread = || DocumentError::Writer(format!("the type {} does not read", face.name));
            let cut = cut_down(face, signs).ok_or_else(unread)?;
            let mut cut = ParsedFont::from_bytes(&cut, 0, &mut Vec::new()).ok_or_else(unread)?;
            // six letters and a plus say that a face is cut down (ISO 32000-1, 9.6.4)
            cut.font_name = Some(format!("TBOOK{}+{}", (b'A'..).nth(*at).map_or('A', char::from), face.name));
            pdf.resources.fonts.map.insert(id(*at), PdfFont::new(cut));
        }
        Ok(())
    }

    /// A line's signs as the writer takes them, in runs of one face.
    pub(super) fn runs(&self, line: &[Glyph]) -> Vec<(FontId, Vec<TextItem>)> {
        let run = |run: &[Glyph]| {
            let face = run.first().map_or(0, |glyph| glyph.face);
            (id(face), run.iter().flat_map(|glyph| self.sign(glyph)).collect())
        };
        line.chunk_by(|one, next| one.face == next.face).map(run).collect()
    }

    fn sign(&self, glyph: &Glyph) -> Vec<TextItem> {
        let place = self.0.get(&glyph.face).and_then(|signs| signs.get(&glyph.id)).copied().unwrap_or_default();
        let mut items = vec![TextItem::GlyphIds(vec![Codepoint::with_cid(place, 0.0, glyph.letter.to_string())])];
        let back = thousandths(glyph.own - glyph.advance);
        if back > 0.0 {
            items.push(TextItem::Offset(back));
        }
        items
    }
}

fn id(face: usize) -> FontId {
    FontId(format!("Tb{face}"))
}

#[expect(clippy::cast_possible_truncation, reason = "a share of the type's size")]
fn thousandths(of: f64) -> f32 {
    (of * 1000.0).round() as f32
}

fn cut_down(face: &Typeface, signs: &BTreeMap<u16, u16>) -> Option<Vec<u8>> {
    let file = ReadScope::new(face.bytes).read::<FontData<'_>>().ok()?;
    let provider = file.table_provider(0).ok()?;
    let signs: Vec<u16> = std::iter::once(0).chain(signs.keys().copied()).collect();
    subset(&provider, &signs, &SubsetProfile::Pdf, CmapTarget::Unicode).ok()
}
