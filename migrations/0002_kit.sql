-- Items of kit with their labels as JSON, as domain/kit.rs writes them. The table of 0001 was never written to: no
-- program before this one had a way to.
DROP TRIGGER kit_stays;
DROP TABLE kit;
CREATE TABLE kit (
    number       INTEGER PRIMARY KEY,
    id           TEXT NOT NULL UNIQUE,
    build        TEXT NOT NULL REFERENCES builds (id),
    balloon      INTEGER NOT NULL,
    item         TEXT NOT NULL,
    label        TEXT NOT NULL,
    second_label TEXT,
    note         TEXT NOT NULL,
    version      INTEGER NOT NULL,
    added        TEXT NOT NULL,
    by           TEXT NOT NULL,
    UNIQUE (build, balloon)
) STRICT;
CREATE TRIGGER kit_stays BEFORE DELETE ON kit BEGIN SELECT RAISE(ABORT, 'an item of kit is never deleted'); END;
CREATE TRIGGER kit_keeps BEFORE UPDATE OF number, id, build, balloon, added, by ON kit
    BEGIN SELECT RAISE(ABORT, 'an item of kit keeps its number and who added it'); END;
