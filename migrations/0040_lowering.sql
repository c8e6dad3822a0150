-- How a shop welds, for the estimate of wire and time: figures as typed, JSON; the newest row counts.
CREATE TABLE weld_rates (
    number     INTEGER PRIMARY KEY,
    leg        TEXT NOT NULL,
    wire       TEXT NOT NULL,
    efficiency TEXT NOT NULL,
    laid       TEXT NOT NULL,
    arc        TEXT NOT NULL,
    at         TEXT NOT NULL,
    by         TEXT NOT NULL
) STRICT;

-- Where a car's wheels stand, figures as typed, JSON; the newest row of a build counts.
CREATE TABLE wheels (
    number      INTEGER PRIMARY KEY,
    build       TEXT NOT NULL REFERENCES builds (id),
    wheelbase   TEXT NOT NULL,
    track_front TEXT NOT NULL,
    track_rear  TEXT NOT NULL,
    hoop_behind TEXT NOT NULL,
    at          TEXT NOT NULL,
    by          TEXT NOT NULL
) STRICT;
CREATE INDEX wheels_of_build ON wheels (build, number);

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

CREATE TRIGGER weld_rates_keep BEFORE UPDATE ON weld_rates BEGIN SELECT RAISE(ABORT, 'rates are stated again, never changed'); END;
CREATE TRIGGER weld_rates_stay BEFORE DELETE ON weld_rates BEGIN SELECT RAISE(ABORT, 'rates are stated again, never changed'); END;
CREATE TRIGGER wheels_keep BEFORE UPDATE ON wheels BEGIN SELECT RAISE(ABORT, 'wheels are measured again, never changed'); END;
CREATE TRIGGER wheels_stay BEFORE DELETE ON wheels BEGIN SELECT RAISE(ABORT, 'wheels are measured again, never changed'); END;
CREATE TRIGGER lowering_keep BEFORE UPDATE ON lowering BEGIN SELECT RAISE(ABORT, 'a plan is made again, never changed'); END;
CREATE TRIGGER lowering_stay BEFORE DELETE ON lowering BEGIN SELECT RAISE(ABORT, 'a plan is made again, never changed'); END;
CREATE TRIGGER lowering_looks_keep BEFORE UPDATE ON lowering_looks BEGIN SELECT RAISE(ABORT, 'a look is taken again, never changed'); END;
CREATE TRIGGER lowering_looks_stay BEFORE DELETE ON lowering_looks BEGIN SELECT RAISE(ABORT, 'a look is taken again, never changed'); END;
