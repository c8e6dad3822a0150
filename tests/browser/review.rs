//! A scrutineer's review on a phone of 390 by 664, without script: every part answered, one of them not accepted, signed; nothing
//! is released before that one is accepted too and he signs again.

use serde_json::json;

use crate::chromium::Chromium;
use crate::demo::Demo;
use crate::page::Page;

const DESK: (u32, u32) = (1440, 900);
const SMALL: (u32, u32) = (390, 664);
const ROUND: &str = "/builds/teasel-coupe/rounds/1/review";
const PART: &str = "document.querySelector('input[name=part]')?.value ?? ''";
/// The three answers and the button stand within the screen, with nothing over them.
const BAR: &str = "[...document.querySelectorAll('.review-choices label'), document.querySelector('.review-go .main')].every((one) => {
    const box = one.getBoundingClientRect();
    return box.bottom <= innerHeight && box.top >= 0
        && one.contains(document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2)); })";

/// Answers the part that is shown, and goes on by the main button.
fn answer(phone: &Page<'_>, word: &str, remark: &str) {
    phone.eval(&format!("document.querySelector('input[name=answer][value=\"{word}\"]').click()"));
    if !remark.is_empty() {
        phone.fill("textarea[name=remark]", remark);
    }
    phone.press(".review-go .main");
}

/// Answers every part to the end, one with a change wanted.
fn answer_all_but(phone: &Page<'_>, wanted: &str) {
    let mut answered = 0;
    while !phone.text("location.pathname").ends_with("/sign") {
        if phone.text(PART) == wanted {
            phone.eval("document.querySelector('input[name=answer][value=\"change wanted\"]').click()");
            phone.fill("textarea[name=remark]", "Pad the half hoop here.");
            assert_eq!(phone.eval(BAR), true, "with a remark open too");
            phone.keep("phone-review-change");
            phone.press(".review-go .main");
        } else {
            answer(phone, "accepted", "");
        }
        answered += 1;
        assert!(answered < 200, "the review never ends");
    }
    println!("{answered} parts answered");
}

#[test]
fn a_scrutineer_answers_every_part_on_a_phone_and_one_that_is_not_accepted_holds_all() {
    let (demo, browser) = (Demo::serve(), Chromium::start());
    let desk = Page::open(&browser, demo.address(), DESK, false);
    let (name, password) = demo.sign_in("office");
    desk.sign_in(name, password);
    desk.go("/builds/teasel-coupe/rounds");
    desk.press("form.inline button.main");
    desk.until("/Round 1 is out and waits for the scrutineer/.test(document.body.innerText)");
    desk.keep("desk-round-out");
    let phone = Page::open(&browser, demo.address(), SMALL, true);
    let (name, password) = demo.sign_in("scrutineer");
    phone.sign_in(name, password);
    phone.without_script();
    phone.go("/builds/teasel-coupe/rounds");
    phone.press(".review-now a.main");
    assert_eq!(phone.text(PART), "J1");
    assert_eq!(phone.eval(BAR), true, "the answers stand in the first screen");
    phone.fits();
    phone.keep("phone-review-first");
    let wanted = "J3";
    answer_all_but(&phone, wanted);
    phone.fits();
    phone.keep("phone-review-sign");
    let seen = phone.text("document.body.innerText");
    assert!(seen.contains("Not offered: 1 change wanted.") && seen.contains("Pad the half hoop here."), "{seen}");
    assert_eq!(phone.eval("document.querySelectorAll('input[value=approved]').length"), json!(0));
    phone.eval("document.querySelector('input[value=\"not yet\"]').click()");
    phone.press(".review-signing .main");
    phone.until("/Round 1 is answered: not yet/.test(document.body.innerText)");
    phone.keep("phone-review-signed");
    desk.go("/builds/teasel-coupe/rounds");
    let seen = desk.text("document.body.innerText");
    assert!(seen.contains("Open because of it: 1") && seen.contains("HELD: tacks only"), "{seen}");
    desk.keep("desk-round-answered");
    // Accepted after all, signed again: what the round left open is read and ticked, and only then it is released.
    phone.go(&format!("{ROUND}?part={wanted}"));
    phone.eval("document.querySelector('textarea[name=remark]').value = ''");
    answer(&phone, "accepted", "Seen at the car.");
    phone.go(&format!("{ROUND}/sign"));
    phone.eval("document.querySelector('input[value=approved]').click()");
    phone.eval("document.querySelector('input[name=despite]').click()");
    phone.fill("[name=despite_words]", "The rest at final inspection.");
    phone.press(".review-signing .main");
    phone.until("/Released/.test(document.querySelector('.strip').innerText)");
    desk.go("/builds/teasel-coupe");
    assert!(desk.text("document.querySelector('.strip').innerText").contains("Released"));
    desk.go(&format!("{ROUND}?part={wanted}"));
    desk.keep("desk-review-read");
    phone.assert_only_refusals();
    desk.assert_only_refusals();
}
