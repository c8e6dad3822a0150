//! The office's desk: what is open, what the rules say, a round out, its reply in, the hold released.

use crate::chromium::Chromium;
use crate::demo::Demo;
use crate::page::Page;

const DESK: (u32, u32) = (1440, 900);

#[test]
fn a_round_goes_out_and_its_reply_releases_the_hold() {
    let (demo, browser) = (Demo::serve(), Chromium::start());
    let desk = Page::open(&browser, demo.address(), DESK, false);
    let (name, password) = demo.sign_in("office");
    desk.sign_in(name, password);
    desk.keep("desk-builds");
    for (path, said, name) in [
        ("", "Photograph", "desk-open"),
        ("/cage", "main hoop", "desk-cage"),
        ("/verdicts", "K4", "desk-verdicts"),
        ("/joints/J1", "J1", "desk-joint"),
        ("/photos", "photo", "desk-photos"),
        ("/rounds", "Issue round 1", "desk-rounds"),
    ] {
        desk.go(&format!("/builds/teasel-coupe{path}"));
        let seen = desk.text("document.body.innerText");
        assert!(seen.contains(said), "{path} does not say {said}: {seen}");
        assert!(seen.contains("HELD: tacks only"), "{path}");
        desk.keep(name);
    }
    desk.press("form.inline button.main");
    desk.until("/Rounds so far: 1/.test(document.body.innerText)");
    desk.eval("document.querySelector('input[name=decision][value=approved]').click()");
    desk.fill("input[name=given_by]", "the circle's scrutineer");
    desk.keep("desk-reply");
    // What is still open is read, ticked and answered for before anything is recorded.
    desk.eval("window.leaving = true; document.querySelector('form[action$=reply] button.main').click()");
    desk.until("!window.leaving && document.querySelector('#despite .why')");
    // The tick that is asked for gets the focus once the sheet is drawn.
    desk.until("document.activeElement.name === 'despite'");
    desk.keep("desk-still-open");
    desk.eval("document.querySelector('input[name=despite]').click()");
    desk.fill("[name=despite_words]", "I look at the rest at final inspection.");
    desk.eval("window.leaving = true; document.querySelector('form[action$=reply] button.main').click()");
    desk.until("!window.leaving && /Released/.test(document.querySelector('.strip').innerText)");
    desk.keep("desk-released");
    desk.go("/builds/teasel-coupe");
    let seen = desk.text("document.body.innerText");
    assert!(seen.contains("the circle's scrutineer approved round 1"), "{seen}");
    desk.assert_only_refusals();
}
