//! A round answered by a reading link on a phone of 390 by 844, its pages' scripts switched off: three things are questioned,
//! each with a finger on the photograph that shows it, and the office sees where.

use serde_json::json;

use crate::chromium::Chromium;
use crate::demo::Demo;
use crate::link::{BODY, PART, ROUNDS, linked, signed};
use crate::page::Page;

const PHONE: (u32, u32) = (390, 844);
/// What leads to a photograph of the part that is looked at.
const LEADS: &str = "button[name=go][value^=\"on:\"]";

/// Photographs a joint, as the plain form of the walk sends it.
const PHOTOGRAPHED: &str = "(async () => {
    const canvas = Object.assign(document.createElement('canvas'), { width: 1200, height: 900 });
    const drawn = canvas.getContext('2d');
    for (let at = 0; at < 900; at += 9) { drawn.fillStyle = at % 2 ? '#ddd' : '#333'; drawn.fillRect(at, at, 300, 5); }
    const photo = await new Promise((kept) => canvas.toBlob(kept, 'image/jpeg'));
    const form = new FormData();
    form.append('capture', crypto.randomUUID());
    form.append('shot', 'J1 joint-tacked/wide');
    form.append('photo', photo, 'joint.jpg');
    return (await fetch('/builds/teasel-coupe/walk/photos', { method: 'POST', body: form })).status;
})()";

/// Touches the photograph at these parts of its width and height, and waits for the sheet that follows.
fn touched(phone: &Page<'_>, across: f64, down: f64) {
    let frame =
        "(() => { const one = document.querySelector('input[type=image]'); one.scrollIntoView({ block: 'center' });
        const { x, y, width, height } = one.getBoundingClientRect(); return [x, y, width, height]; })()";
    let [left, top, wide, high]: [f64; 4] = serde_json::from_value(phone.eval(frame)).unwrap();
    assert!((wide, left + wide) <= (342.0, 390.0), "held to its width: {left} {wide}");
    let at = json!([{ "x": left + wide * across, "y": top + high * down }]);
    phone.eval("window.leaving = true");
    phone.call("Input.dispatchTouchEvent", &json!({ "type": "touchStart", "touchPoints": at }));
    phone.call("Input.dispatchTouchEvent", &json!({ "type": "touchEnd", "touchPoints": [] }));
    phone.until("!window.leaving && document.readyState === 'complete' && document.querySelector('input[name=mark]')");
}

/// The marks that stand in the form: across and down, in thousandths.
fn marks(phone: &Page<'_>) -> Vec<(f64, f64)> {
    let sent =
        phone.eval("[...document.querySelectorAll('input[name=mark]')].map((one) => one.value.split(':').slice(1))");
    let sent: Vec<(String, String)> = serde_json::from_value(sent).unwrap();
    sent.iter().map(|(across, down)| (across.parse().unwrap(), down.parse().unwrap())).collect()
}

/// Questions one part with a mark, its words typed before the photograph is touched.
fn pointed(phone: &Page<'_>, asked: usize) {
    phone.eval("document.querySelector('input[name=answer][value=\"question\"]').click()");
    phone.fill("textarea[name=remark]", "What is this?");
    phone.press(LEADS);
    phone.fits();
    if asked == 0 {
        phone.keep("phone-pointing");
    }
    touched(phone, 0.25, 0.6);
    let (across, down) = marks(phone)[0];
    assert!((across - 250.0).abs() < 8.0 && (down - 600.0).abs() < 8.0, "{across} {down}");
    assert_eq!(phone.text("document.querySelector('textarea[name=remark]').value"), "What is this?");
    phone.fits();
    if asked == 0 {
        phone.keep("phone-pointed");
    }
}

#[test]
fn three_things_are_questioned_with_a_finger_on_their_photographs_and_the_office_sees_where() {
    let (demo, browser) = (Demo::serve(), Chromium::start());
    let desk = Page::open(&browser, demo.address(), (1440, 900), false);
    let (name, password) = demo.sign_in("office");
    desk.sign_in(name, password);
    assert_eq!(desk.eval(PHOTOGRAPHED), json!(200), "a third part is photographed");
    desk.go(ROUNDS);
    desk.press("form.inline button.main");
    desk.until("/Round 1 is out and waits for the scrutineer/.test(document.body.innerText)");
    let link = linked(&desk, "M. Alder");
    let phone = Page::open(&browser, demo.address(), PHONE, true);
    phone.without_script();
    phone.go(&link);
    phone.press("main a.main");
    let mut asked = Vec::new();
    for _ in 0..200 {
        if phone.text("location.pathname").ends_with("/sign") {
            break;
        }
        if asked.len() < 3 && phone.eval(&format!("document.querySelector('{LEADS}') !== null")) == json!(true) {
            let part = phone.text(PART);
            pointed(&phone, asked.len());
            asked.push(part);
        } else {
            phone.eval("document.querySelector('input[name=answer][value=\"accepted\"]').click()");
        }
        phone.press(".review-go .main");
    }
    assert_eq!(asked.len(), 3, "the demo's round shows photographs of at least three parts: {asked:?}");
    assert_eq!(phone.text(BODY).matches("1 mark on a photograph").count(), 3);
    phone.keep("phone-pointed-sign");
    signed(&phone, "not yet");
    phone.until("/Your answer is recorded/.test(document.body.innerText)");
    desk.go("/builds/teasel-coupe/questions");
    let circles = desk.eval("[...document.querySelectorAll('article.asked figure.over svg')].filter((one) => one.querySelector('image') && one.querySelector('polygon, path')).length");
    assert_eq!(circles, json!(3), "{}", desk.text(BODY));
    assert_eq!(desk.text(BODY).matches("marked on the photograph").count(), 3);
    for part in &asked {
        assert!(desk.text(BODY).contains(part.as_str()), "{part}");
    }
    desk.keep("desk-pointed");
    desk.assert_no_errors();
    phone.assert_no_errors();
}
