//! The list pages of a shop with 20 builds, each with a cage, through the whole router.

use axum::body::{Body, to_bytes};
use axum::http::{Request, header};
use divan::Bencher;
use tackbook::actions;
use tackbook::web::{App, router};
use tower::ServiceExt as _;

use crate::shop::Shop;

#[divan::bench(args = ["/", "/open"], sample_count = 20, sample_size = 1)]
fn list_of_20_builds(bencher: Bencher, path: &str) {
    let shop = Shop::new();
    for number in 1..=20 {
        shop.build(&format!("Car {number}"), 2);
    }
    let ctx = &shop.office;
    let program = std::env::current_exe().unwrap();
    let app = router(App::new(ctx.store.clone(), ctx.clock.clone(), Vec::new(), program));
    let signing = actions::shop::people::sign_in(&ctx.store, &ctx.clock, "office", "four walls and a floor", "");
    let token = shop.runtime.block_on(signing).unwrap().token;
    let ask = || {
        let request = Request::builder()
            .uri(path)
            .header(header::HOST, "127.0.0.1:7350")
            .header(header::COOKIE, format!("tackbook={token}"));
        shop.runtime.block_on(async {
            let answer = app.clone().oneshot(request.body(Body::empty()).unwrap()).await.unwrap();
            assert_eq!(answer.status().as_u16(), 200);
            to_bytes(answer.into_body(), 16 << 20).await.unwrap()
        })
    };
    // The first answer works every build out; what is measured is the shop at work.
    ask();
    bencher.bench_local(ask);
}
