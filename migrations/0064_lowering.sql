-- How a cage is lowered through the floor, figures as typed, JSON; the newest row of a build counts.
CREATE TABLE lowering (
    number INTEGER PRIMARY KEY,
    build  TEXT NOT NULL REFERENCES builds (id),
    wanted INTEGER NOT NULL CHECK (wanted IN (0, 1)),
    plan   TEXT NOT NULL,
    at     TEXT NOT NULL,
    by     TEXT NOT NULL
) STRICT;
CREATE INDEX lowering_of_build ON lowering (build, number);

-- What a person looked at for the lowering, and ticked; the newest row of a place counts. `looked` is what was there to look at.
CREATE TABLE lowering_looks (
    number INTEGER PRIMARY KEY,
    build  TEXT NOT NULL REFERENCES builds (id),
    place  TEXT NOT NULL,
    looked TEXT NOT NULL,
    ticked TEXT NOT NULL,
    note   TEXT NOT NULL,
    at     TEXT NOT NULL,
    by     TEXT NOT NULL
) STRICT;
CREATE INDEX lowering_looks_of_build ON lowering_looks (build, place, number);

-- The joints that a reply releases for welding while the cage is lowered, JSON.
ALTER TABLE replies ADD COLUMN released TEXT NOT NULL DEFAULT '[]';

CREATE TRIGGER lowering_keep BEFORE UPDATE ON lowering BEGIN SELECT RAISE(ABORT, 'a plan is made again, never changed'); END;
CREATE TRIGGER lowering_stay BEFORE DELETE ON lowering BEGIN SELECT RAISE(ABORT, 'a plan is made again, never changed'); END;
CREATE TRIGGER lowering_looks_keep BEFORE UPDATE ON lowering_looks BEGIN SELECT RAISE(ABORT, 'a look is taken again, never changed'); END;
CREATE TRIGGER lowering_looks_stay BEFORE DELETE ON lowering_looks BEGIN SELECT RAISE(ABORT, 'a look is taken again, never changed'); END;
