//! Every sheet read by axe-core (kept beside this, with its licence), at the desk and on a phone, light and dark: nothing found, with
//! the folds as they come and with every one open.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use crate::chromium::Chromium;
use crate::demo::Demo;
use crate::every_sheet::sheets;
use crate::page::Page;
use crate::phone::PHONE;

const DESK: (u32, u32) = (1440, 900);
const AXE: &str = include_str!("axe/axe.min.js");
const ROUND: &str = "/builds/teasel-coupe/rounds/1/review";
/// Sheets that are neither a build's own nor in the shop's list, or that show another state of one.
const ALSO: &[&str] = &[
    "/builds/teasel-coupe/about",
    "/builds/teasel-coupe/edition",
    "/builds/teasel-coupe/cage/tape",
    "/builds/teasel-coupe/walk?part=J7",
    "/builds/teasel-coupe/cage?open=hoop",
    "/books/begin",
    ROUND,
    "/builds/teasel-coupe/rounds/1/review/sign",
    "/offline",
    "/offline/tape",
    "/no-such-sheet",
];
/// Sheets whose address is not known before: where a link to one stands, or the button that leads to it, and which it is.
const FOLLOWED: &[(&str, &str)] = &[
    ("/people", "main a[href^='/people/']"),
    ("/builds/teasel-coupe/kit", "main a[href$='/kit/K1']"),
    ("/builds/teasel-coupe/verdicts", "main a[href*='rule=']"),
    ("/builds/teasel-coupe/photos", "[data-capture] a[href*='/photos/']"),
    ("/builds/teasel-coupe/photos", "main a[href*='state=']:not([aria-current])"),
    ("/books", "main a[href^='/books/0']"),
    ("/builds/new", "main form button.main"),
];
/// What axe finds: the rule, and each place with what is wrong there. All rules that are on by themselves, and the size of what is
/// touched (WCAG 2.2, 2.5.8), which is not.
const FOUND: &str = "axe.run(document, { preload: false, resultTypes: ['violations'], ...ASKED })
    .then(({ violations }) => violations.flatMap(({ id, nodes }) => nodes.map((node) =>
        ({ rule: id, node: `${node.target.join(' ')} ${node.html.slice(0, 200)} ${node.failureSummary.replace(/\\s+/g, ' ').slice(0, 400)}` }))))";
const ALL: &str = "{ rules: { 'target-size': { enabled: true } } }";
/// A field that is typed in, ticked or chosen from, or takes a file.
const FIELD: &str = "main form :is(input:not([type=hidden]), select, textarea)";
/// In the dark nothing but the colours is another.
const COLOURS: &str = "{ runOnly: ['color-contrast'] }";
const UNFOLDED: &str =
    "document.querySelectorAll('details').forEach((one) => { one.removeAttribute('name'); one.open = true; })";

/// How many places were found by each rule.
#[derive(Default)]
struct Findings(BTreeMap<String, usize>);

impl Findings {
    fn of(&mut self, page: &Page<'_>, asked: &str, sheet: &str) {
        let found = page.eval(&FOUND.replace("ASKED", asked));
        let text = |one: &Value, key: &str| one[key].as_str().unwrap().to_owned();
        let found = found.as_array().unwrap().iter();
        for one in found {
            // said at once, so that nothing is lost where a sheet cannot be reached
            println!("{} | {sheet} | {}", text(one, "rule"), text(one, "node"));
            *self.0.entry(text(one, "rule")).or_default() += 1;
        }
    }

    /// Goes to a sheet and reads it.
    fn read(&mut self, page: &Page<'_>, sheet: &str, size: &str) {
        page.go(sheet);
        let missing = u32::from(sheet == "/no-such-sheet") * 204;
        let status = page.eval("performance.getEntriesByType('navigation')[0].responseStatus");
        assert_eq!(status, 200 + missing, "{sheet} is not what it should be");
        self.look(page, &format!("{sheet} {size}"));
    }

    /// Reads the sheet that is open as it comes, then unfolded, then its colours in the dark.
    fn look(&mut self, page: &Page<'_>, sheet: &str) {
        page.eval(&format!("{AXE}; 0"));
        self.of(page, ALL, sheet);
        page.eval(UNFOLDED);
        self.of(page, ALL, &format!("{sheet} unfolded"));
        scheme(page, "dark");
        assert_eq!(page.eval("matchMedia('(prefers-color-scheme: dark)').matches"), true);
        self.of(page, COLOURS, &format!("{sheet} dark"));
        scheme(page, "light");
    }
}

/// How many keys lead from the top of a sheet to the first field of its forms: none where it has the focus at once, else each link
/// that skips, Enter on the last, and Tab.
fn keys_to_a_field(page: &Page<'_>) -> usize {
    let key = |name: &str, code: u32, text: &str| {
        for kind in ["keyDown", "keyUp"] {
            let key = json!({ "type": kind, "key": name, "code": name, "windowsVirtualKeyCode": code, "text": text });
            page.call("Input.dispatchKeyEvent", &key);
        }
    };
    let at_one = || page.eval(&format!("document.activeElement.matches({FIELD:?})")) == true;
    if at_one() {
        return 0;
    }
    let mut keys = 1;
    key("Tab", 9, "");
    while page.eval("document.activeElement.nextElementSibling?.matches('.skip') ?? false") == true {
        key("Tab", 9, "");
        keys += 1;
    }
    // a sheet that begins further down has what skips behind it
    if page.eval("document.activeElement.matches('.skip')") == true {
        key("Enter", 13, "\r");
        keys += 1;
    }
    while !at_one() && keys < 99 {
        key("Tab", 9, "");
        keys += 1;
    }
    keys
}

fn scheme(page: &Page<'_>, scheme: &str) {
    page.call(
        "Emulation.setEmulatedMedia",
        &json!({ "features": [{ "name": "prefers-color-scheme", "value": scheme }] }),
    );
}

fn read_all((width, height): (u32, u32), phone: bool) -> Findings {
    let (demo, browser) = (Demo::serve(), Chromium::start());
    let page = Page::open(&browser, demo.address(), (width, height), phone);
    let (size, mut found) = (format!("{width}x{height}"), Findings::default());
    for sheet in ["/pair", "/trust", "/sign-in"] {
        found.read(&page, sheet, &size);
    }
    page.press("form.narrow button.main");
    found.look(&page, &format!("/sign-in, refused {size}"));
    let (name, password) = demo.sign_in("office");
    page.sign_in(name, password);
    page.go("/builds/teasel-coupe/rounds");
    page.press("form.inline button.main");
    for (sheet, selector) in FOLLOWED {
        page.go(sheet);
        page.press(selector);
        found.look(&page, &format!("{sheet}, {selector} {size}"));
    }
    page.go("/books");
    page.press("main a[href^='/books/0']");
    page.press("main form[action$='/draft'] button");
    found.look(&page, &format!("a draft refused {size}"));
    page.fill("main form[action$='/draft'] input", "fourth");
    page.press("main form[action$='/draft'] button");
    found.look(&page, &format!("a draft of a book {size}"));
    let draft = page.text("location.pathname");
    page.press("main td a.button");
    found.look(&page, &format!("a rule of a draft {size}"));
    found.read(&page, &format!("{draft}/text"), &size);
    page.go("/builds/teasel-coupe/photos");
    page.press("[data-capture] a[href*='/photos/']");
    let photo = page.text("location.pathname");
    for sheet in ["/large", "/marks"] {
        found.read(&page, &format!("{photo}{sheet}"), &size);
    }
    for sheet in sheets().chain(ALSO.iter().map(|path| (*path).to_owned())) {
        found.read(&page, &sheet, &size);
    }
    let reviewer = Page::open(&browser, demo.address(), (width, height), phone);
    let (name, password) = demo.sign_in("scrutineer");
    reviewer.sign_in(name, password);
    for sheet in ["/", ROUND, &format!("{ROUND}/sign")] {
        found.read(&reviewer, sheet, &format!("{size} scrutineer"));
    }
    found
}

#[test]
fn every_sheet_can_be_read_by_all_at_the_desk() {
    assert_eq!(read_all(DESK, false).0, BTreeMap::new(), "what is printed above");
}

#[test]
fn every_sheet_can_be_read_by_all_on_a_phone() {
    assert_eq!(read_all(PHONE, true).0, BTreeMap::new(), "what is printed above");
}

#[test]
fn every_sheet_s_form_is_reached_by_few_keys() {
    let (demo, browser) = (Demo::serve(), Chromium::start());
    let desk = Page::open(&browser, demo.address(), DESK, false);
    let (name, password) = demo.sign_in("office");
    desk.sign_in(name, password);
    let (mut far, mut with_form) = (Vec::new(), 0);
    // not the walk with the camera, which is made for a thumb: its first field is 14 keys away
    for sheet in sheets().filter(|sheet| !sheet.ends_with("/walk")) {
        desk.go(&sheet);
        // what is folded is reached once somebody unfolds it
        if desk.eval(&format!("[...document.querySelectorAll({FIELD:?})].some((one) => one.checkVisibility())")) == true
        {
            with_form += 1;
            let keys = keys_to_a_field(&desk);
            println!("{keys} keys: {sheet}");
            if keys > 12 {
                far.push((keys, sheet));
            }
        }
    }
    assert!(with_form > 20, "most sheets have a form, not {with_form}");
    assert_eq!(far, []);
}
