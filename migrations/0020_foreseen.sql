-- What still comes out of a weighed car and what goes in before it is finished; nothing is deleted, a thing is taken back.
CREATE TABLE foreseen (
    number     INTEGER PRIMARY KEY,
    build      TEXT NOT NULL REFERENCES builds (id),
    place      INTEGER NOT NULL,
    name       TEXT NOT NULL,
    way        TEXT NOT NULL CHECK (way IN ('in', 'out')),
    mass_kg    REAL NOT NULL,
    mass       TEXT NOT NULL,
    spread_kg  REAL,
    spread     TEXT,
    spread_is  TEXT CHECK (spread_is IN ('limits', 'deviation')),
    weigh_in   INTEGER,
    added      TEXT NOT NULL,
    by         TEXT NOT NULL,
    taken_back TEXT,
    UNIQUE (build, place)
) STRICT;
CREATE TRIGGER foreseen_stays BEFORE DELETE ON foreseen BEGIN SELECT RAISE(ABORT, 'what was foreseen is taken back, never deleted'); END;
CREATE TRIGGER foreseen_keeps BEFORE UPDATE OF number, build, place, name, way, mass_kg, mass, spread_kg, spread, spread_is,
    weigh_in, added, by ON foreseen BEGIN SELECT RAISE(ABORT, 'what was foreseen never changes'); END;
CREATE TRIGGER foreseen_back_once BEFORE UPDATE OF taken_back ON foreseen WHEN OLD.taken_back IS NOT NULL
    BEGIN SELECT RAISE(ABORT, 'a thing is taken back once'); END;
-- Whether the cage stood in the car when it was weighed; it did not in any weighing before this column.
ALTER TABLE weigh_ins ADD COLUMN cage_in INTEGER NOT NULL DEFAULT 0;
