//! Who may do what at every address there is: the list is the router's own, and one that has no row here fails.
#![expect(clippy::indexing_slicing, reason = "a test may stop")]

use axum::body::Body;
use axum::http::{Method, StatusCode, header};
use tackbook::web::addresses;

use crate::filled::{PINE, Shop};
use crate::house::{Answer, Browser, House, encoded};

/// Who may, at each address: o the office, f a fabricator, s a scrutineer, and * anybody, without signing in. The scrutineer
/// sees a build of which a round was issued. Written by hand from the table of roles (reliability 10), not from the program.
const ROWS: &str = include_str!("roles.txt");

/// A row: the method, who may, the address.
type Row = (Method, &'static str, &'static str);

fn rows() -> Vec<Row> {
    let row = |line: &'static str| {
        let words: Vec<&str> = line.split_whitespace().collect();
        (words[0].parse().unwrap(), words[1], words[2])
    };
    ROWS.lines().map(row).collect()
}

#[test]
fn every_address_of_the_router_has_a_row_and_every_row_an_address() {
    let sorted = |mut all: Vec<String>| {
        all.sort();
        all
    };
    let named = |method: &Method, path: &str| format!("{method} {path}");
    let there = sorted(addresses().iter().map(|(method, path)| named(method, path)).collect());
    let told = sorted(rows().iter().map(|(method, _, path)| named(method, path)).collect());
    assert_eq!(there, told);
}

/// Nothing answers that the list does not know of.
#[test]
fn rooms_reach_the_router_by_the_listed_way_alone() {
    let mut folders = vec![std::path::PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/src/web"))];
    while let Some(folder) = folders.pop() {
        for file in std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
            if file.is_dir() {
                folders.push(file);
                continue;
            }
            let text = std::fs::read_to_string(&file).unwrap();
            let listing = file.ends_with("web/routing.rs");
            assert!(listing || !text.contains("axum::routing") && !text.contains("Router::new"), "{}", file.display());
        }
    }
}

/// Asks with a form that names what it is about and no more: whoever may is told what is missing, or has it done.
async fn ask(house: &House, browser: &Browser<'_>, method: &Method, path: &str, form: &[(&str, String)]) -> Answer {
    let request = browser.request(method.as_str(), path).header("sec-fetch-site", "same-origin");
    let request = request.header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
    let form: Vec<(&str, &str)> = form.iter().map(|(name, value)| (*name, value.as_str())).collect();
    house.ask(request.body(Body::from(encoded(&form))).unwrap()).await
}

/// Whether somebody was let in; the hold point may still say no.
fn let_in(status: StatusCode) -> bool {
    let shut = [StatusCode::NOT_FOUND, StatusCode::UNAUTHORIZED, StatusCode::FORBIDDEN, StatusCode::METHOD_NOT_ALLOWED];
    !shut.contains(&status) && !status.is_server_error()
}

#[tokio::test]
async fn promise_10_nobody_sees_what_their_row_does_not_say_nor_anything_of_another_build() {
    let house = House::new().await;
    let shop = Shop::filled(&house).await;
    let mut wrong: Vec<String> = Vec::new();
    // whoever signs out or is taken off the list does so last, and the build moves to another book late
    let ends = |path: &str| {
        let away = path.starts_with("/people/") && path.ends_with("/remove");
        (path == "/sign-out", away || path == "/builds/{build}/edition")
    };
    let mut rows = rows();
    rows.sort_by_key(|(_, _, path)| ends(path));
    let people = [
        ("s", 1, house.browser("scrutineer").await),
        ("f", 0, house.browser("fabricator").await),
        ("o", 1, house.browser("office").await),
    ];
    for (method, who, path) in &rows {
        let stranger = ask(&house, &house.stranger(), method, &shop.filled_in(path, 1), &[]).await;
        let turned_away = stranger.status == StatusCode::UNAUTHORIZED
            || stranger.status == StatusCode::SEE_OTHER && stranger.to.starts_with("/sign-in");
        let expected = match *who {
            "*" => let_in(stranger.status) && !turned_away,
            "-" => stranger.status == StatusCode::NOT_FOUND,
            _ => turned_away,
        };
        if !expected {
            wrong.push(format!("nobody: {method} {path}: {}", stranger.status));
        }
        for (role, which, browser) in &people {
            let may = *who == "*" || who.contains(role);
            if Shop::names_a_thing(path) {
                let answer = ask(&house, browser, method, &shop.filled_in(path, 2), &shop.form(path, *which)).await;
                // a form that lacks something may be told so before it is looked for
                let told = may && *method != Method::GET && answer.status.is_client_error();
                if answer.status != StatusCode::NOT_FOUND && !told {
                    wrong.push(format!("{role}, not theirs: {method} {path}: {}", answer.status));
                }
            }
            if path.contains("{build}") {
                let nowhere = shop.filled_in(path, *which).replace(PINE, "no-such-car");
                let answer = ask(&house, browser, method, &nowhere, &shop.form(path, *which)).await;
                if answer.status != StatusCode::NOT_FOUND {
                    wrong.push(format!("{role}, no build: {method} {path}: {}", answer.status));
                }
            }
            let answer = ask(&house, browser, method, &shop.filled_in(path, *which), &shop.form(path, *which)).await;
            let expected = if may { let_in(answer.status) } else { answer.status == StatusCode::NOT_FOUND };
            if !expected {
                wrong.push(format!("{role}: {method} {path}: {}", answer.status));
            }
            assert!(answer.policy.starts_with("default-src 'none'"), "{method} {path}");
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[tokio::test]
async fn what_is_there_answers_to_no_other_method() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let all = addresses();
    let mut paths: Vec<&str> = all.iter().map(|(_, path)| *path).collect();
    paths.dedup();
    for path in paths {
        let answers = |method: &Method| {
            let asked =
                if method == Method::HEAD { [Method::HEAD, Method::GET] } else { [method.clone(), method.clone()] };
            all.iter().any(|(one, at)| *at == path && asked.contains(one))
        };
        let somewhere = path.split('/').map(|part| if part.starts_with('{') { "x" } else { part });
        let somewhere = somewhere.collect::<Vec<_>>().join("/");
        for method in
            [Method::GET, Method::HEAD, Method::POST, Method::PUT, Method::PATCH, Method::DELETE, Method::TRACE]
        {
            if !answers(&method) {
                let answer = ask(&house, &office, &method, &somewhere, &[]).await;
                assert_eq!(answer.status, StatusCode::METHOD_NOT_ALLOWED, "{method} {path}");
            }
        }
    }
}
