//! The weld walk: line after line with the shop and without it, each written once, in the order they were typed.

use std::time::{Duration, Instant};

use serde_json::{Value, json};

use crate::chromium::Chromium;
use crate::demo::Demo;
use crate::page::Page;
use crate::queue::signed_in;

const WALK: &str = "/builds/teasel-coupe/welds/walk?joint=J7";
const JOINT: &str = "document.querySelector('[name=joint]').value";
const SAID: &str = "document.getElementById('weld-said').textContent";
/// What the shop has written of two joints.
const AT_THE_SHOP: &str = "Promise.all(['J7', 'J8'].map((joint) => fetch(`/builds/teasel-coupe/joints/${joint}`)
    .then((answer) => answer.text()).then((text) => (text.match(/Line \\d+, written/g) || []).length)))";

/// Whether the phone has what it draws the walk from.
const KEPT: &str = "caches.match('/builds/teasel-coupe/welds/walk-drawings.json').then(Boolean)";

/// Waits until what is promised is this.
fn becomes(page: &Page<'_>, promised: &str, wanted: &Value) {
    let begun = Instant::now();
    while page.eval(promised) != *wanted {
        assert!(begun.elapsed() < Duration::from_mins(1), "never {wanted}: {promised}: {}", page.eval(promised));
        std::thread::sleep(Duration::from_millis(100));
    }
}

#[test]
fn lines_written_without_the_shop_wait_on_the_phone_and_are_written_once() {
    let (mut demo, browser) = (Demo::serve(), Chromium::start());
    let phone = signed_in(&demo, &browser);
    phone.go(WALK);
    phone.until("navigator.serviceWorker.controller");
    becomes(&phone, KEPT, &json!(true));
    phone.fits();
    assert_eq!(phone.text(JOINT), "J7");
    let alone = format!("{}{WALK}", demo.address());
    demo.kill();

    // typed on the sheet that the shop sent: kept, and the walk goes on without it
    phone.eval("document.querySelector('[name=welder]').value = 'A. Welder'");
    phone.eval("document.querySelector('[name=volts]').value = '18'");
    phone.eval("document.querySelector('[name=position][value=PA]').checked = true");
    phone.eval("document.querySelector('.walk-bar button').click()");
    phone.until("document.readyState === 'complete' && document.body.dataset.shell !== undefined");
    phone.until(&format!("/^1 weld line on this phone: no connection/.test({SAID})"));
    assert_ne!(phone.text(JOINT), "J7", "the next joint");
    // opened anew, the same joint asks for its inspection
    phone.call("Page.navigate", &json!({ "url": alone }));
    phone.until("document.readyState === 'complete' && document.body.dataset.shell !== undefined");
    phone.until(&format!("{JOINT} === 'J7' && document.querySelector('[name=did]').value === 'inspected'"));
    phone.until("document.querySelector('#weld-picture img')?.naturalWidth > 0");
    assert_eq!(phone.text("document.getElementById('weld-stage').textContent"), "1 line on this phone");
    phone.fits();
    phone.keep("phone-weld-walk-alone");
    phone.eval("document.querySelector('[name=level]').value = 'C'");
    phone.eval("document.querySelector('[name=outcome]').value = 'accepted'");
    phone.eval("document.getElementById('weld-save').click()");
    phone.until(&format!("/^2 weld lines on this phone: no connection/.test({SAID})"));

    demo.serve_again();
    phone.go("/builds/teasel-coupe/welds");
    phone.until("document.querySelector('.unsent')?.hidden !== false || !/weld line/.test(document.querySelector('.unsent').innerText)");
    becomes(&phone, AT_THE_SHOP, &json!([2, 0]));
    // with the shop it goes straight on, and nothing stays on the phone
    phone.go("/builds/teasel-coupe/welds/walk?joint=J8");
    phone.until("document.getElementById('weld-walk')");
    phone.eval("document.querySelector('[name=welder]').value = 'A. Welder'");
    phone.eval("document.querySelector('[name=volts]').value = 'many'");
    phone.eval("document.querySelector('.walk-bar button').click()");
    phone.until("document.querySelector('[name=volts][aria-invalid=true]')?.value === 'many'");
    phone.eval("document.querySelector('[name=volts]').value = '19'");
    phone.eval("document.querySelector('[name=position][value=PA]').checked = true");
    phone.eval("document.querySelector('.walk-bar button').click()");
    phone.until(&format!("{JOINT} !== 'J8'"));
    assert_eq!(phone.eval(AT_THE_SHOP), json!([2, 1]));
    assert_eq!(phone.text(SAID), "");
}
