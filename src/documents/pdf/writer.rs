//! Writes sheets as one PDF, the same bytes for the same sheets.

use jiff::civil::Date;
use printpdf::{Mm, PdfDocument, PdfPage, PdfSaveOptions, XObjectId};

use super::attached::Attached;
use super::finishing::{Entry, Finish, finish};
use super::jpeg::Jpeg;
use super::marks::{Names, Page};
use super::tags::Tags;
use crate::documents::DocumentError;
use crate::drawing::{Mark, Sheet};

/// What a document says about itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct About {
    /// Its title, as a viewer shows it.
    pub title: String,
    /// The shop.
    pub author: String,
    /// The document's number; with the date it makes the file's own identifier.
    pub id: String,
    /// The date it was issued.
    pub date: Date,
}

/// Writes the sheets. `pictures` hands over each picture by the name its mark carries.
pub fn write(
    sheets: &[Sheet],
    pictures: &dyn Fn(&str) -> Option<Jpeg>,
    about: &About,
) -> Result<Vec<u8>, DocumentError> {
    write_with(sheets, pictures, about, &[])
}

/// The same with files inside the document.
pub fn write_with(
    sheets: &[Sheet],
    pictures: &dyn Fn(&str) -> Option<Jpeg>,
    about: &About,
    attached: &[Attached],
) -> Result<Vec<u8>, DocumentError> {
    let mut found = Found::default();
    for (page, sheet) in (1..).zip(sheets) {
        found.look(&sheet.marks, page)?;
        found.names.faces.look(&sheet.marks);
    }
    let mut pdf = PdfDocument::new(&about.title);
    found.names.faces.add_to(&mut pdf)?;
    for (name, own) in &found.names.pictures {
        let picture = pictures(name).ok_or_else(|| DocumentError::NoSuchPicture(name.clone()))?;
        let stream = picture.stream().ok_or_else(|| DocumentError::NoJpeg(name.clone()))?;
        pdf.resources.xobjects.map.insert(XObjectId(own.clone()), stream);
    }
    let (mut shown, mut tags) = (Vec::new(), Tags::new());
    for sheet in sheets {
        let page = Page::of(sheet, &found.names, &mut tags)?;
        shown.push(page.shown);
        pdf.pages.push(PdfPage::new(millimetres(sheet.width), millimetres(sheet.height), page.ops));
    }
    let mut warnings = Vec::new();
    let options = PdfSaveOptions { image_optimization: None, ..Default::default() };
    let document = pdf.to_lopdf_document(&options, &mut warnings);
    drop(pdf);
    if let Some(warning) = warnings.first() {
        return Err(DocumentError::Writer(warning.msg.clone()));
    }
    finish(document, Finish { shown, outline: found.outline, tags, about, attached })
        .map_err(|error| DocumentError::Writer(error.to_string()))
}

#[expect(clippy::cast_possible_truncation, reason = "a sheet's size fits an f32 to a thousandth of a millimetre")]
fn millimetres(length: crate::quantity::Length) -> Mm {
    Mm(length.mm() as f32)
}

/// What the sheets name: places and pictures, in reading order.
#[derive(Default)]
struct Found {
    names: Names,
    outline: Vec<Entry>,
}

impl Found {
    fn look(&mut self, marks: &[Mark], page: usize) -> Result<(), DocumentError> {
        for mark in marks {
            match mark {
                Mark::Group { marks, .. } | Mark::Tagged { marks, .. } => self.look(marks, page)?,
                Mark::Place { name, title, level } => {
                    if self.names.places.insert(name.clone(), page).is_some() {
                        return Err(DocumentError::TwoPlaces(name.clone()));
                    }
                    self.outline.push(Entry { title: title.clone(), level: *level, page: page - 1 });
                }
                Mark::Picture { name, .. } => {
                    let next = format!("P{:04}", self.names.pictures.len() + 1);
                    self.names.pictures.entry(name.clone()).or_insert(next);
                }
                _ => {}
            }
        }
        Ok(())
    }
}
