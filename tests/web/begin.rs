//! From an empty shop to a weighed car: how much is pressed and typed, and what stands there when it is done.
#![expect(clippy::panic, clippy::print_stdout, reason = "a test may stop and say how much it counted")]

use axum::http::StatusCode;
use tackbook::domain::book::read;
use tackbook::domain::derived::findings::Findings;

use crate::forms::sent_back;
use crate::house::{Answer, Browser, House};

/// Most that is pressed and typed before a car has its class and its tube.
const CLICKS: usize = 10;
const FIELDS: usize = 12;

/// Somebody who goes from sheet to sheet by what stands on them, and counts.
struct Walk<'h> {
    browser: Browser<'h>,
    clicks: usize,
    fields: usize,
    page: Answer,
}

impl<'h> Walk<'h> {
    async fn begun(browser: Browser<'h>) -> Self {
        let page = browser.get("/").await;
        Self { browser, clicks: 0, fields: 0, page }
    }

    /// Touches a link that stands on the sheet.
    async fn follow(&mut self, to: &str) {
        assert!(self.page.text.contains(&format!("href=\"{to}\"")), "no link to {to}: {}", self.page.text);
        self.clicks += 1;
        self.page = self.browser.get(to).await;
        assert_eq!(self.page.status, StatusCode::OK, "{to}");
    }

    /// Fills in a form of the sheet and presses one of its buttons; ticks count as presses.
    async fn send(&mut self, to: &str, typed: &[(&str, &str)], ticks: &[(&str, &str)], button: (&str, &str)) {
        let action = if self.page.text.contains(&format!("action=\"{to}\"")) { to } else { "" };
        let mut pairs = sent_back(&self.page.text, action);
        for (name, value) in typed {
            let known = self.page.text.contains(&format!("name=\"{name}\""));
            assert!(known, "{to} has no field {name}: {}", self.page.text);
            pairs.retain(|pair| pair.0 != *name);
            pairs.push(((*name).to_owned(), (*value).to_owned()));
        }
        pairs.extend(ticks.iter().chain([&button]).map(|(name, value)| ((*name).to_owned(), (*value).to_owned())));
        self.fields += typed.len();
        self.clicks += 1 + ticks.len();
        let pairs: Vec<(&str, &str)> = pairs.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
        let sent = self.browser.post(to, &pairs).await;
        assert_eq!(sent.status, StatusCode::SEE_OTHER, "{to}: {}", sent.text);
        self.page = self.browser.get(&sent.to).await;
        assert_eq!(self.page.status, StatusCode::OK, "{}", sent.to);
    }

    /// The address of the sheet's own form, by what stands behind a beginning.
    fn link(&self, begins: &str, ends: &str) -> String {
        let part = self.page.text.split('"').find(|part| part.starts_with(begins) && part.ends_with(ends));
        part.unwrap_or_else(|| panic!("no {begins}…{ends}: {}", self.page.text)).to_owned()
    }

    async fn made_and_weighed(&mut self) {
        let to = self.link("/builds/new", "");
        self.follow(&to).await;
        self.send("/builds/new", &[("name", "Pine Coupe")], &[], ("", "")).await;
        self.follow("/builds/pine-coupe/weigh-in").await;
        let pads = [
            ("left_front", "661"),
            ("right_front", "650 lb"),
            ("left_rear", "580"),
            ("right_rear", "575"),
            ("resolution", "1 lb"),
        ];
        self.send("/builds/pine-coupe/weigh-in", &pads, &[], ("", "")).await;
    }

    fn counted(&self, way: &str) {
        println!("{way}: {} clicks, {} fields", self.clicks, self.fields);
        assert!(
            self.clicks <= CLICKS && self.fields <= FIELDS,
            "{way}: {} clicks, {} fields",
            self.clicks,
            self.fields
        );
    }
}

/// Which class and which tube the car has: of the main bars, and of the others.
async fn class_and_tube(house: &House) -> (String, String, String) {
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id;
    let found = Findings::of(&house.store.facts(build).await.unwrap(), house.clock.today());
    let answer = found.worked.class.unwrap().unwrap();
    let size = |rows: &[tackbook::domain::book::kinds::TubeRow]| rows.first().unwrap().size.to_string();
    (answer.class, size(&answer.tubes.hoop), size(&answer.tubes.other))
}

#[tokio::test]
async fn an_empty_shop_has_class_and_tube_of_a_weighed_car_in_ten_clicks_and_twelve_fields() {
    // A book that comes with the program.
    let house = House::new().await;
    let mut walk = Walk::begun(house.browser("office").await).await;
    walk.send("/books/shipped/cage-article-253", &[], &[], ("", "")).await;
    walk.made_and_weighed().await;
    assert!(walk.page.text.contains("all weights") && walk.page.text.contains("45 × 2.5 mm"), "{}", walk.page.text);
    walk.counted("with a book that comes with the program");
    // A book of one's own: a class table of two rows, two bars.
    let house = House::new().await;
    let mut walk = Walk::begun(house.browser("office").await).await;
    walk.follow("/books/begin").await;
    walk.send("/books/begin", &[("body", "Fernside Hill League")], &[], ("", "")).await;
    let classes = house.store.open_drafts().await.unwrap().remove(0).id;
    let to = |last: &str| format!("/books/drafts/{classes}/{last}");
    let rows = [
        ("class.0.upto", "2470"),
        ("class.0.main", "1.5 x .095"),
        ("class.0.other", "1.25 x .095"),
        ("class.1.main", "1 1/2 x .120"),
        ("class.1.other", "1.5 x .095"),
    ];
    walk.send(&to("classes"), &rows, &[], ("", "")).await;
    let ticks = [("bars", "main hoop"), ("bars", "backstay")];
    walk.send(&to("bars"), &[], &ticks, ("then", "release")).await;
    walk.made_and_weighed().await;
    let told = ["up to 2470 lb", "1.5 × .095 in", "1.25 × .095 in"];
    assert!(told.iter().all(|words| walk.page.text.contains(words)), "{}", walk.page.text);
    assert_eq!(class_and_tube(&house).await, told.map(str::to_owned).into());
    walk.counted("with a book of one's own");
    let book = read(&house.store.books().await.unwrap().remove(0).toml).unwrap();
    assert_eq!(book.book.describe(), "Fernside Hill League Build Rules, 2026");
    let bars: Vec<String> = book.members.iter().map(|bar| format!("{} {}", bar.bars(), bar.each_side)).collect();
    assert_eq!(bars, ["main hoop false", "backstay true"]);
}

#[tokio::test]
async fn an_empty_shop_shows_its_first_steps_and_each_that_is_done() {
    let house = House::new().await;
    let (office, fabricator) = (house.browser("office").await, house.browser("fabricator").await);
    let front = office.get("/").await.text;
    for words in ["Take or begin a book", "Make a build", "Weigh the car", "href=\"/books/begin\"", "/books/example"] {
        assert!(front.contains(words), "{words}: {front}");
    }
    assert_eq!(front.matches("class=\"button main\"").count() + front.matches("button class=\"main\"").count(), 1);
    let floor = fabricator.get("/").await.text;
    assert!(floor.contains("The office takes or begins it") && !floor.contains("/books/begin"), "{floor}");
    let scrutineer = house.browser("scrutineer").await.get("/").await.text;
    assert!(scrutineer.contains("No vehicle is here yet") && !scrutineer.contains("Make a build"), "{scrutineer}");
    // A draft is gone on with; a book is done.
    let draft = office.post("/books/example", &[]).await.to;
    assert!(office.get("/").await.text.contains(&format!("href=\"{draft}\">Go on with your draft")));
    office.post("/books/shipped/cage-article-253", &[]).await;
    let front = office.get("/").await.text;
    assert!(front.contains("Done: <a href=\"/books/"), "{front}");
    assert!(front.contains("class=\"button main\" href=\"/builds/new\""), "{front}");
    office.post("/builds/new", &[("name", "Pine Coupe")]).await;
    assert!(!office.get("/").await.text.contains("Take or begin a book"));
}

/// The invented example is a draft whose rules are said to be invented, and never an edition by itself.
#[tokio::test]
async fn the_invented_example_is_taken_as_a_draft_and_says_what_it_is() {
    let house = House::new().await;
    let office = house.browser("office").await;
    assert_eq!(house.browser("fabricator").await.post("/books/example", &[]).await.status, StatusCode::NOT_FOUND);
    let draft = office.post("/books/example", &[]).await.to;
    assert!(house.store.books().await.unwrap().is_empty());
    let sheet = office.get(&draft).await.text;
    assert!(sheet.contains("53 rules here are invented, and no organiser's"), "{sheet}");
    assert!(sheet.contains(&format!("{draft}/classes")) && sheet.contains(&format!("{draft}/bars")));
    let table = office.get(&format!("{draft}/classes")).await.text;
    for words in ["value=\"1360 kg\"", "value=\"42.4 x 3.2 mm\"", "Up to, kg"] {
        assert!(table.contains(words), "{words}: {table}");
    }
    // Nothing typed, nothing changed.
    let before = house.store.open_drafts().await.unwrap().remove(0);
    let pairs = sent_back(&table, "");
    let pairs: Vec<(&str, &str)> = pairs.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    assert_eq!(office.post(&format!("{draft}/classes"), &pairs).await.to, format!("{draft}/bars"));
    assert_eq!(house.store.open_drafts().await.unwrap().remove(0), before);
}

#[tokio::test]
async fn a_class_table_that_will_not_do_is_told_at_its_cells_and_keeps_what_was_typed() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let nameless = office.post("/books/begin", &[("body", "<b>"), ("edition", "2026"), ("units", "ells")]).await;
    assert_eq!(nameless.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in ["value=\"&#60;b&#62;\"", "Choose the units", "id=\"w-name\""] {
        assert!(nameless.text.contains(words), "{words}: {}", nameless.text);
    }
    let head = [("body", "Fernside"), ("name", "Rules"), ("edition", "2026"), ("units", "metric")];
    let classes = office.post("/books/begin", &head).await.to;
    let typed = [
        ("version", "1"),
        ("class.0.upto", "1,120"),
        ("class.0.main", "45"),
        ("class.0.other", "38 x 2.5"),
        ("edge", "lighter"),
        ("clause", ""),
        ("sure", "from memory"),
    ];
    let told = office.post(&classes, &typed).await;
    assert_eq!(told.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in [
        "value=\"1,120\"",
        "w-class.0.upto",
        "w-class.0.main",
        "Tick the bars",
        "w-clause",
        "<details class=\"begin-more\" open>",
    ] {
        assert!(told.text.contains(words), "{words}: {}", told.text);
    }
    assert_eq!(house.store.open_drafts().await.unwrap().remove(0).version, 1);
    // More rows are given without a save; a save over somebody else's is told first.
    let more = office.post(&classes, &[typed.as_slice(), &[("class.4.main", "x"), ("more", "yes")]].concat()).await;
    assert!(more.status == StatusCode::OK && more.text.contains("name=\"class.6.upto\""), "{}", more.text);
    let good =
        [("version", "7"), ("class.0.main", "45 x 2.5"), ("class.0.other", "38 x 2.5"), ("main_bars", "main hoop")];
    let good = [good.as_slice(), &[("clause", "2"), ("sure", "text seen")]].concat();
    let stale = office.post(&classes, &good).await;
    assert_eq!(stale.status, StatusCode::CONFLICT);
    assert!(stale.text.contains("Somebody else saved this draft") && stale.text.contains("value=\"45 x 2.5\""));
    assert!(stale.text.contains("name=\"version\" value=\"1\""), "the next save goes by what stands: {}", stale.text);
}

/// A second build of a name is asked about, with all that was typed; one tick says that it is another car.
#[tokio::test]
async fn a_second_build_of_the_same_name_is_asked_about() {
    let house = House::new().await;
    let office = house.browser("office").await;
    office.post("/builds/new", &[("name", "Pine Coupe"), ("about", "Two doors")]).await;
    let again = [("name", " pine  COUPE"), ("about", "A third door & more"), ("event_day", "2026-09-01")];
    let asked = office.post("/builds/new", &again).await;
    assert_eq!(asked.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in [
        "A build is called Pine Coupe already: Two doors.",
        "It is another car",
        "A third door &#38; more",
        "2026-09-01",
    ] {
        assert!(asked.text.contains(words), "{words}: {}", asked.text);
    }
    assert_eq!(house.store.builds().await.unwrap().len(), 1);
    let made = office.post("/builds/new", &[again.as_slice(), &[("another", "yes")]].concat()).await;
    assert_eq!(made.to, "/builds/pine-coupe-2", "{}", made.text);
}

/// The newest book is proposed for a build; one made without takes it later, by both ways, and keeps what was recorded.
#[tokio::test]
async fn a_build_is_proposed_the_newest_book_and_one_without_takes_it_later() {
    let house = House::new().await;
    let office = house.browser("office").await;
    for name in ["Elm Van", "Ash Van"] {
        office.post("/builds/new", &[("name", name), ("about", "Exhaust hanger")]).await;
    }
    office.post("/books/shipped/cage-article-253", &[]).await;
    office.post("/books", &[("toml", include_str!("../../src/demo/book.toml"))]).await;
    let books = house.store.books().await.unwrap();
    let [older, newest] = [books[0].id.to_string(), books[1].id.to_string()];
    let chosen = async |path: &str| {
        let sheet = office.get(path).await.text;
        sent_back(&sheet, "").into_iter().find(|pair| ["book", "to"].contains(&pair.0.as_str())).unwrap().1
    };
    assert_eq!(chosen("/builds/new").await, newest);
    assert_eq!(chosen(&format!("/builds/new?book={older}")).await, older);
    assert_eq!(chosen("/builds/elm-van/edition").await, newest);
    let sheet = office.get("/builds/elm-van").await.text;
    assert!(sheet.contains("/builds/elm-van/edition") || sheet.contains("/builds/elm-van/about"), "{sheet}");
    let taken = office.post("/builds/elm-van/edition", &[("to", &newest)]).await;
    assert_eq!(taken.to, "/builds/elm-van", "{}", taken.text);
    // A second book is a move, with its reason.
    let moved = office.post("/builds/elm-van/edition", &[("to", &older)]).await;
    assert_eq!(moved.status, StatusCode::UNPROCESSABLE_ENTITY, "{}", moved.text);
    let builds = house.store.builds().await.unwrap();
    assert_eq!((builds[0].book.unwrap().to_string(), builds[0].about.as_str()), (newest, "Exhaust hanger"));
    assert_eq!(builds[1].book, None);
    let floor = house.browser("fabricator").await;
    assert_eq!(floor.post("/builds/ash-van/edition", &[("to", &older)]).await.status, StatusCode::NOT_FOUND);
}
