//! One page of the browser: go there, look, type, choose a file, take a picture of it.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use serde_json::{Value, json};

use crate::chromium::Chromium;

const PATIENCE: Duration = Duration::from_mins(1);

/// A page at a size, with cookies of its own.
pub(crate) struct Page<'b> {
    browser: &'b Chromium,
    session: String,
    address: String,
    size: (u32, u32),
    phone: bool,
}

impl<'b> Page<'b> {
    pub(crate) fn open(browser: &'b Chromium, address: &str, size: (u32, u32), phone: bool) -> Self {
        let context = browser.call(None, "Target.createBrowserContext", &json!({}))["browserContextId"].clone();
        Self::tab(browser, address, size, phone, &json!({ "url": "about:blank", "browserContextId": context }))
    }

    /// A phone's tab in the browser's own profile, which outlives the browser; its tabs share what they keep.
    pub(crate) fn in_profile(browser: &'b Chromium, address: &str, size: (u32, u32)) -> Self {
        Self::tab(browser, address, size, true, &json!({ "url": "about:blank" }))
    }

    fn tab(browser: &'b Chromium, address: &str, (width, height): (u32, u32), phone: bool, asked: &Value) -> Self {
        let target = browser.call(None, "Target.createTarget", asked);
        let attached =
            browser.call(None, "Target.attachToTarget", &json!({ "targetId": target["targetId"], "flatten": true }));
        let session = attached["sessionId"].as_str().unwrap().to_owned();
        let page = Self { browser, session, address: address.to_owned(), size: (width, height), phone };
        for domain in ["Page", "Runtime", "Network", "DOM", "Log"] {
            page.call(&format!("{domain}.enable"), &json!({}));
        }
        page.as_wide_as(width);
        page.call("Emulation.setTouchEmulationEnabled", &json!({ "enabled": phone }));
        page
    }

    /// Makes the page as wide as this, in CSS pixels.
    fn as_wide_as(&self, width: u32) {
        let scale = if self.phone { 2 } else { 1 };
        let size = json!({ "width": width, "height": self.size.1, "deviceScaleFactor": scale, "mobile": self.phone });
        self.call("Emulation.setDeviceMetricsOverride", &size);
    }

    /// Calls a method of the browser for this page.
    pub(crate) fn call(&self, method: &str, params: &Value) -> Value {
        self.browser.call(Some(&self.session), method, params)
    }

    /// What an expression gives; a promise is waited for.
    pub(crate) fn eval(&self, expression: &str) -> Value {
        let asked =
            json!({ "expression": expression, "awaitPromise": true, "returnByValue": true, "userGesture": true });
        let answer = self.call("Runtime.evaluate", &asked);
        assert!(answer.get("exceptionDetails").is_none(), "{expression}: {answer}");
        answer["result"]["value"].clone()
    }

    pub(crate) fn text(&self, expression: &str) -> String {
        self.eval(expression).as_str().unwrap_or_default().to_owned()
    }

    /// Waits until an expression holds, pages that change meanwhile included.
    pub(crate) fn until(&self, expression: &str) {
        let begun = Instant::now();
        let asked = json!({ "expression": format!("Boolean({expression})"), "returnByValue": true });
        while self.call("Runtime.evaluate", &asked)["result"]["value"] != true {
            let seen = "document.body ? document.body.innerText : ''";
            assert!(begun.elapsed() < PATIENCE, "never: {expression}\n{}", self.text(seen));
            std::thread::sleep(Duration::from_millis(40));
        }
    }

    pub(crate) fn go(&self, path: &str) {
        self.eval("window.leaving = true");
        self.call("Page.navigate", &json!({ "url": format!("{}{path}", self.address) }));
        self.until("!window.leaving && document.readyState === 'complete'");
    }

    /// Presses what a selector finds, and waits for the page that follows.
    pub(crate) fn press(&self, selector: &str) {
        self.eval(&format!("window.leaving = true; document.querySelector({selector:?}).click()"));
        self.until("!window.leaving && document.readyState === 'complete'");
    }

    /// From here on the pages' own scripts do not run; what the test asks still does.
    pub(crate) fn without_script(&self) {
        self.call("Emulation.setScriptExecutionDisabled", &json!({ "value": true }));
    }

    /// So many bytes a second go out; nothing goes in or out at 0, and everything without a figure.
    pub(crate) fn network(&self, bytes_a_second: Option<u32>) {
        let out = bytes_a_second.map_or(-1, i64::from);
        let asked = json!({
            "offline": bytes_a_second == Some(0), "latency": 5, "downloadThroughput": -1, "uploadThroughput": out,
        });
        self.call("Network.emulateNetworkConditions", &asked);
    }

    /// Runs a script before those of every page that is opened from here on.
    pub(crate) fn first(&self, script: &str) {
        self.call("Page.addScriptToEvaluateOnNewDocument", &json!({ "source": script }));
    }

    /// Types into a field.
    pub(crate) fn fill(&self, selector: &str, text: &str) {
        self.eval(&format!("document.querySelector({selector:?}).focus()"));
        self.call("Input.insertText", &json!({ "text": text }));
    }

    /// Gives a file to a field, as the camera does.
    pub(crate) fn give(&self, selector: &str, file: &Path) {
        self.give_all(selector, &[file]);
    }

    /// Gives files to a field, as the gallery does.
    pub(crate) fn give_all(&self, selector: &str, files: &[impl AsRef<Path>]) {
        let asked = json!({ "expression": format!("document.querySelector({selector:?})") });
        let field = self.call("Runtime.evaluate", &asked)["result"]["objectId"].clone();
        let files: Vec<&Path> = files.iter().map(AsRef::as_ref).collect();
        self.call("DOM.setFileInputFiles", &json!({ "objectId": field, "files": files }));
    }

    pub(crate) fn sign_in(&self, name: &str, password: &str) {
        self.go("/sign-in");
        self.fill("input[name=name]", name);
        self.fill("input[name=password]", password);
        self.press("form.narrow button.main");
        self.until("location.pathname === '/'");
    }

    /// Nothing is wider than the page, and every button is large enough for a glove; a phone's page also at 320 pixels
    /// (WCAG 2.2, 1.4.10).
    pub(crate) fn fits(&self) {
        self.fits_as_it_is();
        if self.phone {
            self.as_wide_as(320);
            self.fits_as_it_is();
            self.as_wide_as(self.size.0);
        }
    }

    fn fits_as_it_is(&self) {
        // what scrolls inside a frame of its own is no wider than the page
        let wide = self.eval(
            "document.documentElement.scrollWidth <= document.documentElement.clientWidth ? []
                : [...document.querySelectorAll('body *')]
                    .filter((one) => one.getBoundingClientRect().right > document.documentElement.clientWidth + 0.5)
                    .slice(0, 4).map((one) => one.outerHTML.slice(0, 160))",
        );
        assert_eq!(wide, json!([]), "{} is wider than its page", self.text("location.pathname"));
        let small = self.eval(
            "[...document.querySelectorAll('main button, main a.button, main label.pick')]
                .filter((one) => one.offsetParent !== null && one.getBoundingClientRect().height < 48
                    && !one.classList.contains('plain'))
                .map((one) => one.innerText)",
        );
        assert_eq!(small, json!([]), "{}: under 48 px", self.text("location.pathname"));
    }

    /// Keeps a picture of what is seen in `target/screens`.
    pub(crate) fn keep(&self, name: &str) {
        let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("target/screens");
        std::fs::create_dir_all(&folder).unwrap();
        std::fs::write(folder.join(format!("{name}.png")), self.picture()).unwrap();
    }

    /// What is seen, as PNG.
    pub(crate) fn picture(&self) -> Vec<u8> {
        base64(self.call("Page.captureScreenshot", &json!({ "format": "png" }))["data"].as_str().unwrap())
    }

    /// Drags what one selector finds onto what another finds, with the mouse (the protocol hands the drag over, and
    /// lets go of it where it is told to).
    pub(crate) fn drag(&self, from: &str, to: &str) {
        let middle = |selector: &str| -> (f64, f64) {
            let asked = format!(
                "(() => {{ const one = document.querySelector({selector:?}); one.scrollIntoView({{ block: 'center' }});
                    const {{ x, y, width, height }} = one.getBoundingClientRect(); return [x + width / 2, y + height / 2]; }})()"
            );
            serde_json::from_value(self.eval(&asked)).unwrap()
        };
        let mouse = |what: &str, (x, y): (f64, f64)| {
            let at = json!({ "type": what, "x": x, "y": y, "button": "left", "buttons": 1, "clickCount": 1 });
            self.call("Input.dispatchMouseEvent", &at);
        };
        self.call("Input.setInterceptDrags", &json!({ "enabled": true }));
        let (x, y) = middle(from);
        mouse("mousePressed", (x, y));
        mouse("mouseMoved", (x + 12.0, y + 12.0));
        mouse("mouseMoved", (x + 24.0, y + 24.0));
        let data = self.browser.event(&self.session, "Input.dragIntercepted")["data"].clone();
        let (x, y) = middle(to);
        for what in ["dragEnter", "dragOver", "drop"] {
            self.call("Input.dispatchDragEvent", &json!({ "type": what, "x": x, "y": y, "data": data }));
        }
        mouse("mouseReleased", (x, y));
    }

    /// No errors but the browser's own notes of forms that were refused.
    pub(crate) fn assert_only_refusals(&self) {
        let errors = self.browser.errors(&self.session);
        assert!(errors.iter().all(|error| error.contains("with a status of 422")), "{errors:?}");
    }

    /// No errors but the browser's own notes of forms that were refused, or that came after somebody else's.
    pub(crate) fn assert_only_refusals_or_conflicts(&self) {
        let errors = self.browser.errors(&self.session);
        let known =
            |error: &String| ["422", "409"].iter().any(|status| error.contains(&format!("with a status of {status}")));
        assert!(errors.iter().all(known), "{errors:?}");
    }

    pub(crate) fn assert_no_errors(&self) {
        assert_eq!(self.browser.errors(&self.session), Vec::<String>::new());
    }
}

/// Bytes of a text in base64 (RFC 4648 section 4).
fn base64(text: &str) -> Vec<u8> {
    let value = |letter: u8| match letter {
        b'A'..=b'Z' => Some(letter - b'A'),
        b'a'..=b'z' => Some(letter - b'a' + 26),
        b'0'..=b'9' => Some(letter - b'0' + 52),
        b'+' => Some(62),
        b'/' => Some(63),
        _ => None,
    };
    let values: Vec<u8> = text.bytes().filter_map(value).collect();
    let mut bytes = Vec::new();
    for four in values.chunks(4) {
        let whole = four.iter().fold(0_u32, |whole, part| whole << 6 | u32::from(*part)) << (6 * (4 - four.len()));
        let [_, one, two, three] = whole.to_be_bytes();
        bytes.extend([one, two, three].into_iter().take(four.len() - 1));
    }
    bytes
}
