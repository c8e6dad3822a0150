//! What the phone keeps until the shop has it: through cuts, closed and killed browsers, killed servers, two tabs.

use std::path::PathBuf;

use serde_json::json;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::store::Store;
use tackbook::store::vault::Item;

use crate::chromium::Chromium;
use crate::cuts::{ALL_KEPT, large};
use crate::demo::Demo;
use crate::kept::kept;
use crate::page::Page;
use crate::phone::{PHONE, jpeg};

pub(crate) const WALK: &str = "/builds/teasel-coupe/walk";
pub(crate) const PHOTOS: &str = "/builds/teasel-coupe/photos";
/// What the browser is told to keep back, so that nothing is told of to the shop.
pub(crate) const NO_CAPTURES: &str = "*/captures/*";
const CAMERA: &str = "form.take input[capture]";
pub(crate) const GALLERY: &str = "form.take input[multiple]";
/// Reads the phone's own database: `$read` of the open `base` gives a promise, and `$nothing` is there where no page has
/// made one yet. Opening it to look must not make it: a page that came later would find it without its stores.
macro_rules! on_the_phone {
    ($read:literal, $nothing:literal) => {
        concat!(
            "new Promise((done, failed) => {
                const asking = indexedDB.open('tackbook');
                asking.onupgradeneeded = () => asking.transaction.abort();
                asking.onerror = () => asking.error.name === 'AbortError' ? done(",
            $nothing,
            ") : failed(asking.error);
                asking.onsuccess = () => {
                    const base = asking.result;
                    (",
            $read,
            ")(base).then(done, failed).finally(() => base.close());
                };
            })"
        )
    };
}
pub(crate) use on_the_phone;
/// How many rows the phone's own database has: photographs and parts of them.
pub(crate) const ROWS: &str = on_the_phone!(
    "(base) => new Promise((done) => {
        const rows = base.transaction(['captures', 'bytes'], 'readonly');
        const [captures, bytes] = ['captures', 'bytes'].map((name) => rows.objectStore(name).count());
        rows.oncomplete = () => done([captures.result, bytes.result]);
    })",
    "[0, 0]"
);

pub(crate) fn signed_in<'b>(demo: &Demo, browser: &'b Chromium) -> Page<'b> {
    let phone = Page::in_profile(browser, demo.address(), PHONE);
    sign_in(demo, &phone);
    phone
}

pub(crate) fn sign_in(demo: &Demo, phone: &Page<'_>) {
    let (name, password) = demo.sign_in("fabricator");
    phone.sign_in(name, password);
}

pub(crate) fn waiting(count: usize) -> String {
    format!("document.querySelector('.unsent')?.innerText.includes('{count} on this phone, ')")
}

pub(crate) fn until_empty(phone: &Page<'_>) {
    let begun = std::time::Instant::now();
    while phone.eval(ROWS) != json!([0, 0]) {
        assert!(begun.elapsed().as_secs() < 60, "the phone still keeps {}", phone.eval(ROWS));
        std::thread::sleep(std::time::Duration::from_millis(100));
    }
}

/// The shop has each file once, and its bytes are the file's.
pub(crate) fn assert_arrived_once(demo: &mut Demo, files: &[PathBuf]) {
    demo.kill();
    let threads = tokio::runtime::Runtime::new().unwrap();
    threads.block_on(async {
        let store = Store::open(demo.folder()).await.unwrap();
        let build = store.builds().await.unwrap().pop().unwrap().id;
        let photos = store.photos(build).await.unwrap();
        for file in files {
            let bytes = std::fs::read(file).unwrap();
            let sha256 = Fingerprint::of(&bytes);
            let here: Vec<_> = photos.iter().filter(|photo| photo.sha256 == sha256).collect();
            assert_eq!(here.len(), 1, "{} is here {} times", file.display(), here.len());
            assert!(here[0].received.is_some(), "{} has no receipt", file.display());
            assert!(kept(&store, Item::Photo(sha256)).await == Some(bytes), "{} was altered", file.display());
        }
        assert_eq!(photos.len(), 4 + files.len(), "the demo's own and these");
    });
}

fn photos(browser: &Chromium, seeds: std::ops::Range<u32>) -> Vec<PathBuf> {
    seeds.map(|seed| jpeg(browser.folder(), seed)).collect()
}

#[test]
fn photographs_outlive_a_cut_a_reload_and_a_killed_browser() {
    let (mut demo, browser) = (Demo::serve(), Chromium::start());
    let files = photos(&browser, 30..36);
    let phone = signed_in(&demo, &browser);
    phone.go(WALK);
    phone.network(Some(0));
    phone.give_all(GALLERY, &files[..4]);
    phone.until(&waiting(4));
    assert_eq!(phone.eval(ROWS), json!([4, 4]));
    // the cut is only for this tab's network: now the shop itself goes
    demo.kill();
    phone.network(None);
    phone.give_all(GALLERY, &files[4..]);
    phone.until(&waiting(6));
    phone.keep("phone-queue");
    let mut browser = browser;
    for _ in 0..3 {
        browser = browser.killed_and_started();
    }
    demo.serve_again();
    let phone = Page::in_profile(&browser, demo.address(), PHONE);
    // whoever is signed in, or nobody: how many wait is said
    phone.network(Some(300_000));
    phone.go("/");
    phone.until("/[1-6] on this phone, /.test(document.querySelector('.unsent')?.innerText)");
    phone.network(None);
    if phone.text("location.pathname") == "/sign-in" {
        sign_in(&demo, &phone);
    }
    until_empty(&phone);
    phone.until(ALL_KEPT);
    assert_arrived_once(&mut demo, &files);
}

#[test]
fn a_server_killed_while_it_receives_gets_the_rest_after_its_restart() {
    let (mut demo, browser) = (Demo::serve(), Chromium::start());
    let files = vec![large(&browser, 41), jpeg(browser.folder(), 42)];
    let phone = signed_in(&demo, &browser);
    phone.go(WALK);
    // so slow that the large one is never through before the third time, on a busy machine either
    phone.network(Some(2_000_000));
    phone.give_all(GALLERY, &files);
    for _ in 0..3 {
        phone.until("/sending, [1-9]/.test(document.querySelector('.unsent').textContent)");
        demo.kill();
        phone.until("/on this phone, waiting/.test(document.querySelector('.unsent').innerText)");
        demo.serve_again();
    }
    phone.network(None);
    until_empty(&phone);
    assert_arrived_once(&mut demo, &files);
}

/// Two tabs are open on the same photographs; each is sent by one of them.
fn two_tabs(first: Option<&str>) {
    let (mut demo, browser) = (Demo::serve(), Chromium::start());
    let files = photos(&browser, 50..54);
    let one = signed_in(&demo, &browser);
    let other = Page::in_profile(&browser, demo.address(), PHONE);
    for tab in [&one, &other] {
        if let Some(script) = first {
            tab.first(script);
        }
        tab.first(
            // what could not be sent while there was no network does not count
            "window.sent = []; const plain = window.fetch;
            window.fetch = async (to, how) => {
                const answer = await plain(to, how);
                window.sent.push((how?.method || 'GET') + ' ' + to);
                return answer;
            };",
        );
        tab.go(WALK);
        tab.network(Some(0));
    }
    one.give_all(GALLERY, &files[..2]);
    one.until(&waiting(2));
    other.give_all(GALLERY, &files[2..]);
    for tab in [&one, &other] {
        tab.until(&waiting(4));
    }
    for tab in [&one, &other] {
        tab.network(None);
    }
    until_empty(&one);
    for tab in [&one, &other] {
        tab.until(ALL_KEPT);
    }
    let told = "window.sent.filter((one) => one.startsWith('PUT')).length";
    let told = one.eval(told).as_u64().unwrap() + other.eval(told).as_u64().unwrap();
    assert_eq!(told, 4, "{} {}", one.eval("window.sent"), other.eval("window.sent"));
    assert_arrived_once(&mut demo, &files);
}

#[test]
fn two_tabs_send_each_photograph_once() {
    two_tabs(None);
}

#[test]
fn two_tabs_without_the_browsers_locks_ask_each_other() {
    two_tabs(Some("Object.defineProperty(Navigator.prototype, 'locks', { get: () => undefined })"));
}

#[test]
fn who_is_signed_out_keeps_everything_and_it_goes_on_after_signing_in() {
    let (mut demo, browser) = (Demo::serve(), Chromium::start());
    let files = photos(&browser, 60..62);
    let phone = signed_in(&demo, &browser);
    phone.go(WALK);
    phone.call("Network.clearBrowserCookies", &json!({}));
    phone.give_all(GALLERY, &files);
    phone.until("/Nobody is signed in any more/.test(document.querySelector('.unsent').innerText)");
    phone.keep("phone-signed-out");
    assert_eq!(phone.eval(ROWS), json!([2, 2]));
    sign_in(&demo, &phone);
    until_empty(&phone);
    assert_arrived_once(&mut demo, &files);
}

#[test]
fn signing_out_with_unsent_photographs_asks_first() {
    let (mut demo, browser) = (Demo::serve(), Chromium::start());
    let files = photos(&browser, 70..71);
    let phone = signed_in(&demo, &browser);
    phone.go(PHOTOS);
    phone.call("Network.setBlockedURLs", &json!({ "urls": [NO_CAPTURES] }));
    phone.give(CAMERA, &files[0]);
    phone.until(&waiting(1));
    phone.press("footer a[href^='/people/']");
    phone.until(&waiting(1));
    let press = "document.querySelector('form[action=\"/sign-out\"] button').click()";
    phone.eval(press);
    phone.until("/1 photograph is only on this phone/.test(document.body.innerText)");
    phone.keep("phone-sign-out-asks");
    assert!(phone.text("location.pathname").starts_with("/people/"));
    phone.eval(press);
    phone.until("location.pathname === '/sign-in'");
    phone.until(&waiting(1));
    assert_eq!(phone.eval(ROWS), json!([1, 1]));
    phone.call("Network.setBlockedURLs", &json!({ "urls": [] }));
    sign_in(&demo, &phone);
    until_empty(&phone);
    assert_arrived_once(&mut demo, &files);
}

#[test]
fn what_another_person_left_waits_on_every_sheet_until_somebody_answers_for_it() {
    let (mut demo, browser) = (Demo::serve(), Chromium::start());
    let files = photos(&browser, 90..92);
    let phone = signed_in(&demo, &browser);
    phone.go(PHOTOS);
    phone.call("Network.setBlockedURLs", &json!({ "urls": [NO_CAPTURES] }));
    phone.give_all(GALLERY, &files);
    phone.until(&waiting(2));
    phone.call("Network.clearBrowserCookies", &json!({}));
    phone.call("Network.setBlockedURLs", &json!({ "urls": [] }));
    let (name, password) = demo.sign_in("office");
    phone.sign_in(name, password);
    for sheet in ["/stock", "/builds/teasel-coupe", "/phone", "/shop/health"] {
        phone.go(sheet);
        phone.until(&waiting(2));
        phone.until("/the oldest for \\d+ min/.test(document.querySelector('.unsent').innerText)");
        phone.until("/Those of fabricator, fabricator wait/.test(document.querySelector('.unsent').innerText)");
    }
    assert_eq!(phone.eval(ROWS), json!([2, 2]));
    phone.keep("phone-of-another");
    phone.eval("document.querySelector('.unsent button').click()");
    until_empty(&phone);
    assert_arrived_once(&mut demo, &files);
}

#[test]
fn what_the_shop_does_not_take_stays_until_somebody_forgets_it_twice() {
    let (mut demo, browser) = (Demo::serve(), Chromium::start());
    let files = photos(&browser, 94..95);
    let phone = signed_in(&demo, &browser);
    phone.go(PHOTOS);
    phone.eval("document.querySelector('form.take [name=note]').value = 'long '.repeat(2000)");
    phone.give(CAMERA, &files[0]);
    phone.until("/1 not taken by the shop/.test(document.querySelector('.unsent').innerText)");
    phone.go("/stock");
    phone.until("/not taken/.test(document.querySelector('.unsent li')?.innerText)");
    phone.keep("phone-not-taken");
    assert_eq!(phone.eval(ROWS), json!([1, 1]));
    let press = "document.querySelector('.unsent li button').click()";
    phone.eval(press);
    assert_eq!(phone.eval(ROWS), json!([1, 1]), "one press is no answer");
    phone.eval(press);
    until_empty(&phone);
    assert_arrived_once(&mut demo, &[]);
}

#[test]
fn a_copy_that_the_phone_damaged_is_never_sent_as_the_photograph() {
    let (mut demo, browser) = (Demo::serve(), Chromium::start());
    let files = photos(&browser, 96..97);
    let phone = signed_in(&demo, &browser);
    phone.go(PHOTOS);
    phone.call("Network.setBlockedURLs", &json!({ "urls": [NO_CAPTURES] }));
    phone.give(CAMERA, &files[0]);
    phone.until(&waiting(1));
    phone.eval(
        "new Promise((done, failed) => {
            const asking = indexedDB.open('tackbook');
            asking.onsuccess = () => {
                const change = asking.result.transaction('bytes', 'readwrite'), parts = change.objectStore('bytes');
                parts.getAll().onsuccess = (all) => {
                    const part = all.target.result[0];
                    new Uint8Array(part.buffer)[part.buffer.byteLength - 1] ^= 1;
                    parts.put(part);
                };
                change.oncomplete = () => { asking.result.close(); done(); };
                change.onabort = failed;
            };
        })",
    );
    phone.call("Network.setBlockedURLs", &json!({ "urls": [] }));
    phone.go("/stock");
    phone.until("/The copy on this phone is damaged/.test(document.querySelector('.unsent').innerText)");
    assert_arrived_once(&mut demo, &[]);
}

/// 20 MB that no browser makes smaller: what it keeps counts as it lies on the disk.
fn noise(browser: &Chromium) -> PathBuf {
    let mut bytes = vec![0xff, 0xd8, 0xff, 0xe0];
    let mut state = 81_u64;
    while bytes.len() < 20 << 20 {
        // xorshift64 (Marsaglia 2003)
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        bytes.extend_from_slice(&state.to_le_bytes());
    }
    let file = browser.folder().join("noise.jpg");
    std::fs::write(&file, bytes).unwrap();
    file
}

#[test]
fn a_full_phone_says_so_takes_no_more_and_sends_what_is_there() {
    let (mut demo, browser) = (Demo::serve(), Chromium::start());
    let files = vec![jpeg(browser.folder(), 80)];
    let phone = signed_in(&demo, &browser);
    let small = json!({ "origin": demo.address(), "quotaSize": 3_000_000 });
    phone.call("Storage.overrideQuotaForOrigin", &small);
    phone.go(WALK);
    phone.network(Some(0));
    phone.give(CAMERA, &files[0]);
    phone.until(&waiting(1));
    phone.give(CAMERA, &noise(&browser));
    phone.until("/This phone has no room/.test(document.querySelector('p.why:not([hidden])')?.innerText)");
    phone.keep("phone-full");
    phone.give(CAMERA, &jpeg(browser.folder(), 82));
    phone.until("/This phone has no room/.test(document.querySelector('p.why:not([hidden])')?.innerText)");
    assert_eq!(phone.eval(ROWS), json!([1, 1]));
    phone.network(None);
    until_empty(&phone);
    assert_arrived_once(&mut demo, &files);
}

#[test]
fn the_phones_own_sheet_says_what_it_can_do() {
    let (demo, browser) = (Demo::serve(), Chromium::start());
    let phone = signed_in(&demo, &browser);
    let said = "[...document.querySelectorAll('[data-can]')].map((one) => one.dataset.can + ' ' + one.innerText)";
    phone.go(WALK);
    phone.press("a[href='/phone']");
    phone.until("[...document.querySelectorAll('[data-can]')].every((one) => one.innerText !== 'not looked at')");
    phone.fits();
    phone.keep("phone-can");
    let here = phone.eval(said);
    for yes in ["https yes", "keeps yes", "hash yes", "locks yes"] {
        assert!(here.as_array().unwrap().contains(&json!(yes)), "{yes}: {here}");
    }
    // under a name on plain http browsers keep these back
    phone.first(
        "for (const [of, name] of [[Window, 'isSecureContext'], [Crypto, 'subtle'], [Navigator, 'locks'],
            [Navigator, 'wakeLock'], [Navigator, 'storage'], [Navigator, 'serviceWorker']])
            Object.defineProperty(of === Window ? window : of.prototype, name, { get: () => undefined });",
    );
    phone.go("/phone");
    phone.until("[...document.querySelectorAll('[data-can]')].every((one) => one.innerText !== 'not looked at')");
    let plain = phone.eval(said);
    for line in ["https no", "keeps yes", "hash no", "locks no", "stays no", "awake no", "offline no"] {
        assert!(plain.as_array().unwrap().contains(&json!(line)), "{line}: {plain}");
    }
    phone.assert_no_errors();
}
