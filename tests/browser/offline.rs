//! A phone whose shop is away: the walk opens from what the phone keeps, photographs wait, and all go when it is back.

use serde_json::{Value, json};

use crate::chromium::Chromium;
use crate::demo::Demo;
use crate::page::Page;
use crate::phone::{PHONE, jpeg};
use crate::queue::{GALLERY, WALK, assert_arrived_once, sign_in, signed_in, until_empty, waiting};

const SHOT: &str = "document.querySelector('form.take')?.dataset.shot";
/// The paths in the shell's caches, whether any walk is kept, and whether its drawings are.
const SHELL: &str = "(async () => {
    const paths = [];
    for (const name of (await caches.keys()).filter((name) => name.startsWith('tackbook shell ')))
        for (const kept of await (await caches.open(name)).keys()) paths.push(new URL(kept.url).pathname);
    return paths;
})()";
const WALKS: &str = "caches.has('tackbook walks')";
const DRAWINGS: &str = "caches.match('/builds/teasel-coupe/walk-drawings.json').then(Boolean)";

/// Opens an address with nobody to answer it but the phone itself.
fn open_alone(phone: &Page<'_>, address: &str) {
    phone.call("Page.navigate", &json!({ "url": address }));
    phone.until("document.readyState === 'complete' && document.body.dataset.shell !== undefined");
}

fn ready(phone: &Page<'_>) {
    phone.until("navigator.serviceWorker.controller");
    let begun = std::time::Instant::now();
    while !phone.eval(SHELL).as_array().unwrap().contains(&json!("/offline")) || phone.eval(DRAWINGS) != true {
        assert!(begun.elapsed().as_secs() < 60, "{} {}", phone.eval(SHELL), phone.eval(DRAWINGS));
        std::thread::sleep(std::time::Duration::from_millis(100));
    }
}

#[test]
fn the_walk_opens_without_the_shop_takes_photographs_and_sends_them_when_it_is_back() {
    let (mut demo, browser) = (Demo::serve(), Chromium::start());
    let files: Vec<_> = (110..114).map(|seed| jpeg(browser.folder(), seed)).collect();
    let phone = signed_in(&demo, &browser);
    phone.go(WALK);
    ready(&phone);
    let asked = phone.text(SHOT);
    demo.kill();

    // reloaded with nobody to answer: the same shot, from what the phone keeps
    let walk = format!("{}{WALK}", demo.address());
    open_alone(&phone, &walk);
    phone.until(SHOT);
    assert_eq!(phone.text(SHOT), asked);
    phone.until("/No connection to the shop. This is the list as it was on/.test(document.body.innerText)");
    phone.until("/HELD: tacks only/.test(document.querySelector('.strip').innerText)");
    phone.until("document.querySelector('figure.shot-picture img')?.naturalWidth > 0");
    phone.fits();
    phone.keep("phone-walk-alone");

    phone.give("form.take input[capture]", &files[0]);
    phone.until(&waiting(1));
    phone.until(&format!("{SHOT} !== {asked:?}"));
    phone.give_all(GALLERY, &files[1..3]);
    phone.until(&waiting(3));
    // and once more, through a killed browser
    let browser = browser.killed_and_started();
    let phone = Page::in_profile(&browser, demo.address(), PHONE);
    open_alone(&phone, &walk);
    phone.until(&waiting(3));
    phone.until(&format!("{SHOT} && {SHOT} !== {asked:?}"));
    phone.give("form.take input[capture]", &files[3]);
    phone.until(&waiting(4));

    // an address that the phone does not keep leads to the walks that it does
    open_alone(&phone, &format!("{}/stock", demo.address()));
    phone.until(
        "[...document.querySelectorAll('[data-walks] a')].some((one) => one.innerText.startsWith('Walk round'))",
    );
    phone.fits();
    phone.keep("phone-alone");

    demo.serve_again();
    phone.go(WALK);
    if phone.text("location.pathname") == "/sign-in" {
        sign_in(&demo, &phone);
    }
    until_empty(&phone);

    // what is cached is the shell; signing out forgets the walks
    phone.go(WALK);
    ready(&phone);
    let shell: Vec<Value> = phone.eval(SHELL).as_array().unwrap().clone();
    let of_build =
        |path: &&Value| !["/offline", "/static/"].iter().any(|known| path.as_str().unwrap().starts_with(known));
    assert_eq!(shell.iter().find(of_build), None);
    phone.go("/builds/teasel-coupe/photos");
    phone.press("footer a[href^='/people/']");
    phone.eval("document.querySelector('form[action=\"/sign-out\"] button').click()");
    phone.until("location.pathname === '/sign-in'");
    let begun = std::time::Instant::now();
    while phone.eval(WALKS) != false {
        assert!(begun.elapsed().as_secs() < 20, "the walks are still here");
        std::thread::sleep(std::time::Duration::from_millis(100));
    }
    assert_arrived_once(&mut demo, &files);
}
