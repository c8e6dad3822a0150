//! What is done to the file once its pages stand, because the writer has no words for it (printpdf 0.12): an outline in
//! steps, page labels, language, tags, links as objects of their own. What a file says about itself it has words for,
//! but it says PDF/X beside them, which this is not, and another identifier each time.

use lopdf::{Dictionary, Document, Error, Object, ObjectId, StringFormat, dictionary, text_string};
use sha2::{Digest, Sha256};

use super::attached::{Attached, attach};
use super::tags::Tags;
use super::writer::About;

/// A line of the outline.
pub(super) struct Entry {
    /// Its words.
    pub(super) title: String,
    /// How deep it stands, from 0.
    pub(super) level: usize,
    /// The page it leads to, from 0.
    pub(super) page: usize,
}

/// All that is still to be put in.
pub(super) struct Finish<'a> {
    /// The pictures each page shows.
    pub(super) shown: Vec<Vec<String>>,
    /// The outline, in reading order.
    pub(super) outline: Vec<Entry>,
    /// What is what, in reading order.
    pub(super) tags: Tags,
    /// What the document says about itself.
    pub(super) about: &'a About,
    /// The files inside it.
    pub(super) attached: &'a [Attached],
}

/// Puts everything in and gives back the file.
pub(super) fn finish(mut document: Document, finish: Finish) -> Result<Vec<u8>, Error> {
    "1.7".clone_into(&mut document.version);
    let pages: Vec<ObjectId> = document.page_iter().collect();
    name_own_pictures(&mut document, &pages, &finish.shown)?;
    set_links_apart(&mut document, &pages)?;
    let outline = outline(&mut document, &pages, &finish.outline)?;
    finish.tags.write(&mut document, &pages)?;
    let catalog = document.catalog_mut()?;
    if let Some(outline) = outline {
        catalog.set("Outlines", outline);
        catalog.set("PageMode", Object::Name(b"UseOutlines".to_vec()));
    }
    catalog.set("Lang", Object::string_literal("en"));
    catalog.set("ViewerPreferences", dictionary! { "PrintScaling" => "None", "DisplayDocTitle" => true });
    let labels = vec![0.into(), dictionary! { "S" => "D" }.into()];
    catalog.set("PageLabels", dictionary! { "Nums" => labels });
    attach(&mut document, finish.attached, finish.about.date)?;
    describe(&mut document, finish.about)?;
    document.compress();
    let mut file = Vec::new();
    document.save_to(&mut file)?;
    Ok(file)
}

/// Lets each page name its own pictures only, so that a page taken out of the document does not carry all the others'.
fn name_own_pictures(document: &mut Document, pages: &[ObjectId], shown: &[Vec<String>]) -> Result<(), Error> {
    for (page, names) in pages.iter().zip(shown) {
        let mut resources = follow(document, document.get_dictionary(*page)?.get(b"Resources")?)?.clone();
        let mut own = Dictionary::new();
        if let Ok(all) = resources.get(b"XObject").and_then(|all| follow(document, all)) {
            for name in names {
                own.set(name.as_bytes(), all.get(name.as_bytes())?.as_reference()?);
            }
        }
        resources.set("XObject", own);
        document.get_object_mut(*page)?.as_dict_mut()?.set("Resources", resources);
    }
    Ok(())
}

/// Makes each page's links objects of their own, which is how readers look for them; a page without has no list of them.
fn set_links_apart(document: &mut Document, pages: &[ObjectId]) -> Result<(), Error> {
    for page in pages {
        let Some(links) = document.get_object_mut(*page)?.as_dict_mut()?.remove(b"Annots") else { continue };
        let Object::Array(links) = links else { continue };
        let links: Vec<Object> = links.into_iter().map(|link| document.add_object(link).into()).collect();
        if !links.is_empty() {
            document.get_object_mut(*page)?.as_dict_mut()?.set("Annots", links);
        }
    }
    Ok(())
}

fn follow<'a>(document: &'a Document, object: &'a Object) -> Result<&'a Dictionary, Error> {
    match object {
        Object::Reference(id) => document.get_dictionary(*id),
        here => here.as_dict(),
    }
}

/// Builds the outline; none when no place is named.
fn outline(document: &mut Document, pages: &[ObjectId], entries: &[Entry]) -> Result<Option<ObjectId>, Error> {
    if entries.is_empty() {
        return Ok(None);
    }
    let root = document.add_object(dictionary! { "Type" => "Outlines" });
    // The open branch: each node with its level and its last child so far.
    let mut branch: Vec<(usize, ObjectId, Option<ObjectId>)> = vec![(0, root, None)];
    for entry in entries {
        let Some(page) = pages.get(entry.page) else { continue };
        while branch.len() > 1 && branch.last().is_some_and(|node| node.0 > entry.level) {
            branch.pop();
        }
        let Some((_, parent, last)) = branch.last_mut() else { break };
        let goal: Vec<Object> =
            vec![(*page).into(), Object::Name(b"XYZ".to_vec()), Object::Null, Object::Null, Object::Null];
        let mut node = dictionary! { "Title" => text_string(&entry.title), "Parent" => *parent, "Dest" => goal };
        if let Some(before) = *last {
            node.set("Prev", before);
        }
        let id = document.add_object(node);
        if let Some(before) = last.replace(id) {
            document.get_object_mut(before)?.as_dict_mut()?.set("Next", id);
        }
        let above = document.get_object_mut(*parent)?.as_dict_mut()?;
        if above.get(b"First").is_err() {
            above.set("First", id);
        }
        above.set("Last", id);
        // An open line counts every line under it, at any depth (ISO 32000-1, 12.3.3).
        for (_, above, _) in &branch {
            let above = document.get_object_mut(*above)?.as_dict_mut()?;
            let count = above.get(b"Count").and_then(Object::as_i64).unwrap_or(0) + 1;
            above.set("Count", count);
        }
        branch.push((entry.level + 1, id, None));
    }
    Ok(Some(root))
}

/// Title, author and dates; an identifier that is the same for the same document, so that the file is.
fn describe(document: &mut Document, about: &About) -> Result<(), Error> {
    let date = Object::string_literal(format!("D:{}000000Z", about.date.strftime("%Y%m%d")));
    let info = document.trailer.get(b"Info")?.as_reference()?;
    let info = document.get_object_mut(info)?.as_dict_mut()?;
    *info = dictionary! {
        "Title" => text_string(&about.title),
        "Author" => text_string(&about.author),
        "Creator" => Object::string_literal("Tackbook"),
        "CreationDate" => date.clone(),
        "ModDate" => date,
    };
    let description = format!("{}\n{}\n{}\n{}", about.id, about.title, about.author, about.date);
    let id: Vec<u8> = Sha256::digest(description.as_bytes()).iter().copied().take(16).collect();
    let id = Object::String(id, StringFormat::Hexadecimal);
    document.trailer.set("ID", vec![id.clone(), id]);
    Ok(())
}
