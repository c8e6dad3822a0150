-- The shop's bending dies, each with its test bends as JSON (what was set, what was got).
CREATE TABLE dies (
    number   INTEGER PRIMARY KEY,
    id       TEXT NOT NULL UNIQUE,
    name     TEXT NOT NULL,
    outside  TEXT NOT NULL,
    radius   TEXT NOT NULL,
    offset   TEXT NOT NULL,
    tests    TEXT NOT NULL,
    version  INTEGER NOT NULL,
    added    TEXT NOT NULL,
    by       TEXT NOT NULL
) STRICT;
CREATE TRIGGER dies_stay BEFORE DELETE ON dies BEGIN SELECT RAISE(ABORT, 'a die is never deleted'); END;
