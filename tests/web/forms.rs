//! Every form of every sheet, filled with what should not be there: nothing breaks, nothing runs, nothing typed is lost.

use html5ever::tendril::TendrilSink as _;
use html5ever::{ParseOpts, parse_document};
use markup5ever_rcdom::{Handle, NodeData, RcDom};
use tackbook::domain::cage::record::example::example_record;

use crate::house::{Browser, House};

/// A form as a browser sees it.
#[derive(Debug, Clone)]
struct Found {
    action: String,
    fields: Vec<Field>,
}

#[derive(Debug, Clone)]
struct Field {
    name: String,
    kind: String,
    value: String,
}

fn attribute(node: &Handle, name: &str) -> Option<String> {
    let NodeData::Element { attrs, .. } = &node.data else { return None };
    attrs.borrow().iter().find(|attr| &*attr.name.local == name).map(|attr| attr.value.to_string())
}

fn tag(node: &Handle) -> String {
    match &node.data {
        NodeData::Element { name, .. } => name.local.to_string(),
        _ => String::new(),
    }
}

fn text(node: &Handle) -> String {
    let mut words = String::new();
    for child in node.children.borrow().iter() {
        if let NodeData::Text { contents } = &child.data {
            words.push_str(&contents.borrow());
        }
        words.push_str(&text(child));
    }
    words
}

fn fields(node: &Handle, into: &mut Vec<Field>) {
    let name = attribute(node, "name");
    match (tag(node).as_str(), name) {
        ("input", Some(name)) => {
            let kind = attribute(node, "type").unwrap_or_else(|| "text".to_owned());
            into.push(Field { name, kind, value: attribute(node, "value").unwrap_or_default() });
        }
        ("textarea", Some(name)) => into.push(Field { name, kind: "area".to_owned(), value: text(node) }),
        ("select", Some(name)) => into.push(Field { name, kind: "choice".to_owned(), value: String::new() }),
        _ => {}
    }
    for child in node.children.borrow().iter() {
        fields(child, into);
    }
}

fn forms(node: &Handle, page: &str, into: &mut Vec<Found>) {
    let posts = attribute(node, "method").is_some_and(|method| method == "post");
    let files = attribute(node, "enctype").is_some();
    if tag(node) == "form" && posts && !files {
        let mut own = Vec::new();
        fields(node, &mut own);
        let action = attribute(node, "action").unwrap_or_else(|| page.to_owned());
        into.push(Found { action, fields: own });
    }
    for child in node.children.borrow().iter() {
        forms(child, page, into);
    }
}

/// The forms of a page that take words: not those that only press something.
fn forms_of(html: &str, page: &str) -> Vec<Found> {
    let dom = parse_document(RcDom::default(), ParseOpts::default()).one(html);
    let mut found = Vec::new();
    forms(&dom.document, page, &mut found);
    let typed = |form: &Found| form.fields.iter().any(|field| is_typed(field) || field.kind == "choice");
    found.retain(|form| typed(form) && !["/sign-out", "/units"].contains(&form.action.as_str()));
    found
}

fn is_typed(field: &Field) -> bool {
    ["text", "area", "date", "search", "number"].contains(&field.kind.as_str())
}

/// The form of a page that is sent to an address, as a browser sends it back untouched: what is chosen and what is ticked
/// among it. An empty address is the page itself.
pub(crate) fn sent_back(html: &str, page: &str) -> Vec<(String, String)> {
    let dom = parse_document(RcDom::default(), ParseOpts::default()).one(html);
    let mut found = Vec::new();
    sent_by(&dom.document, None, &mut found);
    let own: Vec<&(String, String, String)> = found.iter().filter(|field| field.0 == page).collect();
    own.iter().map(|(_, name, value)| (name.clone(), value.clone())).collect()
}

fn sent_by(node: &Handle, form: Option<&str>, into: &mut Vec<(String, String, String)>) {
    // A form that says no address is sent to the page it stands on.
    let here = || attribute(node, "method").filter(|method| method == "post").map(|_| String::new());
    let action = if tag(node) == "form" { attribute(node, "action").or_else(here) } else { None };
    let form = action.as_deref().or(form);
    if let (Some(form), Some(name)) = (form, attribute(node, "name")) {
        let kind = attribute(node, "type").unwrap_or_default();
        let ticked = !["checkbox", "radio"].contains(&kind.as_str()) || attribute(node, "checked").is_some();
        let value = match tag(node).as_str() {
            "input" if ticked => Some(attribute(node, "value").unwrap_or_default()),
            "textarea" => Some(text(node).replace('\n', "\r\n")),
            "select" => {
                let options = node.children.borrow();
                let chosen = options.iter().find(|option| attribute(option, "selected").is_some());
                let first = options.iter().find(|option| tag(option) == "option");
                chosen.or(first).and_then(|option| attribute(option, "value"))
            }
            _ => None,
        };
        into.extend(value.map(|value| (form.to_owned(), name, value)));
    }
    for child in node.children.borrow().iter() {
        sent_by(child, form, into);
    }
}

fn values_of(html: &str) -> Vec<(String, String)> {
    let dom = parse_document(RcDom::default(), ParseOpts::default()).one(html);
    let mut found = Vec::new();
    forms(&dom.document, "", &mut found);
    found.into_iter().flat_map(|form| form.fields).map(|field| (field.name, field.value)).collect()
}

const SCRIPT: &str = "\"><script>alert(1)</script>";

/// Empty, negative, another unit, no number, words that would run, far too much.
fn bad() -> Vec<String> {
    let plain = ["", "-5", "9 furlongs", "1e999", "NaN kg", "43 5/0", "999999999999999 in", SCRIPT, "7\u{0}7", "½½"];
    let mut all: Vec<String> = plain.map(str::to_owned).to_vec();
    all.push("9".repeat(5_000));
    all
}

/// What may stand behind a figure that came back.
const UNITS: [&str; 7] = ["", " in", " lb", " in²", "°", " h", " ksi"];

async fn filled(browser: &Browser<'_>, page: &str, form: &Found, value: &str) {
    let fill = |field: &Field| match field.kind.as_str() {
        "hidden" | "checkbox" | "radio" => (field.name.clone(), field.value.clone()),
        _ => (field.name.clone(), value.to_owned()),
    };
    let pairs: Vec<(String, String)> = form.fields.iter().map(fill).collect();
    let sent: Vec<(&str, &str)> = pairs.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    let answer = browser.post(&form.action, &sent).await;
    let told = format!("{} of {page} with “{}”", form.action, value.chars().take(30).collect::<String>());
    assert!(answer.status.as_u16() < 500, "{told}: {} {}", answer.status, answer.text);
    assert!(!answer.text.contains("<script>alert"), "{told} gives the script back");
    if answer.status.as_u16() == 422 {
        let there = values_of(&answer.text);
        for field in form.fields.iter().filter(|field| is_typed(field)) {
            // A browser sends a null as nothing else than a null; HTML has none, so it comes back as its stand-in.
            let want = value.replace('\u{0}', "\u{fffd}");
            // A figure that was read comes back with the unit that it was read in.
            let same = |value: &str| value.trim().strip_prefix(want.trim()).is_some_and(|unit| UNITS.contains(&unit));
            let kept = there.iter().any(|(name, value)| *name == field.name && same(value));
            assert!(kept, "{told}: {} was lost", field.name);
        }
    }
}

#[tokio::test]
async fn no_form_breaks_runs_or_loses_what_was_typed() {
    let house = House::new().await;
    let office = house.browser("office").await;
    office.post("/books", &[("toml", include_str!("../../src/demo/book.toml"))]).await;
    let book = house.store.books().await.unwrap().first().unwrap().id.to_string();
    office.post("/builds/new", &[("name", "Pine Coupe"), ("book", &book)]).await;
    let build = house.store.builds().await.unwrap().remove(0).id;
    let cage = example_record();
    tackbook::actions::recorded::cage::save(&house.office, build, 0, &cage).await.unwrap();
    office.post("/builds/pine-coupe/rounds", &[("key", "one")]).await;
    let draft = office.post(&format!("/books/{book}/draft"), &[("edition", "fourth")]).await.to;
    let [class, plate, new, table, bars] =
        ["rules/weight_class-1", "rules/plate-1", "new/shot", "classes", "bars"].map(|last| format!("{draft}/{last}"));
    let mut tried = 0;
    for page in [
        class.as_str(),
        plate.as_str(),
        new.as_str(),
        table.as_str(),
        bars.as_str(),
        "/books/begin",
        "/builds/new",
        "/books",
        "/people",
        "/stock",
        "/dies",
        "/builds/pine-coupe/weigh-in",
        "/builds/pine-coupe/weigh-in?new=1",
        "/builds/pine-coupe/cage",
        "/builds/pine-coupe/gussets?joint=J1",
        "/builds/pine-coupe/tube",
        "/builds/pine-coupe/measures",
        "/builds/pine-coupe/questions",
        "/builds/pine-coupe/kit",
        "/builds/pine-coupe/questions?about=J1",
        "/builds/pine-coupe/measures",
        "/builds/pine-coupe/rounds",
        "/builds/pine-coupe/log",
        "/builds/pine-coupe/photos",
        "/builds/pine-coupe/walk",
    ] {
        let sheet = office.get(page).await;
        assert_eq!(sheet.status.as_u16(), 200, "{page}");
        for form in forms_of(&sheet.text, page.split('?').next().unwrap()) {
            for value in bad() {
                filled(&office, page, &form, &value).await;
                tried += 1;
            }
        }
    }
    assert!(tried > 100, "{tried}");
    // What was refused left nothing behind, and what was kept can still be shown.
    assert!(office.get("/builds/pine-coupe").await.status.is_success());
    assert!(office.get("/open").await.status.is_success());
}
