-- What the scrutineer ruled on one rule, of one part or of all; it never changes and is taken back with a reason, never deleted.
CREATE TABLE rulings (
    number        INTEGER PRIMARY KEY,
    build         TEXT NOT NULL REFERENCES builds (id),
    place         INTEGER NOT NULL,
    rule          TEXT NOT NULL,
    of_balloon    TEXT,
    measure       TEXT,
    stays         INTEGER NOT NULL CHECK (stays IN (0, 1)),
    words         TEXT NOT NULL,
    given_by      TEXT NOT NULL,
    given         TEXT NOT NULL,
    letter        TEXT NOT NULL,
    edition       TEXT NOT NULL,
    found         TEXT NOT NULL,
    capture       TEXT REFERENCES photos (capture),
    round         INTEGER,
    recorded      TEXT NOT NULL,
    by            TEXT NOT NULL,
    taken_back    TEXT,
    taken_back_by TEXT,
    why           TEXT,
    UNIQUE (build, place)
) STRICT;
CREATE TRIGGER rulings_stay BEFORE DELETE ON rulings
    BEGIN SELECT RAISE(ABORT, 'a ruling is taken back, never deleted'); END;
CREATE TRIGGER rulings_keep BEFORE UPDATE OF number, build, place, rule, of_balloon, measure, stays, words, given_by, given, letter, edition,
    found, capture, round, recorded, by ON rulings BEGIN SELECT RAISE(ABORT, 'a ruling never changes'); END;
CREATE TRIGGER rulings_back_once BEFORE UPDATE OF taken_back, taken_back_by, why ON rulings WHEN OLD.taken_back IS NOT NULL
    BEGIN SELECT RAISE(ABORT, 'a ruling is taken back once'); END;
