-- Each save of a cage stays as it was saved: a later one covers it, none replaces it.
CREATE TABLE cage_saves (
    number  INTEGER PRIMARY KEY,
    build   TEXT NOT NULL REFERENCES builds (id),
    version INTEGER NOT NULL,
    json    TEXT NOT NULL,
    at      TEXT NOT NULL,
    by      TEXT NOT NULL,
    what    TEXT NOT NULL,
    UNIQUE (build, version)
) STRICT;
-- What stood before this table: of each cage the newest save, as its last log entry tells of it.
INSERT INTO cage_saves (build, version, json, at, by, what)
    SELECT cages.build, cages.version, cages.json, log.at, log.by, log.what
    FROM cages JOIN log ON log.number = (SELECT MAX(number) FROM log WHERE log.build = cages.build AND log.room = 'cage');
CREATE TRIGGER cage_saves_keep BEFORE UPDATE ON cage_saves BEGIN SELECT RAISE(ABORT, 'a save of a cage never changes'); END;
CREATE TRIGGER cage_saves_stay BEFORE DELETE ON cage_saves BEGIN SELECT RAISE(ABORT, 'a save of a cage is never deleted'); END;
