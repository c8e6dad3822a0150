//! The cage's room at the desk: drawn as one types, the dimension of the field one is at, one screen; without script too.

use serde_json::json;

use crate::chromium::Chromium;
use crate::demo::Demo;
use crate::page::Page;

const DESK: (u32, u32) = (1440, 900);
const PICTURE: &str = "document.querySelector('.cage-drawing > svg').outerHTML";
/// The words and figures that stand within the first screen, of those that matter.
const IN_SIGHT: &str = "[...document.querySelectorAll('.cage-drawing > svg, #cage-taken, .cage-buttons button.main')]
    .every((one) => { const box = one.getBoundingClientRect(); return box.height > 0 && box.bottom <= innerHeight; })";

#[test]
fn a_cage_is_drawn_as_one_types_without_losing_the_place() {
    let (demo, browser) = (Demo::serve(), Chromium::start());
    let desk = Page::open(&browser, demo.address(), DESK, false);
    let (name, password) = demo.sign_in("office");
    desk.sign_in(name, password);
    desk.go("/builds/teasel-coupe/cage?open=hoop");
    desk.keep("desk-cage-room");
    assert_eq!(desk.eval(IN_SIGHT), true, "drawing, count and the button stand in one screen");
    let shown = |key: &str| desk.text(&format!("getComputedStyle(document.getElementById('d-{key}')).display"));
    assert_eq!(shown("hoop_roof_height"), "none");
    desk.eval("window.stays = true; document.getElementById('f-hoop_roof_height').select()");
    assert_eq!(shown("hoop_roof_height"), "block", "the field's dimension lies over the drawing");
    assert_eq!(shown("hoop_feet_width"), "none");
    desk.eval(&format!("window.before = {PICTURE}; window.begun = performance.now()"));
    desk.fill("#f-hoop_roof_height", "1090 mm");
    desk.until(&format!("{PICTURE} !== window.before"));
    println!("redrawn {} ms after the last key", desk.eval("Math.round(performance.now() - window.begun)"));
    assert_eq!(desk.text("document.activeElement.id"), "f-hoop_roof_height", "the place is not lost");
    assert_eq!(desk.eval("window.stays"), true, "no page was loaded");
    assert!(desk.text("document.getElementById('cage-said').textContent").contains("not saved"));
    // What does not read is told under its field once one leaves it, and goes when it is mended.
    desk.eval("document.getElementById('f-hoop_roof_width').select()");
    desk.fill("#f-hoop_roof_width", "about so");
    desk.eval("document.getElementById('f-hoop_lean').focus()");
    desk.eval("document.getElementById('cage-form').dispatchEvent(new Event('input'))");
    desk.until("/does not read/.test(document.querySelector('.cage-row.faulty .why')?.textContent)");
    desk.eval("document.getElementById('f-hoop_roof_width').select()");
    desk.fill("#f-hoop_roof_width", "1000 mm");
    desk.until("!document.querySelector('.cage-row.faulty')");
    // Turned by its keys, step after step without leaving the drawing, then seen from the side.
    desk.eval("document.getElementById('cage-drawn').focus()");
    for turn in [345, 330] {
        desk.eval(&format!("window.before = {PICTURE}"));
        let key = json!({ "type": "rawKeyDown", "key": "ArrowLeft", "code": "ArrowLeft", "windowsVirtualKeyCode": 37 });
        desk.call("Input.dispatchKeyEvent", &key);
        desk.until(&format!("{PICTURE} !== window.before && /turn={turn}/.test(location.search)"));
    }
    desk.eval(&format!("window.before = {PICTURE}; document.querySelectorAll('.cage-views a')[2].click()"));
    desk.until(&format!("{PICTURE} !== window.before && /Left side/.test({PICTURE})"));
    assert!(desk.text("document.getElementById('f-hoop_roof_height').value").contains("1090"), "nothing typed is lost");
    turns_and_touches(&desk);
    desk.press(".cage-buttons button.main");
    assert!(desk.text("document.getElementById('cage-changed').innerText").contains("1090 mm"));
    desk.assert_only_refusals();
}

/// What a choice would break is told before it is saved; the numbers are those of the group that is open, at most eight, and
/// another part's comes where that part has the focus.
fn turns_and_touches(desk: &Page<'_>) {
    let choose = |roof: &str| {
        let set = format!("roof.value = '{roof}'; roof.dispatchEvent(new Event('input', {{ bubbles: true }}))");
        desk.eval(&format!("{{ const roof = document.getElementById('f-roof_diagonal'); {set} }}"));
    };
    choose("none");
    desk.until("/3.9 would be short by 1/.test(document.getElementById('c-roof_diagonal').textContent)");
    desk.until("/would be short by 1/.test(document.getElementById('cage-turned').innerText)");
    choose("v_forward");
    desk.until("!/short by 1/.test(document.getElementById('c-roof_diagonal').textContent)");
    let numbers = "[...document.querySelectorAll('.cage-drawing > svg > g > a > text')].map(text => text.textContent)";
    desk.eval(&format!("window.numbers = {numbers}.join()"));
    desk.eval("{ const doors = document.querySelector('[data-open=doors] summary'); doors.focus(); doors.click() }");
    desk.until(&format!("{numbers}.join() !== window.numbers && /open=doors/.test(location.search)"));
    let standing = desk.eval(&format!("{numbers}.length")).as_u64().unwrap();
    assert!((1..=8).contains(&standing), "{standing}");
    let shown =
        "[...document.querySelectorAll('.on-touch')].filter(one => getComputedStyle(one).display !== 'none').length";
    assert_eq!(desk.eval(shown), 0);
    desk.eval("document.querySelector('.touch').focus()");
    assert_eq!(desk.eval(shown), 1);
}
