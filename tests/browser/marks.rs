//! Drawing over a photograph with the mouse, as the office does it.

use serde_json::json;

use crate::chromium::Chromium;
use crate::demo::Demo;
use crate::page::Page;

#[test]
fn what_is_drawn_by_pointer_lies_over_the_photograph_where_it_was_drawn() {
    let (demo, browser) = (Demo::serve(), Chromium::start());
    let desk = Page::open(&browser, demo.address(), (1440, 900), false);
    let (name, password) = demo.sign_in("office");
    desk.sign_in(name, password);
    desk.go("/builds/teasel-coupe/photos");
    let photo = desk.text("document.querySelector('ul.photos li [data-capture]').dataset.to");
    desk.go(&format!("{photo}/marks"));
    desk.eval("const s = document.querySelector('#f-shape'); s.value = 'circle'; s.dispatchEvent(new Event('change'))");
    let frame = "document.querySelector('[data-marks] svg').getBoundingClientRect()";
    let side = |name: &str| desk.eval(&format!("{frame}.{name}")).as_f64().unwrap();
    let (left, top, wide, high) = (side("left"), side("top"), side("width"), side("height"));
    for (what, across, down) in
        [("mousePressed", 0.5, 0.5), ("mouseMoved", 0.6, 0.5), ("mouseMoved", 0.7, 0.5), ("mouseReleased", 0.7, 0.5)]
    {
        let at = json!({
            "type": what, "x": left + wide * across, "y": top + high * down, "button": "left", "buttons": 1, "clickCount": 1,
        });
        desk.call("Input.dispatchMouseEvent", &at);
    }
    let part = |name: &str| -> f64 {
        desk.text(&format!("document.querySelector('[name={name}]').value")).trim_end_matches(" %").parse().unwrap()
    };
    for (name, want) in [("across", 50.0), ("down", 50.0), ("to_across", 70.0), ("to_down", 50.0)] {
        assert!((part(name) - want).abs() < 0.3, "{name}: {}", part(name));
    }
    desk.press("#draw button.main");
    desk.until("/1 drawn over it, version 1/.test(document.body.innerText)");
    desk.keep("desk-marks");
    // The ring reaches as far from its middle as the hand went: a fifth of the picture's width.
    let ring = "document.querySelector('[data-marks] svg g polygon').getBBox().width / document.querySelector('[data-marks] svg').viewBox.baseVal.width";
    let across = desk.eval(ring).as_f64().unwrap();
    assert!((across - 0.4).abs() < 0.03, "{across}");
    desk.fits();

    // at full size it lies over the same place, at every zoom, and can be looked under
    desk.go(&format!("{photo}/large"));
    let lies = "(() => {
        const [ring, picture] = ['.pane svg g polygon', '.pane img'].map((one) => document.querySelector(one).getBoundingClientRect());
        return [(ring.left + ring.width / 2 - picture.left) / picture.width, (ring.top + ring.height / 2 - picture.top) / picture.height,
            ring.width / picture.width];
    })()";
    for zoom in [1, 4] {
        desk.eval(&format!("document.querySelector('a[data-zoom=\"{zoom}\"]').click()"));
        desk.until("document.querySelector('.pane img').complete");
        let lie: Vec<f64> = serde_json::from_value(desk.eval(lies)).unwrap();
        for (is, want) in lie.iter().zip([0.5, 0.5, 0.4]) {
            assert!((is - want).abs() < 0.03, "at {zoom}: {lie:?}");
        }
    }
    desk.keep("desk-large");
    desk.press("a[data-other-way]");
    assert_eq!(desk.eval("[location.search, document.querySelector('.pane svg')]"), json!(["?zoom=4&marks=no", null]));
    desk.assert_no_errors();
}
