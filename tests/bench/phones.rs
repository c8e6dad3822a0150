//! The office's pages while eight phones send at once, each photograph looked at as it comes.

use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::time::{Duration, Instant};

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::{Request, StatusCode, header};
use divan::Bencher;
use serde_json::json;
use tackbook::actions;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::web::{App, router};
use tower::ServiceExt as _;

use crate::picture::jpeg;
use crate::shop::Shop;

const PHONES: u32 = 8;
/// Bytes of one request, as phones on a good network send them.
const PART: usize = 2 << 20;

/// A browser of the shop, phone or desk.
#[derive(Clone)]
struct Browser {
    app: Router,
    cookie: String,
}

impl Browser {
    async fn ask(&self, method: &str, path: &str, headers: &[(&str, &str)], body: Vec<u8>) -> StatusCode {
        let mut request = Request::builder().method(method).uri(path).header("sec-fetch-site", "same-origin");
        for (name, value) in [(header::HOST.as_str(), "127.0.0.1:7350"), ("cookie", &self.cookie)].iter().chain(headers)
        {
            request = request.header(*name, *value);
        }
        let answer = self.app.clone().oneshot(request.body(Body::from(body)).unwrap()).await.unwrap();
        let status = answer.status();
        to_bytes(answer.into_body(), 64 << 20).await.unwrap();
        status
    }

    /// Sends a photograph as a phone does.
    async fn send(&self, bytes: &[u8]) {
        let sha256 = Fingerprint::of(bytes);
        let told = json!({ "sha256": sha256, "size": bytes.len(), "type": "image/jpeg" }).to_string().into_bytes();
        let capture = format!("/builds/car-1/captures/{}", uuid::Uuid::now_v7());
        assert_eq!(self.ask("PUT", &capture, &[], told).await, StatusCode::CREATED);
        let upload = format!("/builds/car-1/uploads/{sha256}");
        let mut offset = 0;
        for part in bytes.chunks(PART) {
            let at = offset.to_string();
            offset += part.len();
            let complete = if offset == bytes.len() { "?1" } else { "?0" };
            let headers = [
                ("content-type", "application/partial-upload"),
                ("upload-offset", at.as_str()),
                ("upload-complete", complete),
            ];
            let status = self.ask("PATCH", &upload, &headers, part.to_vec()).await;
            assert!(status.is_success(), "{status}");
        }
    }
}

#[divan::bench(args = ["/", "/open", "/builds/car-1", "/builds/car-1/photos"], sample_count = 300, sample_size = 1, max_time = 12)]
fn office_page_while_8_phones_send(bencher: Bencher, path: &str) {
    let shop = Shop::new();
    shop.build("Car 1", 20);
    let ctx = &shop.office;
    let program = PathBuf::from(env!("CARGO_BIN_EXE_tackbook"));
    let app = router(App::new(ctx.store.clone(), ctx.clock.clone(), Vec::new(), program));
    let signing = actions::shop::people::sign_in(&ctx.store, &ctx.clock, "office", "four walls and a floor", "");
    let cookie = format!("tackbook={}", shop.runtime.block_on(signing).unwrap().token);
    let browser = Browser { app, cookie };
    let photo = Arc::new(jpeg(4000, 3000, 7, 90));
    let (stop, sent) = (Arc::new(AtomicBool::new(false)), Arc::new(AtomicU32::new(0)));
    let phone = |number: u32| {
        let (browser, photo, stop, sent) = (browser.clone(), Arc::clone(&photo), Arc::clone(&stop), Arc::clone(&sent));
        shop.runtime.spawn(async move {
            while !stop.load(Ordering::Relaxed) {
                // what phones put after a picture's end is kept with it: no two are alike
                let mut bytes = (*photo).clone();
                bytes.extend([number, sent.load(Ordering::Relaxed)].iter().flat_map(|figure| figure.to_le_bytes()));
                browser.send(&bytes).await;
                sent.fetch_add(1, Ordering::Relaxed);
            }
        })
    };
    let phones: Vec<_> = (0..PHONES).map(phone).collect();
    let (begun, mut took) = (Instant::now(), Vec::new());
    bencher.bench_local(|| {
        let asked = Instant::now();
        assert_eq!(shop.runtime.block_on(browser.ask("GET", path, &[], Vec::new())), StatusCode::OK);
        took.push(asked.elapsed());
    });
    let (sent, seconds) = (sent.load(Ordering::Relaxed), begun.elapsed().as_secs_f64());
    stop.store(true, Ordering::Relaxed);
    for phone in phones {
        shop.runtime.block_on(phone).unwrap();
    }
    took.sort();
    let at = |share: usize| took.get(took.len() * share / 100).or(took.last()).copied().unwrap_or(Duration::ZERO);
    let megabytes = f64::from(sent) * f64::from(u32::try_from(photo.len()).unwrap()) / 1e6 / seconds;
    println!(
        "  {path}: {} pages, p50 {:?}, p99 {:?}; {sent} photographs kept in {seconds:.0} s, {megabytes:.1} MB/s",
        took.len(),
        at(50),
        at(99)
    );
}
