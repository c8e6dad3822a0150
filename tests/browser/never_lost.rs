//! Two hundred photographs through five killed browsers and five killed servers: each arrives once, as it was.

use std::collections::BTreeSet;
use std::path::PathBuf;
use std::process::Command;
use std::time::{Duration, Instant};

use tackbook::domain::words::fingerprint::Fingerprint;

use crate::chromium::Chromium;
use crate::demo::Demo;
use crate::page::Page;
use crate::phone::PHONE;
use crate::queue::{GALLERY, NO_CAPTURES, ROWS, WALK, assert_arrived_once, on_the_phone, sign_in};
use crate::wire::Wire;

const PHOTOS: usize = 200;
/// The SHA-256 of what lies on the phone.
const HERE: &str = on_the_phone!(
    "(base) => new Promise((done) => {
        const all = base.transaction('captures').objectStore('captures').getAll();
        all.onsuccess = () => done(all.result.map((one) => one.sha256));
    })",
    "[]"
);
/// How many the page says are on the phone.
const TICKED: &str = "Number(/(\\d+) on this phone, /.exec(document.querySelector('.unsent')?.innerText)?.[1] || 0)";

/// Numbers that look drawn and follow from a seed: xorshift64 (Marsaglia 2003).
struct Drawn(u64);

impl Drawn {
    /// From the environment, to try a run again; else drawn by the clock.
    fn seed() -> Self {
        let clock = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).unwrap();
        let given = std::env::var("TACKBOOK_SEED").ok().and_then(|seed| seed.parse().ok());
        let seed = given.unwrap_or(u64::from(clock.subsec_nanos()) | 1);
        println!("TACKBOOK_SEED={seed}");
        Self(seed)
    }

    /// A number between `least` and `beyond`, without the last.
    fn between(&mut self, least: usize, beyond: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        least + usize::try_from(self.0 % u64::try_from(beyond - least).unwrap()).unwrap()
    }
}

/// Photographs of 4 to 40 kB, no two alike: what phones put after a picture's end is kept with it.
fn small(browser: &Chromium, drawn: &mut Drawn) -> Vec<PathBuf> {
    let picture = browser.folder().join("small.jpg");
    image::RgbImage::from_fn(96, 72, |x, y| image::Rgb([u8::try_from(x + y).unwrap(), 90, 40])).save(&picture).unwrap();
    let begins = std::fs::read(picture).unwrap();
    let make = |number| {
        let mut bytes = begins.clone();
        bytes.extend((0..drawn.between(500, 5_000)).flat_map(|_| drawn.between(0, usize::MAX).to_le_bytes()));
        let file = browser.folder().join(format!("small-{number}.jpg"));
        std::fs::write(&file, bytes).unwrap();
        file
    };
    (0..PHOTOS).map(make).collect()
}

/// A page of the shop on the phone, with somebody signed in; nothing is sent from it yet.
fn opened<'b>(demo: &Demo, wire: &Wire, browser: &'b Chromium) -> Page<'b> {
    let phone = Page::in_profile(browser, &wire.address(), PHONE);
    phone.call("Network.setBlockedURLs", &serde_json::json!({ "urls": [NO_CAPTURES] }));
    phone.go(WALK);
    if phone.text("location.pathname") == "/sign-in" {
        sign_in(demo, &phone);
        phone.go(WALK);
    }
    phone
}

fn sends(phone: &Page<'_>) {
    phone.call("Network.setBlockedURLs", &serde_json::json!({ "urls": [] }));
    phone.eval("dispatchEvent(new Event('online'))");
}

/// Picks all of them while the shop is away; twice the browser is killed before it has taken all it was given.
fn pick(demo: &mut Demo, wire: &Wire, mut browser: Chromium, files: &[PathBuf], drawn: &mut Drawn) -> Chromium {
    let names: Vec<(String, &PathBuf)> =
        files.iter().map(|file| (Fingerprint::of(&std::fs::read(file).unwrap()).text().to_owned(), file)).collect();
    for kill in 0..3 {
        let phone = opened(demo, wire, &browser);
        demo.kill();
        let here: BTreeSet<String> = serde_json::from_value(phone.eval(HERE)).unwrap();
        let left: Vec<&PathBuf> =
            names.iter().filter(|(name, _)| !here.contains(name)).map(|(_, file)| *file).collect();
        let enough = if kill == 2 { PHOTOS } else { here.len() + drawn.between(10, 70) };
        phone.give_all(GALLERY, &left);
        phone.until(&format!("{TICKED} >= {enough}"));
        let ticked = usize::try_from(phone.eval(TICKED).as_u64().unwrap()).unwrap();
        browser = browser.killed_and_started();
        demo.serve_again();
        let phone = opened(demo, wire, &browser);
        let kept: BTreeSet<String> = serde_json::from_value(phone.eval(HERE)).unwrap();
        assert!(kept.len() >= ticked, "{ticked} were said to be on the phone, {} are", kept.len());
        assert!(here.is_subset(&kept), "what was there before is there");
    }
    browser
}

#[test]
fn promise_3_two_hundred_photographs_stay_on_the_phone_until_their_receipts_through_ten_kills() {
    let begun = Instant::now();
    let (mut demo, browser, mut drawn) = (Demo::serve(), Chromium::start(), Drawn::seed());
    let wire = Wire::to(demo.address());
    let files = small(&browser, &mut drawn);
    let mut browser = pick(&mut demo, &wire, browser, &files, &mut drawn);
    println!("all are picked after {:?}", begun.elapsed());
    for kill in 0..7 {
        let phone = opened(&demo, &wire, &browser);
        sends(&phone);
        assert!(wire.hold_after(drawn.between(1, 500_000)), "nothing more is sent");
        // five servers, and two browsers more
        if kill % 3 == 2 {
            browser = browser.killed_and_started();
            wire.let_go();
        } else {
            demo.kill();
            wire.let_go();
            phone.until("/on this phone, waiting/.test(document.querySelector('.unsent').innerText)");
            demo.serve_again();
        }
    }
    let phone = opened(&demo, &wire, &browser);
    sends(&phone);
    while phone.eval(ROWS) != serde_json::json!([0, 0]) {
        assert!(begun.elapsed() < Duration::from_mins(5), "the phone still keeps {}", phone.eval(ROWS));
        std::thread::sleep(Duration::from_millis(100));
    }
    println!("all are sent after {:?}", begun.elapsed());
    assert_arrived_once(&mut demo, &files);
    let verify = Command::new(env!("CARGO_BIN_EXE_tackbook")).args(["verify", "--folder"]).arg(demo.folder()).output();
    let verify = verify.unwrap();
    let said = String::from_utf8_lossy(&verify.stdout);
    assert!(verify.status.success() && !said.contains("No row names"), "{said}");
    assert_eq!(std::fs::read_dir(demo.folder().join("arriving")).unwrap().count(), 0, "parts are left behind");
    println!("all is proved after {:?}", begun.elapsed());
}
