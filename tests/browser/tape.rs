//! The tape walk: one measurement at a time, by the pad's keys, without the shop, and without a script.

use serde_json::{Value, json};

use crate::chromium::Chromium;
use crate::demo::Demo;
use crate::page::Page;
use crate::phone::PHONE;
use crate::queue::signed_in;

const WALK: &str = "/builds/vetch-coupe/cage/tape";
/// The phone's page with the browser's own bars.
const WITH_BARS: (u32, u32) = (390, 664);
const NAME: &str = "document.getElementById('tape-name').textContent";
const FIGURE: &str = "document.getElementById('tape-figure').textContent";
const SAID: &str = "document.getElementById('tape-said').textContent";
/// The keys, the picture and the bar below all lie in the page, none over another, none too small for a glove.
const IN_REACH: &str = "(() => {
    const parts = ['tape-name', 'tape-picture', 'tape-pad', 'tape-next'].map((one) => document.getElementById(one).getBoundingClientRect());
    const over = parts.some((box, at) => at && box.top < parts[at - 1].bottom - 0.5);
    const keys = [...document.querySelectorAll('.tape-key, .tape-part')].map((one) => one.getBoundingClientRect());
    return [parts.every((box) => box.height > 0 && box.bottom <= innerHeight), over, Math.min(...keys.map((box) => Math.min(box.width, box.height))) >= 47.5,
        document.documentElement.scrollHeight <= innerHeight, parts[1].height > 90];
})()";
/// What the shop has of each measurement.
const AT_THE_SHOP: &str = "fetch('/builds/vetch-coupe/cage/tape.json').then((answer) => answer.json())
    .then((walk) => Object.fromEntries(walk.steps.filter((step) => step.was).map((step) => [step.key, step.was])))";

fn new_build(page: &Page<'_>) {
    by_inches(page);
    page.go("/builds/new");
    page.fill("input[name=name]", "Vetch Coupe");
    page.press("main form button.main");
    page.until("location.pathname.startsWith('/builds/vetch-coupe')");
}

/// A shop of inches.
fn by_inches(page: &Page<'_>) {
    page.eval("fetch('/units', { method: 'POST', body: new URLSearchParams({ units: 'inch' }), redirect: 'manual' })");
}

fn keys(page: &Page<'_>, whole: &str, sixteenths: u32) {
    for key in whole.chars() {
        page.eval(&format!("document.querySelector('[data-key=\"{key}\"]').click()"));
    }
    page.eval(&format!("document.querySelector('[name=sixteenths][value=\"{sixteenths}\"]').click()"));
}

fn next(page: &Page<'_>) {
    let before = page.text(NAME);
    page.eval("document.getElementById('tape-next').click()");
    page.until(&format!("document.getElementById('tape').hidden || {NAME} !== {before:?}"));
}

fn with_shop(page: &Page<'_>) {
    page.until(&format!("{SAID} === 'All measurements of this phone are with the shop.'"));
}

#[test]
fn a_car_is_measured_by_the_pad_with_the_shop_and_without_it() {
    let (mut demo, browser) = (Demo::serve(), Chromium::start());
    let phone = signed_in(&demo, &browser);
    new_build(&phone);
    phone.go(WALK);
    with_shop(&phone);
    phone.until("document.querySelector('#tape-picture img')?.naturalWidth > 0");
    assert_eq!(phone.eval(IN_REACH), json!([true, false, true, true, true]));
    phone.fits();
    phone.keep("phone-tape");
    assert_eq!(phone.text(NAME), "Main hoop, width between the feet");
    assert_eq!(phone.text("document.getElementById('tape-next').textContent"), "Next: width at the shoulder");
    keys(&phone, "50", 4);
    assert_eq!(phone.text(FIGURE), "501/4");
    next(&phone);
    assert_eq!(phone.text(NAME), "Main hoop, width at the shoulder");
    with_shop(&phone);
    assert_eq!(phone.eval(AT_THE_SHOP), json!({ "hoop_feet_width": "50 1/4 in" }));
    phone.until("navigator.serviceWorker.controller && caches.match('/builds/vetch-coupe/cage/tape-drawings.json')");

    // Nobody answers: the walk goes on, is opened anew, and the figures wait on the phone.
    let alone = format!("{}{WALK}", demo.address());
    demo.kill();
    keys(&phone, "48", 2);
    next(&phone);
    phone.until(&format!("/^1 measurement on this phone/.test({SAID})"));
    phone.call("Page.navigate", &json!({ "url": alone }));
    phone.until("document.readyState === 'complete' && document.body.dataset.shell !== undefined");
    phone.until(&format!("/^1 measurement on this phone/.test({SAID})"));
    phone.until(&format!("{NAME} === 'Main hoop, height of the shoulder'"));
    phone.until("document.querySelector('#tape-picture img')?.naturalWidth > 0");
    assert_eq!(phone.eval(IN_REACH), json!([true, false, true, true, true]));
    keys(&phone, "21", 14);
    phone.keep("phone-tape-alone");
    next(&phone);
    phone.until(&format!("/^2 measurements on this phone: no connection/.test({SAID})"));
    // One of them is seen to be wrong before it ever went out.
    phone.eval("document.getElementById('tape-back').click()");
    phone.until(&format!("{NAME} === 'Main hoop, height of the shoulder'"));
    assert_eq!(phone.text(FIGURE), "217/8");
    phone.eval("document.querySelector('[name=sixteenths][value=\"12\"]').click()");
    next(&phone);
    phone.until(&format!("/^2 measurements on this phone/.test({SAID})"));

    demo.serve_again();
    phone.go(WALK);
    with_shop(&phone);
    let there: Value = phone.eval(AT_THE_SHOP);
    let wanted = json!({
        "hoop_feet_width": "50 1/4 in", "hoop_shoulder_width": "48 1/8 in", "hoop_shoulder_height": "21 3/4 in",
    });
    assert_eq!(there, wanted);
}

#[test]
fn two_who_measure_one_thing_are_both_heard() {
    let (demo, browser) = (Demo::serve(), Chromium::start());
    let one = Page::open(&browser, demo.address(), WITH_BARS, true);
    let (name, password) = demo.sign_in("fabricator");
    one.sign_in(name, password);
    new_build(&one);
    let other = Page::open(&browser, demo.address(), PHONE, true);
    let (name, password) = demo.sign_in("office");
    other.sign_in(name, password);
    by_inches(&other);
    for page in [&one, &other] {
        page.go(WALK);
        with_shop(page);
    }
    one.until("document.querySelector('#tape-picture img')?.naturalWidth > 0");
    assert_eq!(one.eval(IN_REACH), json!([true, false, true, true, true]), "with the browser's bars");
    one.keep("phone-tape-with-bars");
    keys(&one, "50", 4);
    next(&one);
    with_shop(&one);
    keys(&other, "51", 0);
    next(&other);
    other.until(&format!("/to look at again/.test({SAID})"));
    other.eval("document.querySelector('#tape-said a').click()");
    other.until(
        "/Somebody else wrote 50 1\\/4 in here meanwhile/.test(document.getElementById('tape-told').textContent)",
    );
    other.keep("phone-tape-differs");
    other.eval("document.querySelector('#tape-told button').click()");
    with_shop(&other);
    assert_eq!(other.eval(AT_THE_SHOP), json!({ "hoop_feet_width": "51 in" }));
    // A right side of its own is asked for where it is not the same.
    one.go(&format!("{WALK}?at=knee_up_left"));
    with_shop(&one);
    keys(&one, "26", 2);
    one.eval("document.querySelector('[name=same]').click()");
    assert_eq!(one.text("document.getElementById('tape-next').textContent"), "Next: right side");
    one.keep("phone-tape-left");
    next(&one);
    assert_eq!(one.text(NAME), "Right pillar knee, height");
    one.until("document.querySelector('#tape-picture img')?.naturalWidth > 0");
    one.keep("phone-tape-right");
    one.assert_only_refusals_or_conflicts();
}

#[test]
fn without_a_script_the_figure_is_typed_and_its_fraction_chosen() {
    let (demo, browser) = (Demo::serve(), Chromium::start());
    let phone = Page::open(&browser, demo.address(), WITH_BARS, true);
    let (name, password) = demo.sign_in("fabricator");
    phone.sign_in(name, password);
    new_build(&phone);
    phone.without_script();
    phone.go(WALK);
    phone.keep("phone-tape-plain");
    phone.fill("#f-value", "50");
    phone.eval("document.querySelector('[name=sixteenths][value=\"4\"]').checked = true");
    phone.press("#tape-next");
    assert_eq!(phone.text(NAME), "Main hoop, width at the shoulder");
    phone.fill("#f-value", "about so");
    phone.press("#tape-next");
    assert!(phone.text("document.getElementById('w-value').textContent").contains("does not read"));
    assert_eq!(phone.text("document.getElementById('f-value').value"), "about so", "nothing typed is lost");
    phone.eval("document.getElementById('f-value').value = '48 1/8'");
    phone.press("#tape-next");
    assert_eq!(phone.eval(AT_THE_SHOP), json!({ "hoop_feet_width": "50 1/4 in", "hoop_shoulder_width": "48 1/8 in" }));
    phone.press("#tape-back");
    assert_eq!(phone.text(NAME), "Main hoop, width at the shoulder");
    phone.assert_only_refusals();
}
