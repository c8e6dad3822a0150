//! Tags: what each mark is to who has a paper read out, in reading order (ISO 32000-1, 14.7 and 14.8).
//!
//! The writer puts the numbered sections into each page; it has no tree to gather them in, which is built here.

use lopdf::{Dictionary, Document, Error, Object, ObjectId, dictionary, text_string};

use crate::drawing::Tag;

/// An element of the tree, by its place in the list; the document is the first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct ElementId(usize);

/// What is inside of an element, in reading order.
enum Kid {
    Element(ElementId),
    /// A section of its page, by its number there.
    Section(i64),
}

struct Element {
    kind: &'static str,
    /// What it shows, where it is a figure.
    shows: Option<String>,
    parent: ElementId,
    page: usize,
    kids: Vec<Kid>,
}

/// All elements of a document.
pub(super) struct Tags {
    elements: Vec<Element>,
    /// Of each page, the element that each of its numbered sections belongs to.
    sections: Vec<Vec<ElementId>>,
}

impl Tags {
    /// The document itself.
    pub(super) const DOCUMENT: ElementId = ElementId(0);

    pub(super) fn new() -> Self {
        let document = Element { kind: "Document", shows: None, parent: Self::DOCUMENT, page: 0, kids: Vec::new() };
        Self { elements: vec![document], sections: Vec::new() }
    }

    /// Begins the next page.
    pub(super) fn turn(&mut self) {
        self.sections.push(Vec::new());
    }

    /// Adds an element at the end of another one.
    pub(super) fn add(&mut self, parent: ElementId, tag: &Tag) -> ElementId {
        let (kind, shows) = match tag {
            Tag::Heading(1) => ("H1", None),
            Tag::Heading(_) => ("H2", None),
            Tag::Paragraph => ("P", None),
            Tag::Figure(shows) => ("Figure", Some(shows.clone())),
            Tag::Table => ("Table", None),
            Tag::Row => ("TR", None),
            Tag::ColumnHead => ("TH", None),
            Tag::Cell => ("TD", None),
        };
        let page = self.sections.len().saturating_sub(1);
        let id = ElementId(self.elements.len());
        self.elements.push(Element { kind, shows, parent, page, kids: Vec::new() });
        if let Some(parent) = self.elements.get_mut(parent.0) {
            parent.kids.push(Kid::Element(id));
        }
        id
    }

    /// Begins a section of the present page that belongs to an element: its kind, and its number on the page.
    pub(super) fn begin_section(&mut self, of: ElementId) -> Option<(&'static str, i64)> {
        let page = self.sections.last_mut()?;
        let number = i64::try_from(page.len()).ok()?;
        let element = self.elements.get_mut(of.0)?;
        page.push(of);
        element.kids.push(Kid::Section(number));
        Some((element.kind, number))
    }

    /// Writes the tree, and names it to the pages and in the catalog.
    pub(super) fn write(self, document: &mut Document, pages: &[ObjectId]) -> Result<(), Error> {
        let root = document.new_object_id();
        let ids: Vec<ObjectId> = self.elements.iter().map(|_| document.new_object_id()).collect();
        let id_of = |element: ElementId| ids.get(element.0).copied().unwrap_or(root);
        for (at, (element, id)) in self.elements.iter().zip(&ids).enumerate() {
            let parent = if at == Self::DOCUMENT.0 { root } else { id_of(element.parent) };
            document.set_object(*id, element.described(parent, pages.get(element.page), id_of));
        }
        let mut of_pages: Vec<Object> = Vec::new();
        for (number, (page, sections)) in (0_i64..).zip(pages.iter().zip(&self.sections)) {
            let sections: Vec<Object> = sections.iter().map(|element| id_of(*element).into()).collect();
            of_pages.extend([number.into(), document.add_object(sections).into()]);
            let page = document.get_object_mut(*page)?.as_dict_mut()?;
            page.set("StructParents", number);
            page.set("Tabs", Object::Name(b"S".to_vec()));
        }
        let next = i64::try_from(self.sections.len()).unwrap_or(i64::MAX);
        let of_pages = document.add_object(dictionary! { "Nums" => of_pages });
        let tree = dictionary! {
            "Type" => "StructTreeRoot",
            "K" => vec![id_of(Self::DOCUMENT).into()],
            "ParentTree" => of_pages,
            "ParentTreeNextKey" => next,
        };
        document.set_object(root, tree);
        let catalog = document.catalog_mut()?;
        catalog.set("StructTreeRoot", root);
        catalog.set("MarkInfo", dictionary! { "Marked" => true });
        Ok(())
    }
}

impl Element {
    fn described(
        &self,
        parent: ObjectId,
        page: Option<&ObjectId>,
        id_of: impl Fn(ElementId) -> ObjectId,
    ) -> Dictionary {
        let kid = |kid: &Kid| match kid {
            Kid::Element(element) => id_of(*element).into(),
            Kid::Section(number) => Object::Integer(*number),
        };
        let kids: Vec<Object> = self.kids.iter().map(kid).collect();
        let mut described = dictionary! { "Type" => "StructElem", "S" => self.kind, "P" => parent, "K" => kids };
        if let Some(page) = page.filter(|_| self.kids.iter().any(|kid| matches!(kid, Kid::Section(_)))) {
            described.set("Pg", *page);
        }
        if let Some(shows) = &self.shows {
            described.set("Alt", text_string(shows));
        }
        if self.kind == "TH" {
            described.set("A", dictionary! { "O" => "Table", "Scope" => "Column" });
        }
        described
    }
}
