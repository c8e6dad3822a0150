-- One shop: people, builds, what was recorded of them, and the log that every change is written to.
-- Times are UTC in RFC 3339 with six decimals; days are civil days in the shop's zone.

CREATE TABLE people (
    number   INTEGER PRIMARY KEY,
    id       TEXT NOT NULL UNIQUE,
    name     TEXT NOT NULL UNIQUE COLLATE NOCASE,
    role     TEXT NOT NULL CHECK (role IN ('fabricator', 'office', 'scrutineer')),
    password TEXT NOT NULL,
    added    TEXT NOT NULL,
    removed  TEXT
) STRICT;

CREATE TABLE sessions (
    number     INTEGER PRIMARY KEY,
    token_hash TEXT NOT NULL UNIQUE,
    person     TEXT NOT NULL REFERENCES people (id),
    begun      TEXT NOT NULL,
    seen       TEXT NOT NULL,
    ended      TEXT
) STRICT;

CREATE TABLE sign_in_failures (
    number    INTEGER PRIMARY KEY,
    name_hash TEXT NOT NULL UNIQUE,
    failures  INTEGER NOT NULL,
    latest    TEXT NOT NULL
) STRICT;

CREATE TABLE setup_links (
    number     INTEGER PRIMARY KEY,
    token_hash TEXT NOT NULL UNIQUE,
    made       TEXT NOT NULL,
    used       TEXT
) STRICT;

CREATE TABLE books (
    number  INTEGER PRIMARY KEY,
    id      TEXT NOT NULL UNIQUE,
    name    TEXT NOT NULL,
    edition TEXT NOT NULL,
    toml    TEXT NOT NULL,
    added   TEXT NOT NULL,
    UNIQUE (name, edition)
) STRICT;

CREATE TABLE builds (
    number    INTEGER PRIMARY KEY,
    id        TEXT NOT NULL UNIQUE,
    slug      TEXT NOT NULL UNIQUE,
    name      TEXT NOT NULL,
    about     TEXT NOT NULL,
    book      TEXT REFERENCES books (id),
    event_day TEXT,
    version   INTEGER NOT NULL
) STRICT;

CREATE TABLE weigh_ins (
    number           INTEGER PRIMARY KEY,
    id               TEXT NOT NULL UNIQUE,
    build            TEXT NOT NULL REFERENCES builds (id),
    balloon          INTEGER NOT NULL,
    left_front_kg    REAL NOT NULL,
    left_front       TEXT NOT NULL,
    right_front_kg   REAL NOT NULL,
    right_front      TEXT NOT NULL,
    left_rear_kg     REAL NOT NULL,
    left_rear        TEXT NOT NULL,
    right_rear_kg    REAL NOT NULL,
    right_rear       TEXT NOT NULL,
    resolution_kg    REAL NOT NULL,
    resolution       TEXT NOT NULL,
    conditions       TEXT NOT NULL,
    note             TEXT NOT NULL,
    day              TEXT NOT NULL,
    by               TEXT NOT NULL,
    UNIQUE (build, balloon)
) STRICT;

CREATE TABLE cages (
    number  INTEGER PRIMARY KEY,
    build   TEXT NOT NULL UNIQUE REFERENCES builds (id),
    json    TEXT NOT NULL,
    version INTEGER NOT NULL
) STRICT;

CREATE TABLE photos (
    number         INTEGER PRIMARY KEY,
    capture        TEXT NOT NULL UNIQUE,
    build          TEXT NOT NULL REFERENCES builds (id),
    shot           TEXT NOT NULL,
    note           TEXT NOT NULL,
    sha256         TEXT NOT NULL CHECK (length(sha256) = 64),
    size           INTEGER NOT NULL CHECK (size > 0),
    taken_claim    TEXT,
    declared       TEXT NOT NULL,
    by             TEXT NOT NULL,
    received       TEXT,
    entry          INTEGER,
    width          INTEGER,
    height         INTEGER,
    remarks        TEXT NOT NULL DEFAULT '[]',
    withdrawn      TEXT,
    withdrawn_by   TEXT,
    withdrawn_why  TEXT
) STRICT;
CREATE INDEX photos_of_build ON photos (build, sha256);

CREATE TABLE sticks (
    number      INTEGER PRIMARY KEY,
    id          TEXT NOT NULL UNIQUE,
    balloon     INTEGER NOT NULL UNIQUE,
    outside_mm  REAL NOT NULL,
    wall_mm     REAL NOT NULL,
    printed     TEXT NOT NULL CHECK (printed IN ('inch', 'metric')),
    size        TEXT NOT NULL,
    grade       TEXT NOT NULL,
    heat        TEXT NOT NULL,
    length_mm   REAL NOT NULL,
    length      TEXT NOT NULL,
    certificate TEXT REFERENCES photos (capture),
    given_to    TEXT REFERENCES builds (id),
    added       TEXT NOT NULL,
    by          TEXT NOT NULL
) STRICT;

-- Which stick a bar was cut from; a bar's newest row counts.
CREATE TABLE cuts (
    number INTEGER PRIMARY KEY,
    build  TEXT NOT NULL REFERENCES builds (id),
    member TEXT NOT NULL,
    stick  TEXT NOT NULL REFERENCES sticks (id),
    at     TEXT NOT NULL,
    by     TEXT NOT NULL
) STRICT;
CREATE INDEX cuts_of_build ON cuts (build, member);

-- What a person read off the car, in the measure's base unit (mm, kg, radian, mm², or none); the newest of a measure and
-- a part counts.
CREATE TABLE measured (
    number     INTEGER PRIMARY KEY,
    build      TEXT NOT NULL REFERENCES builds (id),
    measure    TEXT NOT NULL,
    of_balloon TEXT NOT NULL,
    value      REAL NOT NULL,
    text       TEXT NOT NULL,
    at         TEXT NOT NULL,
    by         TEXT NOT NULL
) STRICT;
CREATE INDEX measured_of_build ON measured (build, measure, of_balloon);

-- Dates stand as the label prints them (a day, a month or a year), so that their precision is kept.
CREATE TABLE kit (
    number      INTEGER PRIMARY KEY,
    id          TEXT NOT NULL UNIQUE,
    build       TEXT NOT NULL REFERENCES builds (id),
    balloon     INTEGER NOT NULL,
    item        TEXT NOT NULL,
    standard    TEXT NOT NULL,
    listed      TEXT NOT NULL,
    serial      TEXT NOT NULL,
    maker       TEXT NOT NULL,
    made        TEXT NOT NULL,
    ends        TEXT NOT NULL,
    recertified TEXT NOT NULL,
    straps      INTEGER,
    fitted      TEXT NOT NULL,
    label       TEXT REFERENCES photos (capture),
    version     INTEGER NOT NULL,
    added       TEXT NOT NULL,
    by          TEXT NOT NULL,
    UNIQUE (build, balloon)
) STRICT;

CREATE TABLE rounds (
    number          INTEGER PRIMARY KEY,
    id              TEXT NOT NULL UNIQUE,
    build           TEXT NOT NULL REFERENCES builds (id),
    round           INTEGER NOT NULL,
    issue_key       TEXT NOT NULL UNIQUE,
    contents        TEXT NOT NULL,
    contents_sha256 TEXT NOT NULL,
    packet_sha256   TEXT NOT NULL,
    as_of           INTEGER NOT NULL,
    issued          TEXT NOT NULL,
    by              TEXT NOT NULL,
    UNIQUE (build, round)
) STRICT;

CREATE TABLE replies (
    number   INTEGER PRIMARY KEY,
    id       TEXT NOT NULL UNIQUE,
    round    TEXT NOT NULL REFERENCES rounds (id),
    decision TEXT NOT NULL CHECK (decision IN ('approved', 'not yet')),
    words    TEXT NOT NULL,
    given_by TEXT NOT NULL,
    received TEXT NOT NULL,
    by       TEXT NOT NULL
) STRICT;

CREATE TABLE questions (
    number  INTEGER PRIMARY KEY,
    id      TEXT NOT NULL UNIQUE,
    build   TEXT NOT NULL REFERENCES builds (id),
    balloon INTEGER NOT NULL,
    about   TEXT,
    text    TEXT NOT NULL,
    reply   TEXT REFERENCES replies (id),
    asked   TEXT NOT NULL,
    by      TEXT NOT NULL,
    settled TEXT,
    UNIQUE (build, balloon)
) STRICT;

CREATE TABLE answers (
    number   INTEGER PRIMARY KEY,
    question TEXT NOT NULL REFERENCES questions (id),
    text     TEXT NOT NULL,
    capture  TEXT REFERENCES photos (capture),
    given    TEXT NOT NULL,
    by       TEXT NOT NULL
) STRICT;

CREATE TABLE notes (
    number     INTEGER PRIMARY KEY,
    id         TEXT NOT NULL UNIQUE,
    build      TEXT NOT NULL REFERENCES builds (id),
    day        TEXT NOT NULL,
    text       TEXT NOT NULL,
    hours      REAL,
    cost_minor INTEGER,
    waiting_on TEXT NOT NULL,
    written    TEXT NOT NULL,
    by         TEXT NOT NULL
) STRICT;

-- One row that counts up whenever somebody asks whether the database still writes.
CREATE TABLE heartbeat (
    number INTEGER PRIMARY KEY CHECK (number = 1),
    beats  INTEGER NOT NULL
) STRICT;

-- Each entry's hash covers the entry before it, so nothing can be changed or taken out without it showing.
CREATE TABLE log (
    number INTEGER PRIMARY KEY,
    build  TEXT REFERENCES builds (id),
    by     TEXT NOT NULL,
    at     TEXT NOT NULL,
    room   TEXT NOT NULL,
    what   TEXT NOT NULL,
    detail TEXT NOT NULL,
    hash   TEXT NOT NULL UNIQUE CHECK (length(hash) = 64)
) STRICT;
CREATE INDEX log_of_build ON log (build, number);

CREATE TRIGGER log_keeps BEFORE UPDATE ON log BEGIN SELECT RAISE(ABORT, 'the log is only added to'); END;
CREATE TRIGGER log_stays BEFORE DELETE ON log BEGIN SELECT RAISE(ABORT, 'the log is only added to'); END;
CREATE TRIGGER rounds_keep BEFORE UPDATE ON rounds BEGIN SELECT RAISE(ABORT, 'an issued round never changes'); END;
CREATE TRIGGER rounds_stay BEFORE DELETE ON rounds BEGIN SELECT RAISE(ABORT, 'an issued round never changes'); END;
CREATE TRIGGER replies_keep BEFORE UPDATE ON replies BEGIN SELECT RAISE(ABORT, 'a reply never changes'); END;
CREATE TRIGGER replies_stay BEFORE DELETE ON replies BEGIN SELECT RAISE(ABORT, 'a reply never changes'); END;
CREATE TRIGGER weigh_ins_keep BEFORE UPDATE ON weigh_ins BEGIN SELECT RAISE(ABORT, 'a weigh-in never changes'); END;
CREATE TRIGGER weigh_ins_stay BEFORE DELETE ON weigh_ins BEGIN SELECT RAISE(ABORT, 'a weigh-in never changes'); END;
CREATE TRIGGER photos_stay BEFORE DELETE ON photos BEGIN SELECT RAISE(ABORT, 'a photo is withdrawn, never deleted'); END;
CREATE TRIGGER photos_keep BEFORE UPDATE OF number, capture, build, sha256, size, taken_claim, declared, by ON photos
    BEGIN SELECT RAISE(ABORT, 'what a photo is never changes'); END;
CREATE TRIGGER photos_received_once BEFORE UPDATE OF received, entry, width, height, remarks ON photos WHEN OLD.received IS NOT NULL
    BEGIN SELECT RAISE(ABORT, 'a photo is received once'); END;
CREATE TRIGGER photos_withdrawn_once BEFORE UPDATE OF withdrawn, withdrawn_by, withdrawn_why ON photos
    WHEN OLD.withdrawn IS NOT NULL BEGIN SELECT RAISE(ABORT, 'a photo is withdrawn once'); END;
CREATE TRIGGER answers_keep BEFORE UPDATE ON answers BEGIN SELECT RAISE(ABORT, 'an answer never changes'); END;
CREATE TRIGGER answers_stay BEFORE DELETE ON answers BEGIN SELECT RAISE(ABORT, 'an answer never changes'); END;
CREATE TRIGGER cuts_keep BEFORE UPDATE ON cuts BEGIN SELECT RAISE(ABORT, 'what was cut never changes'); END;
CREATE TRIGGER cuts_stay BEFORE DELETE ON cuts BEGIN SELECT RAISE(ABORT, 'what was cut never changes'); END;
CREATE TRIGGER measured_keep BEFORE UPDATE ON measured BEGIN SELECT RAISE(ABORT, 'a figure is measured again, never changed'); END;
CREATE TRIGGER measured_stay BEFORE DELETE ON measured BEGIN SELECT RAISE(ABORT, 'a figure is measured again, never changed'); END;
CREATE TRIGGER kit_stays BEFORE DELETE ON kit BEGIN SELECT RAISE(ABORT, 'an item of kit is never deleted'); END;
CREATE TRIGGER people_stay BEFORE DELETE ON people BEGIN SELECT RAISE(ABORT, 'a person is removed, never deleted'); END;
