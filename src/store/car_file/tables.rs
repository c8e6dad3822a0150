//! The tables that hold what is recorded of a build, each after those it refers to, and how its rows are found. A table that
//! a build has rows in and that is not here is held by a test to stand among those that stay in the shop.

/// A table that goes with a car.
#[derive(Debug, Clone, Copy)]
pub(super) struct Table {
    /// What it is called.
    pub(super) name: &'static str,
    /// Its rows of a build, oldest first; without what says where they stand in this shop.
    pub(super) rows: &'static str,
}

/// All of them.
pub(super) const TABLES: &[Table] = &[
    Table {
        name: "books",
        rows: "SELECT id, name, edition, toml, added FROM books WHERE id IN (SELECT book FROM builds WHERE id = $1
               UNION SELECT from_book FROM book_moves WHERE build = $1
               UNION SELECT to_book FROM book_moves WHERE build = $1) ORDER BY id",
    },
    Table {
        name: "builds",
        rows: "SELECT id, COALESCE((SELECT slug FROM car_files WHERE build = builds.id), slug) AS slug, name, about, book,
               event_day, version FROM builds WHERE id = $1",
    },
    Table { name: "book_moves", rows: "SELECT * FROM book_moves WHERE build = $1 ORDER BY number" },
    Table { name: "car_dates", rows: "SELECT * FROM car_dates WHERE build = $1 ORDER BY number" },
    Table { name: "photos", rows: "SELECT * FROM photos WHERE build = $1 ORDER BY number" },
    Table {
        name: "photos_looked",
        rows: "SELECT photos_looked.* FROM photos_looked JOIN photos ON photos.capture = photos_looked.capture
               WHERE build = $1 ORDER BY photos_looked.number",
    },
    Table {
        name: "photos_said",
        rows: "SELECT photos_said.* FROM photos_said JOIN photos ON photos.capture = photos_said.capture
               WHERE build = $1 ORDER BY photos_said.number",
    },
    Table { name: "looks", rows: "SELECT * FROM looks WHERE build = $1 ORDER BY number" },
    Table { name: "mark_ups", rows: "SELECT * FROM mark_ups WHERE build = $1 ORDER BY number" },
    Table {
        name: "sticks",
        rows: "SELECT id, balloon, outside_mm, wall_mm, printed, size, grade, heat, length_mm, length,
               CASE WHEN certificate IN (SELECT capture FROM photos WHERE build = $1) THEN certificate END AS certificate,
               CASE WHEN given_to = $1 THEN given_to END AS given_to, added, by
               FROM sticks WHERE given_to = $1 OR id IN (SELECT stick FROM cuts WHERE build = $1) ORDER BY id",
    },
    Table { name: "cuts", rows: "SELECT * FROM cuts WHERE build = $1 ORDER BY number" },
    Table { name: "measured", rows: "SELECT * FROM measured WHERE build = $1 ORDER BY number" },
    Table { name: "cages", rows: "SELECT * FROM cages WHERE build = $1 ORDER BY number" },
    Table { name: "patterns", rows: "SELECT * FROM patterns WHERE build = $1 ORDER BY build" },
    Table { name: "cage_saves", rows: "SELECT * FROM cage_saves WHERE build = $1 ORDER BY version" },
    Table { name: "weigh_ins", rows: "SELECT * FROM weigh_ins WHERE build = $1 ORDER BY number" },
    Table { name: "scale_papers", rows: "SELECT * FROM scale_papers WHERE build = $1 ORDER BY place" },
    Table { name: "forecasts", rows: "SELECT * FROM forecasts WHERE build = $1 ORDER BY weigh_in" },
    Table { name: "foreseen", rows: "SELECT * FROM foreseen WHERE build = $1 ORDER BY number" },
    Table { name: "wheels", rows: "SELECT * FROM wheels WHERE build = $1 ORDER BY number" },
    Table { name: "lowering", rows: "SELECT * FROM lowering WHERE build = $1 ORDER BY number" },
    Table { name: "lowering_looks", rows: "SELECT * FROM lowering_looks WHERE build = $1 ORDER BY number" },
    Table { name: "kit", rows: "SELECT * FROM kit WHERE build = $1 ORDER BY number" },
    Table { name: "notes", rows: "SELECT * FROM notes WHERE build = $1 ORDER BY number" },
    Table {
        name: "notes_struck",
        rows: "SELECT notes_struck.* FROM notes_struck JOIN notes ON notes.id = note WHERE build = $1 ORDER BY note",
    },
    Table {
        name: "waits_ended",
        rows: "SELECT waits_ended.* FROM waits_ended JOIN notes ON notes.id = note WHERE build = $1 ORDER BY note",
    },
    Table { name: "rounds", rows: "SELECT * FROM rounds WHERE build = $1 ORDER BY round" },
    Table {
        name: "round_signatures",
        rows: "SELECT round_signatures.round, public, signature FROM round_signatures
               JOIN rounds ON rounds.id = round_signatures.round
               JOIN signing_keys ON signing_keys.number = round_signatures.key WHERE build = $1 ORDER BY rounds.round",
    },
    Table {
        name: "replies",
        rows: "SELECT replies.* FROM replies JOIN rounds ON rounds.id = replies.round WHERE build = $1
               ORDER BY replies.number",
    },
    Table {
        name: "reply_mails",
        rows: "SELECT reply_mails.* FROM reply_mails JOIN replies ON replies.id = reply
               JOIN rounds ON rounds.id = replies.round WHERE build = $1 ORDER BY reply_mails.number",
    },
    Table {
        name: "reviewed",
        rows: "SELECT reviewed.* FROM reviewed JOIN rounds ON rounds.id = reviewed.round WHERE build = $1
               ORDER BY reviewed.number",
    },
    Table { name: "questions", rows: "SELECT * FROM questions WHERE build = $1 ORDER BY number" },
    Table {
        name: "answers",
        rows: "SELECT answers.* FROM answers JOIN questions ON questions.id = question WHERE build = $1
               ORDER BY answers.number",
    },
    Table { name: "rulings", rows: "SELECT * FROM rulings WHERE build = $1 ORDER BY number" },
    Table { name: "welds", rows: "SELECT * FROM welds WHERE build = $1 ORDER BY number" },
    Table { name: "weld_orders", rows: "SELECT * FROM weld_orders WHERE build = $1 ORDER BY number" },
    Table {
        name: "welds_struck",
        rows: "SELECT welds.line AS weld, why, struck, welds_struck.by FROM welds_struck
               JOIN welds ON welds.number = weld WHERE build = $1 ORDER BY weld",
    },
];

/// Tables that stay in the shop, and why.
pub const STAY: &[(&str, &str)] = &[
    ("log", "it goes with the car as its log, entry by entry"),
    ("log_brought", "it is what the entries of the log were in the shop they came from"),
    ("kit_ways_brought", "it goes with the car as the ways of its kit, with those known here"),
    ("log_rows", "it says what the entries of the log did to the rows of this shop"),
    ("kit_moves", "it goes with the car as the ways of its kit"),
    ("car_files", "it says by which file the car came here"),
    ("signing_keys", "the key of a round goes with its signature"),
    ("reading_links", "a link opens this shop's sheets, and its secret is nobody's but its reader's"),
    ("people", "who works here; what they recorded names them"),
    ("welds_told", "names that phones of this shop gave to lines until it answered"),
    ("sessions", "who is signed in here"),
    ("pairings", "phones of this shop"),
    ("setup_links", "the first sign-in of this shop"),
    ("sign_in_failures", "guesses at this shop's door"),
    ("heartbeat", "whether this shop's records can be written"),
    ("book_drafts", "books that this shop is writing"),
    ("book_draft_saves", "books that this shop is writing"),
    ("dies", "this shop's tools"),
    ("saw", "this shop's tools"),
    ("weld_rates", "this shop's figures for all its cars"),
    ("look_bounds", "this shop's bounds for all its photographs"),
];
