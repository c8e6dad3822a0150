//! The conversation by reading links, on a phone of 390 by 664 without an account: questions, a second round, a release under a
//! condition, met at last; an old link and a withdrawn one lead nowhere.

use serde_json::json;

use crate::chromium::Chromium;
use crate::demo::Demo;
use crate::page::Page;

const DESK: (u32, u32) = (1440, 900);
const SMALL: (u32, u32) = (390, 664);
pub(crate) const ROUNDS: &str = "/builds/teasel-coupe/rounds";
pub(crate) const PART: &str = "document.querySelector('input[name=part]')?.value ?? ''";
pub(crate) const BODY: &str = "document.body.innerText";

/// Makes a link to the newest round at the desk, and gives its address without the host.
pub(crate) fn linked(desk: &Page<'_>, reader: &str) -> String {
    desk.go(ROUNDS);
    desk.fill("[name=reader]", reader);
    desk.eval("window.leaving = true; document.querySelector('[name=reader]').form.requestSubmit()");
    desk.until("!window.leaving && document.readyState === 'complete' && document.getElementById('mail')");
    let mail = desk.text("document.getElementById('mail').value");
    let line = mail.lines().find(|line| line.contains("/read/")).unwrap();
    line[line.find("/read/").unwrap()..].to_owned()
}

/// Answers every part that is asked: these with a question, the others accepted; ends at the sign-off.
fn answered(phone: &Page<'_>, questioned: &[&str]) {
    for _ in 0..200 {
        if phone.text("location.pathname").ends_with("/sign") {
            return;
        }
        let asks = questioned.contains(&phone.text(PART).as_str());
        let word = if asks { "question" } else { "accepted" };
        phone.eval(&format!("document.querySelector('input[name=answer][value=\"{word}\"]').click()"));
        if asks {
            phone.fill("textarea[name=remark]", "How does it meet the pillar?");
        }
        phone.press(".review-go .main");
    }
    panic!("the review never ends");
}

pub(crate) fn signed(phone: &Page<'_>, decision: &str) {
    phone.eval(&format!("document.querySelector('input[name=decision][value=\"{decision}\"]').click()"));
    phone.fill("[name=name]", "Mara Alder");
    phone.fill("[name=licence]", "scrutineer, 4471");
    phone.press(".review-signing .main");
}

/// Releases, once a condition is met.
fn under_a_condition(phone: &Page<'_>) {
    phone.eval("document.querySelector('.review-under').open = true");
    phone.fill("[name=condition_about_1]", "J5");
    phone.fill("[name=condition_1]", "Grind the pillar's edge back.");
    phone.eval("document.querySelector('[name=condition_holds_1]').click()");
    phone.keep("phone-link-condition");
    signed(phone, "approved");
    phone.until("document.querySelector('input[name=despite]')");
    phone.eval("document.querySelector('input[name=despite]').click()");
    phone.fill("[name=despite_words]", "The rest at final inspection.");
    phone.press(".review-signing .main");
    phone.until("/Your answer is recorded/.test(document.body.innerText)");
    assert!(phone.text(BODY).contains("The build is held."), "{}", phone.text(BODY));
}

#[test]
fn a_round_is_answered_by_link_and_the_next_released_under_a_condition_that_is_met() {
    let (demo, browser) = (Demo::serve(), Chromium::start());
    let desk = Page::open(&browser, demo.address(), DESK, false);
    let (name, password) = demo.sign_in("office");
    desk.sign_in(name, password);
    desk.go(ROUNDS);
    desk.press("form.inline button.main");
    desk.until("/Round 1 is out and waits for the scrutineer/.test(document.body.innerText)");
    let first = linked(&desk, "M. Alder");
    desk.keep("desk-link-made");
    let phone = Page::open(&browser, demo.address(), SMALL, true);
    phone.go(&first);
    phone.fits();
    phone.keep("phone-link");
    assert_eq!(phone.eval("document.cookie"), json!(""));
    assert!(phone.text(BODY).contains("Round 1 of Teasel Coupe") && !phone.text(BODY).contains("Stock"));
    phone.press("main a.main");
    phone.fits();
    answered(&phone, &["J1", "J5", "J9"]);
    phone.keep("phone-link-sign");
    // A press alone is no answer.
    phone.eval("document.querySelector('input[name=decision][value=\"not yet\"]').click()");
    phone.press(".review-signing .main");
    phone.until("/Type your name./.test(document.body.innerText)");
    signed(&phone, "not yet");
    phone.until("/Your answer is recorded/.test(document.body.innerText)");
    assert!(
        phone.text("document.querySelector('pre').innerText").contains("J5: question: How does it meet the pillar?")
    );
    phone.fits();
    phone.keep("phone-link-receipt");
    // The office answers, and puts it again.
    desk.go("/builds/teasel-coupe/questions");
    assert_eq!(desk.text(BODY).matches("How does it meet the pillar?").count(), 3);
    desk.go(ROUNDS);
    desk.keep("desk-link-answered");
    desk.press("form.inline button.main");
    desk.until("/Round 2 is out and waits for the scrutineer/.test(document.body.innerText)");
    phone.go(&format!("{first}/review"));
    assert!(phone.text(BODY).contains("Round 2 has followed this one. Ask the shop for a link to it."));
    let second = linked(&desk, "M. Alder");
    phone.go(&second);
    phone.press("main a.main");
    answered(&phone, &[]);
    under_a_condition(&phone);
    desk.go(ROUNDS);
    let seen = desk.text(BODY);
    assert!(seen.contains("Held until met") && seen.contains("Grind the pillar's edge back."), "{seen}");
    desk.keep("desk-link-condition");
    let condition = "[...document.querySelectorAll('form[action$=\"/settle\"]')].at(-1)";
    desk.go("/builds/teasel-coupe/questions");
    desk.eval(&format!("window.leaving = true; {condition}.requestSubmit()"));
    desk.until("!window.leaving && /Released/.test(document.querySelector('.strip').innerText)");
    // Withdrawn: dead with the next request.
    desk.go(ROUNDS);
    desk.eval("window.leaving = true; document.querySelector('form[action$=\"/withdraw\"]').requestSubmit()");
    desk.until("!window.leaving && /withdrawn/.test(document.body.innerText)");
    phone.go(&second);
    assert!(phone.text(BODY).contains("This link leads nowhere any more"));
    desk.assert_only_refusals();
}
