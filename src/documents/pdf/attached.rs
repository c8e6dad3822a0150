//! Files inside the document, for other programs: put in as ISO 32000-2 (14.13) and PDF/A-3 (ISO 19005-3, 6.8) describe
//! them, and read again.

use jiff::civil::Date;
use lopdf::{Dictionary, Document, Error, Object, Stream, dictionary, text_string};

/// A file that goes into the document.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Attached {
    /// Its name: plain letters.
    pub name: String,
    /// What it is, in a line.
    pub describes: String,
    /// What sort of file it is.
    pub sort: Sort,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// What sort a file inside a document is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sort {
    /// What the document says, for other programs.
    Json,
    /// A picture that stands beside what it says.
    Jpeg,
}

impl Sort {
    /// Its media type, and how the file stands to the document (ISO 32000-2, 14.13 and table 43).
    const fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::Json => ("application/json", "Data"),
            Self::Jpeg => ("image/jpeg", "Supplement"),
        }
    }
}

/// Puts the files in, in the order of their names.
pub(super) fn attach(document: &mut Document, files: &[Attached], date: Date) -> Result<(), Error> {
    if files.is_empty() {
        return Ok(());
    }
    let mut files: Vec<&Attached> = files.iter().collect();
    files.sort_by_key(|file| &file.name);
    let date = Object::string_literal(format!("D:{}000000Z", date.strftime("%Y%m%d")));
    let (mut named, mut all): (Vec<Object>, Vec<Object>) = (Vec::new(), Vec::new());
    for file in files {
        let size = i64::try_from(file.bytes.len()).unwrap_or(i64::MAX);
        let (media, stands) = file.sort.words();
        let about = dictionary! {
            "Type" => "EmbeddedFile",
            "Subtype" => Object::Name(media.as_bytes().to_vec()),
            "Params" => dictionary! { "Size" => size, "ModDate" => date.clone() },
        };
        let inside = document.add_object(Stream::new(about, file.bytes.clone()));
        let entry = document.add_object(dictionary! {
            "Type" => "Filespec",
            "F" => Object::string_literal(file.name.as_str()),
            "UF" => text_string(&file.name),
            "Desc" => text_string(&file.describes),
            "AFRelationship" => stands,
            "EF" => dictionary! { "F" => inside, "UF" => inside },
        });
        named.extend([Object::string_literal(file.name.as_str()), entry.into()]);
        all.push(entry.into());
    }
    let catalog = document.catalog_mut()?;
    let mut names = catalog.get(b"Names").and_then(Object::as_dict).cloned().unwrap_or_else(|_| Dictionary::new());
    names.set("EmbeddedFiles", dictionary! { "Names" => named });
    catalog.set("Names", names);
    catalog.set("AF", all);
    Ok(())
}

/// The file of this name inside a document, of at most so many bytes; none where there is no such file, or the document
/// does not read.
pub fn attached(pdf: &[u8], name: &str, most: usize) -> Option<Vec<u8>> {
    let document = Document::load_mem(pdf).ok()?;
    let follow = |object: &Object| document.dereference(object).ok().map(|(_, found)| found.clone());
    let all = follow(document.catalog().ok()?.get(b"AF").ok()?)?;
    let entry = all.as_array().ok()?.iter().filter_map(follow).find(|entry| {
        let named = entry.as_dict().and_then(|entry| entry.get(b"F")).and_then(Object::as_str);
        named.is_ok_and(|found| found == name.as_bytes())
    })?;
    let inside = follow(entry.as_dict().ok()?.get(b"EF").ok()?)?;
    let stream = follow(inside.as_dict().ok()?.get(b"F").ok()?)?;
    let stream = stream.as_stream().ok()?;
    if stream.is_compressed() {
        return stream.decompressed_content_with_limit(most).ok();
    }
    Some(stream.content.clone()).filter(|content| content.len() <= most)
}
