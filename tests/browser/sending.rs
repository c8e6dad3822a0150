//! What a phone sends first, and what it may send in place of the camera's own bytes.

use serde_json::json;

use crate::chromium::Chromium;
use crate::demo::Demo;
use crate::page::Page;
use crate::phone::jpeg;
use crate::queue::{GALLERY, WALK, signed_in, until_empty, waiting};

#[test]
fn all_are_told_of_before_the_first_bytes_go() {
    let (demo, browser) = (Demo::serve(), Chromium::start());
    let files: Vec<_> = (120..126).map(|seed| jpeg(browser.folder(), seed)).collect();
    let phone = signed_in(&demo, &browser);
    phone.go("/builds/teasel-coupe/photos");
    phone.call("Network.setBlockedURLs", &json!({ "urls": ["*/uploads/*"] }));
    phone.give_all(GALLERY, &files);
    phone.until(&waiting(6));
    let desk = Page::open(&browser, demo.address(), (1440, 900), false);
    let (name, password) = demo.sign_in("office");
    desk.sign_in(name, password);
    let begun = std::time::Instant::now();
    loop {
        desk.go("/builds/teasel-coupe/photos");
        let held = desk.text("document.querySelectorAll('.figures .big')[1].innerText");
        if held == "6" {
            break;
        }
        assert!(begun.elapsed().as_secs() < 60, "the shop knows of {held}");
    }
}

#[test]
fn on_a_weak_network_a_smaller_picture_goes_and_says_so() {
    let (mut demo, browser) = (Demo::serve(), Chromium::start());
    // 12 megapixels, as phones take them, of a pattern that no JPEG makes small
    let picture = image::RgbImage::from_fn(4000, 3000, |x, y| {
        let light = u8::try_from((x.wrapping_mul(2_654_435_761) ^ y.wrapping_mul(40_503)) >> 13 & 127).unwrap();
        image::Rgb([light + 60, light + 40, light])
    });
    let file = browser.folder().join("large.jpg");
    picture.save(&file).unwrap();
    let phone = signed_in(&demo, &browser);
    phone.go(WALK);
    phone.eval("document.querySelector('[data-smaller]').click()");
    phone.keep("phone-smaller");
    phone.fits();
    phone.give("form.take input[capture]", &file);
    phone.until("/Made smaller on the phone: the camera's own picture has/.test(document.body.innerText)");
    until_empty(&phone);
    phone.go(WALK);
    assert_eq!(phone.eval("document.querySelector('[data-smaller]').checked"), true, "it stays chosen");
    demo.kill();
    let threads = tokio::runtime::Runtime::new().unwrap();
    threads.block_on(async {
        let store = tackbook::store::Store::open(demo.folder()).await.unwrap();
        let build = store.builds().await.unwrap().pop().unwrap().id;
        let photo = store.photos(build).await.unwrap().pop().unwrap();
        let camera = std::fs::metadata(&file).unwrap().len();
        assert_eq!((photo.camera_size, photo.received.unwrap().dots), (Some(camera), Some((2560, 1920))));
        assert!(photo.size < camera / 2, "{} of {camera}", photo.size);
    });
}
