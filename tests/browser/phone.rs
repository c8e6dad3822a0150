//! The fabricator's phone: the walk from shot to shot with real photographs.

use std::path::{Path, PathBuf};

use crate::chromium::Chromium;
use crate::demo::Demo;
use crate::page::Page;

pub(crate) const PHONE: (u32, u32) = (390, 844);
const KEPT: &str = "Number(/(\\d+) of \\d+ kept/.exec(document.querySelector('.progress').innerText)[1])";
const SHOT: &str = "document.querySelector('form.take')?.dataset.shot";

/// A JPEG as a phone makes one; no two seeds alike.
pub(crate) fn jpeg(folder: &Path, seed: u32) -> PathBuf {
    let picture = image::RgbImage::from_fn(1600, 1200, |x, y| {
        let light = u8::try_from((x / 7 + y / 5 + seed * 13) % 2 * 120 + 60 + (x * y / 4_000 + seed) % 40).unwrap();
        image::Rgb([light, light, light / 2])
    });
    let file = folder.join(format!("photo-{seed}.jpg"));
    picture.save(&file).unwrap();
    file
}

#[test]
fn three_shots_of_the_walk_are_kept_and_the_next_one_is_asked_for() {
    let (demo, browser) = (Demo::serve(), Chromium::start());
    let phone = Page::open(&browser, demo.address(), PHONE, true);
    let (name, password) = demo.sign_in("fabricator");
    phone.sign_in(name, password);
    phone.fits();
    phone.keep("phone-builds");
    phone.go("/builds/teasel-coupe");
    phone.keep("phone-open");
    phone.fits();
    phone.go("/builds/teasel-coupe/walk");
    phone.fits();
    phone.keep("phone-walk");
    let before = phone.eval(KEPT).as_u64().unwrap();
    let mut shots = vec![phone.text(SHOT)];
    for seed in 1..=3 {
        phone.give("form.take input[name=photo]", &jpeg(browser.folder(), seed));
        let last = shots.last().unwrap().clone();
        phone.until(&format!("{SHOT} && {SHOT} !== {last:?}"));
        shots.push(phone.text(SHOT));
    }
    phone.until("/All photographs of this phone are kept/.test(document.body.innerText)");
    phone.keep("phone-walked");
    let asked = shots.len();
    shots.dedup();
    assert_eq!(shots.len(), asked, "the walk stood still: {shots:?}");
    // What the phone says is what the shop has: asked again, from the server alone.
    phone.go("/builds/teasel-coupe/walk");
    assert_eq!(phone.eval(KEPT).as_u64().unwrap(), before + 3);
    assert_eq!(phone.text(SHOT), *shots.last().unwrap());
    phone.assert_no_errors();
}

#[test]
fn without_script_the_plain_form_keeps_a_photograph() {
    let (demo, browser) = (Demo::serve(), Chromium::start());
    let phone = Page::open(&browser, demo.address(), PHONE, true);
    let (name, password) = demo.sign_in("fabricator");
    phone.sign_in(name, password);
    phone.without_script();
    phone.go("/builds/teasel-coupe/walk");
    let (before, shot) = (phone.eval(KEPT).as_u64().unwrap(), phone.text(SHOT));
    phone.give("form.take input[name=photo]", &jpeg(browser.folder(), 9));
    phone.press("form.take button.plainly");
    assert_eq!(phone.eval(KEPT).as_u64().unwrap(), before + 1);
    assert_ne!(phone.text(SHOT), shot);
    phone.assert_no_errors();
}

/// The bar's buttons lie wholly in the page and nothing lies over their middles; the page itself does not scroll.
const BAR_IS_FREE: &str = "[...document.querySelectorAll('.walk-bar > *')].filter((one) => one.offsetParent).every((one) => {
    const box = one.getBoundingClientRect(), there = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
    return box.height >= 48 && box.bottom <= innerHeight && (there === one || one.contains(there));
}) && document.documentElement.scrollHeight <= innerHeight";

#[test]
fn nothing_covers_the_camera_and_what_was_seen_in_a_picture_stays_until_it_is_answered() {
    let (demo, browser) = (Demo::serve(), Chromium::start());
    for (size, name) in [(PHONE, "phone-shot"), ((390, 664), "phone-shot-with-bars")] {
        let phone = Page::open(&browser, demo.address(), size, true);
        let (who, password) = demo.sign_in("fabricator");
        phone.sign_in(who, password);
        phone.go("/builds/teasel-coupe/walk");
        phone.eval("document.querySelectorAll('.shot-areas a')[2].click()");
        phone.until("document.readyState === 'complete' && document.querySelector('.shot-picture figcaption')");
        assert_eq!(phone.eval(BAR_IS_FREE), true, "{size:?}");
        assert!(
            phone.text("document.querySelector('.shot-picture figcaption').innerText").starts_with("Stand at the left")
        );
        phone.keep(name);
        // The very picture of another shot: told, and over the walk until one of the two is touched.
        let file = jpeg(browser.folder(), size.1);
        let before = phone.text(SHOT);
        phone.give("form.take input[capture]", &file);
        phone.until(&format!("{SHOT} !== {before:?}"));
        phone.until("/All photographs of this phone are kept/.test(document.body.innerText)");
        let between = phone.text(SHOT);
        phone.give("form.take input[capture]", &file);
        phone.until(&format!("{SHOT} !== {between:?}"));
        phone.until("/The very same picture is also at/.test(document.querySelector('.shot-remark')?.innerText)");
        assert_eq!(phone.eval(BAR_IS_FREE), true, "{size:?}, with a remark");
        phone.keep(&format!("{name}-remark"));
        phone.eval("document.querySelector('.walk-bar a').click()");
        phone.until("document.querySelector('.shot-remark')");
        phone.eval("document.querySelector('.shot-remark .shot-again').click()");
        phone.until(&format!("{SHOT} === {between:?} && !document.querySelector('.shot-remark')"));
    }
}
