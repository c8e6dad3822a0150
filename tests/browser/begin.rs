//! From an empty shop to a released hold, in one go: how much is pressed and typed on the way, and what stands there then.

use std::cell::Cell;
use std::io::{BufRead as _, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

use tackbook::domain::cage::record::example::example_record;

use crate::chromium::Chromium;
use crate::folder::Folder;
use crate::page::Page;
use crate::phone::PHONE;
use crate::queue::until_empty;

const DESK: (u32, u32) = (1440, 900);
/// So many photographs are in the first round.
const PHOTOS: u32 = 50;
const SHOT: &str = "document.querySelector('form.take')?.dataset.shot";
const PICTURE: &str = "document.querySelector('.cage-drawing > svg').outerHTML";

/// An empty shop being served; it goes with its owner.
struct Shop {
    child: Child,
    address: String,
    /// The one-time link of the first sign-in, without the address.
    link: String,
    _folder: Folder,
}

impl Shop {
    fn serve() -> Self {
        let folder = Folder::new();
        let mut child = Command::new(env!("CARGO_BIN_EXE_tackbook"))
            .args(["serve", "--listen", "127.0.0.1:0", "--folder"])
            .arg(&folder.0)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let mut said = BufReader::new(child.stdout.take().unwrap()).lines().map(Result::unwrap);
        let open = said.find(|line| line.starts_with("The shop is open at ")).unwrap();
        let address = open.rsplit(' ').next().unwrap().to_owned();
        let link = said.find_map(|line| line.strip_prefix(&address).map(str::to_owned)).unwrap();
        Self { child, address, link, _folder: folder }
    }
}

impl Drop for Shop {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Somebody at a page, and how often they pressed and typed something.
struct Hands<'p> {
    page: Page<'p>,
    pressed: Cell<usize>,
    typed: Cell<usize>,
}

impl<'p> Hands<'p> {
    fn at(page: Page<'p>) -> Self {
        Self { page, pressed: Cell::new(0), typed: Cell::new(0) }
    }

    /// Presses what stands on the page, and waits for the page that follows.
    fn press(&self, selector: &str) {
        self.touch(&format!("document.querySelector({selector:?})"));
    }

    /// Presses what an expression finds, which must be seen, and waits for the page that follows.
    fn touch(&self, what: &str) {
        self.page.until(&format!("{what}?.getClientRects().length"));
        self.pressed.set(self.pressed.get() + 1);
        self.page.eval(&format!("window.leaving = true; {what}.click()"));
        self.page.until("!window.leaving && document.readyState === 'complete'");
    }

    /// Presses what changes the page it stands on.
    fn tick(&self, what: &str) {
        assert_eq!(self.page.eval(&format!("{what}.getClientRects().length > 0")), true, "{what} is not seen");
        self.pressed.set(self.pressed.get() + 1);
        self.page.eval(&format!("{what}.click()"));
    }

    fn fill(&self, name: &str, text: &str) {
        let field = format!("main [name={name}]");
        self.page.until(&format!("document.querySelector({field:?}).getClientRects().length"));
        self.typed.set(self.typed.get() + 1);
        self.page.fill(&field, text);
    }

    /// Says how far they are, and with how much; nothing more than was promised.
    fn within(&self, so_far: &str, clicks: usize, fields: usize) {
        let (pressed, typed) = (self.pressed.get(), self.typed.get());
        println!("{so_far}: {pressed} clicks, {typed} fields");
        assert!(pressed <= clicks && typed <= fields, "{so_far}: {pressed} clicks, {typed} fields");
    }
}

/// A book that comes with the program, a build, four pads: class and tube.
fn weighed(hands: &Hands<'_>) {
    hands.press("form[action^='/books/shipped/'] button");
    hands.touch(
        "[...document.querySelectorAll('main a')].find((one) => one.getAttribute('href').startsWith('/builds/new'))",
    );
    hands.fill("name", "Vetch Coupe");
    hands.press("main form button.main");
    hands.press("main a[href='/builds/vetch-coupe/weigh-in']");
    assert_eq!(hands.page.text("document.activeElement.name"), "left_front", "the first pad is where one types");
    let pads = [("left_front", "318"), ("right_front", "306"), ("left_rear", "281"), ("right_rear", "274")];
    for (pad, text) in pads.into_iter().chain([("resolution", "0.5 kg")]) {
        hands.fill(pad, text);
    }
    hands.press(".weigh-act button.main");
    let seen = hands.page.text("document.querySelector('main').innerText");
    assert!(seen.contains("all weights") && seen.contains("45 × 2.5 mm"), "{seen}");
    hands.page.keep("desk-weighed");
}

/// Every measurement that the cage asks for, as it stands on the room's sheet; the drawing moves with each of the first six.
fn measured(hands: &Hands<'_>) {
    let page = &hands.page;
    let record = example_record();
    let plates = ["main_hoop", "front", "backstay"].into_iter().flat_map(|foot| {
        [("side_a", "120 mm"), ("side_b", "80 mm"), ("thickness", "3 mm")]
            .map(|(side, text)| (format!("plate_{foot}_{side}"), text.to_owned()))
    });
    let radii = ["hoop", "other"].map(|bar| (format!("bend_radius_{bar}"), "115 mm".to_owned()));
    let measures = record.measures.iter().map(|(measure, typed)| (measure.key(), typed.text.clone()));
    let all: Vec<(String, String)> = measures.chain(plates).chain(radii).collect();
    let groups = page.eval("document.querySelectorAll('#cage-form details[name=cage]').length").as_u64().unwrap();
    let mut moved = 0;
    for group in 0..groups {
        let fold = format!("document.querySelectorAll('#cage-form details[name=cage]')[{group}]");
        if page.eval(&format!("{fold}.querySelector('input.empty') === null")) == true {
            continue;
        }
        if page.eval(&format!("{fold}.open")) != true {
            hands.tick(&format!("{fold}.querySelector('summary')"));
        }
        for (key, text) in &all {
            let here = format!("{fold}.querySelector('input.empty#f-{key}')?.getClientRects().length > 0");
            if page.eval(&here) != true {
                continue;
            }
            page.eval(&format!("window.before = {PICTURE}"));
            hands.fill(key, text);
            if moved < 6 {
                page.until(&format!("{PICTURE} !== window.before"));
                moved += 1;
            }
        }
    }
    assert_eq!(moved, 6);
    hands.press(".cage-buttons button.main");
    let seen = page.text("document.querySelector('main').innerText");
    assert!(seen.contains("22 of 22 measured"), "{seen}");
    page.keep("desk-measured");
}

/// A small picture, so that fifty of them do not take long; the walk says so of each and goes on.
fn picture(folder: &Path, seed: u32) -> PathBuf {
    let file = folder.join(format!("begun-{seed}.jpg"));
    let light = |x: u32, y: u32| u8::try_from((x * seed + y * 7) % 200 + 20).unwrap();
    image::RgbImage::from_fn(160, 120, |x, y| image::Rgb([light(x, y), light(y, x), 90])).save(&file).unwrap();
    file
}

/// So many photographs of the walk, one after the other, each kept by the shop.
fn photographed(hands: &Hands<'_>, browser: &Chromium) {
    let page = &hands.page;
    for seed in 1..=PHOTOS {
        let before = page.text(SHOT);
        hands.pressed.set(hands.pressed.get() + 1);
        page.give("form.take input[capture]", &picture(browser.folder(), seed));
        page.until(&format!("{SHOT} && {SHOT} !== {before:?}"));
    }
    until_empty(page);
}

#[test]
fn an_empty_shop_comes_to_a_released_hold_with_few_presses_and_little_typed() {
    let (shop, browser) = (Shop::serve(), Chromium::start());
    let desk = Page::open(&browser, &shop.address, DESK, false);
    desk.go(&shop.link);
    assert_eq!(desk.text("document.activeElement.name"), "name", "one thing is asked, and typed at once");
    desk.fill("input[name=name]", "office");
    desk.fill("input[name=password]", "quiet wrought iron");
    desk.press("form.narrow button.main");
    desk.keep("desk-empty-shop");
    let hands = Hands::at(desk);
    weighed(&hands);
    hands.within("to class and tube of a weighed car", 10, 12);
    hands.press(".strip a[href='/builds/vetch-coupe/cage']");
    assert_eq!(hands.page.eval("document.querySelectorAll('.cage-drawing > svg .pen-faint').length > 0"), true);
    hands.page.keep("desk-first-drawing");
    hands.within("to the first drawing of a cage", 11, 12);
    measured(&hands);
    hands.within("to a whole cage", 30, 60);

    let phone = Page::open(&browser, &shop.address, PHONE, true);
    phone.sign_in("office", "quiet wrought iron");
    phone.go("/builds/vetch-coupe/walk");
    let walking = Hands::at(phone);
    photographed(&walking, &browser);
    walking.within("to 50 photographs, on the phone", 50, 0);

    hands.press(".strip a[href='/builds/vetch-coupe/rounds']");
    hands.press("form.inline button.main");
    hands.page.until("/Round 1 is out and waits for the scrutineer/.test(document.body.innerText)");
    hands.within("to round 1, beside the photographs", 40, 90);
    // The scrutineer answered by telephone: the office records it, and answers for what is open.
    hands.tick("document.querySelector('input[name=decision][value=approved]')");
    hands.fill("given_by", "the league's scrutineer");
    hands.press("form[action$=reply] button.main");
    hands.page.until("document.activeElement.name === 'despite'");
    hands.tick("document.querySelector('input[name=despite]')");
    hands.fill("despite_words", "I look at the rest at final inspection.");
    hands.press("form[action$=reply] button.main");
    hands.page.until("/Released/.test(document.querySelector('.strip').innerText)");
    hands.page.keep("desk-journey-released");
    hands.within("to a released hold", 45, 92);
    hands.page.assert_only_refusals();
}
