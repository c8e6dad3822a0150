//! The office sends a whole folder, and drags a photograph to the shot it belongs to.

use crate::chromium::Chromium;
use crate::demo::Demo;
use crate::page::Page;
use crate::phone::jpeg;
use crate::queue::{PHOTOS, assert_arrived_once, until_empty};

#[test]
fn a_folder_is_sent_with_its_progress_and_a_photograph_is_dragged_to_its_shot() {
    let (mut demo, browser) = (Demo::serve(), Chromium::start());
    let files: Vec<_> = (140..143).map(|seed| jpeg(browser.folder(), seed)).collect();
    let folder = browser.folder().join("from-the-camera");
    std::fs::create_dir(&folder).unwrap();
    for file in &files {
        std::fs::rename(file, folder.join(file.file_name().unwrap())).unwrap();
    }
    let files: Vec<_> = files.iter().map(|file| folder.join(file.file_name().unwrap())).collect();
    std::fs::write(folder.join("notes.txt"), "no photograph").unwrap();

    let desk = Page::open(&browser, demo.address(), (1440, 900), false);
    let (name, password) = demo.sign_in("office");
    desk.sign_in(name, password);
    desk.go(PHOTOS);
    desk.network(Some(2_000_000));
    desk.give_all("input[webkitdirectory]", &[&folder]);
    desk.until("/[1-3] of 3 are with the shop/.test(document.querySelector('.unsent')?.innerText)");
    desk.until("document.querySelector('.unsent progress').value > 0");
    desk.network(None);
    until_empty(&desk);
    desk.until("/Of the folder 3 photos were taken up. Left out, as no photos that can be kept: notes.txt/.test(document.body.innerText)");

    desk.go(PHOTOS);
    let unplaced = "document.querySelectorAll('.tray [data-capture]').length";
    assert_eq!(desk.eval(unplaced), 3);
    let capture = desk.text("document.querySelector('.tray [data-capture]').dataset.capture");
    let shot = desk.text("document.querySelector('[data-drop^=J7]').dataset.drop");
    desk.eval("document.querySelectorAll('.office-areas details').forEach((one) => { one.open = true; }); window.leaving = true");
    desk.drag(".tray [data-capture]", &format!("[data-drop={shot:?}]"));
    desk.until("!window.leaving && document.readyState === 'complete'");
    assert_eq!(desk.eval(unplaced), 2);
    desk.until(&format!("document.querySelector('[data-drop={shot:?}] [data-capture=\"{capture}\"]')"));
    desk.assert_no_errors();
    assert_arrived_once(&mut demo, &files);
}
