//! What was typed into a form is not lost by leaving its sheet, by a refusal, or by a shop that does not answer; what was saved is not
//! offered again; the light that a person chose.

use serde_json::json;

use crate::chromium::Chromium;
use crate::demo::Demo;
use crate::page::Page;
use crate::phone::PHONE;

const ASKING: &str = "/builds/teasel-coupe/questions";
const NOTE: &str = "document.querySelector('.unsaved p')?.textContent ?? ''";
const KEPT: &str = "Object.keys(localStorage).filter((name) => name.startsWith('unsaved ')).length";
const WORDS: &str = "document.querySelector('[name=text]').value";

fn typed(page: &Page<'_>, text: &str) {
    page.fill("[name=text]", text);
    page.until(&format!("{KEPT} === 1"));
}

fn press(page: &Page<'_>, button: &str) {
    page.eval(&format!(
        "[...document.querySelectorAll('.unsaved button')].find((one) => one.textContent === '{button}').click()"
    ));
}

#[test]
fn what_was_typed_and_not_saved_is_offered_again_and_what_was_saved_is_not() {
    let (mut demo, browser) = (Demo::serve(), Chromium::start());
    let phone = Page::open(&browser, demo.address(), PHONE, true);
    let (name, password) = demo.sign_in("fabricator");
    let (name, password) = (name.to_owned(), password.to_owned());
    phone.sign_in(&name, &password);
    phone.go(ASKING);
    assert_eq!(phone.text(NOTE), "");
    // Left with half a sentence: it is offered, and put over nothing until one wants it.
    typed(&phone, "May the harness bar");
    phone.go("/builds/teasel-coupe");
    phone.go(ASKING);
    assert!(phone.text(NOTE).starts_with("1 field was filled in here on "), "{}", phone.text(NOTE));
    assert_eq!(phone.text(WORDS), "");
    phone.fits();
    phone.keep("phone-unsaved");
    press(&phone, "Put it back");
    assert_eq!((phone.text(WORDS), phone.text(NOTE)), ("May the harness bar".to_owned(), String::new()));
    // The shop does not answer when it is sent: it is offered when the shop is there again.
    let alone = format!("{}{ASKING}", demo.address());
    demo.kill();
    phone.eval("document.querySelector('[name=text]').form.requestSubmit()");
    phone.until("document.body.dataset.shell !== undefined || !document.querySelector('[name=text]')");
    demo.serve_again();
    phone.call("Page.navigate", &json!({ "url": alone }));
    phone.until("document.readyState === 'complete' && document.querySelector('.unsaved')");
    press(&phone, "Put it back");
    // Somebody who is signed out meanwhile, and signs in again, still has it.
    phone.call("Network.clearBrowserCookies", &json!({}));
    phone.eval("window.leaving = true; document.querySelector('[name=text]').form.requestSubmit()");
    phone.until("!window.leaving && document.querySelector('h1').textContent === 'Signed out meanwhile'");
    assert_eq!(phone.text(WORDS), "May the harness bar", "it is on the sheet that says so, too");
    phone.sign_in(&name, &password);
    phone.go(ASKING);
    press(&phone, "Put it back");
    assert_eq!(phone.text(WORDS), "May the harness bar");
    // Saved: gone, and never offered again.
    phone.eval("window.leaving = true; document.querySelector('[name=text]').form.requestSubmit()");
    phone.until("!window.leaving && /May the harness bar/.test(document.querySelector('main').innerText)");
    phone.until(&format!("{KEPT} === 0"));
    phone.go(ASKING);
    assert_eq!(phone.text(NOTE), "");
    // Not wanted, it goes; and with a person who signs out everything goes.
    typed(&phone, "Which");
    phone.go(ASKING);
    press(&phone, "Forget it");
    assert_eq!(phone.eval(KEPT), json!(0));
    typed(&phone, "Whose");
    phone.eval("window.leaving = true; document.querySelector('footer a[href^=\"/people/\"]').click()");
    phone.until("!window.leaving && document.readyState === 'complete'");
    assert_eq!(phone.eval(KEPT), json!(1));
    phone.press("form[action='/sign-out'] button");
    assert_eq!(phone.eval(KEPT), json!(0));
}

#[test]
fn the_light_that_is_chosen_stays_and_sunlight_is_black_on_white() {
    let (demo, browser) = (Demo::serve(), Chromium::start());
    let phone = Page::open(&browser, demo.address(), PHONE, true);
    let (name, password) = demo.sign_in("fabricator");
    phone.sign_in(name, password);
    let ink_and_paper = "(() => { const is = getComputedStyle(document.querySelector('.sheet')); return [is.color, is.backgroundColor]; })()";
    phone.call(
        "Emulation.setEmulatedMedia",
        &json!({ "features": [{ "name": "prefers-color-scheme", "value": "dark" }] }),
    );
    phone.go("/phone");
    let (dark, light) =
        (json!(["rgb(241, 239, 233)", "rgb(17, 24, 31)"]), json!(["rgb(20, 32, 43)", "rgb(253, 252, 249)"]));
    assert_eq!(phone.eval(ink_and_paper), dark, "as the device says");
    for (name, seen) in [
        ("day", light),
        ("night", dark.clone()),
        ("sun", json!(["rgb(0, 0, 0)", "rgb(255, 255, 255)"])),
        ("device", dark),
    ] {
        phone.press(&format!("button[name=light][value={name}]"));
        assert_eq!(phone.text("location.pathname"), "/phone", "back where it was chosen");
        assert_eq!(phone.eval(ink_and_paper), seen, "{name}");
        phone.go("/builds/teasel-coupe/walk");
        phone.keep(&format!("phone-walk-{name}"));
        assert_eq!(phone.eval(ink_and_paper), seen, "{name}");
        phone.go("/phone");
    }
    phone.assert_no_errors();
}
