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

CREATE TRIGGER weld_rates_keep BEFORE UPDATE ON weld_rates BEGIN SELECT RAISE(ABORT, 'rates are stated again, never changed'); END;
CREATE TRIGGER weld_rates_stay BEFORE DELETE ON weld_rates BEGIN SELECT RAISE(ABORT, 'rates are stated again, never changed'); END;
CREATE TRIGGER wheels_keep BEFORE UPDATE ON wheels BEGIN SELECT RAISE(ABORT, 'wheels are measured again, never changed'); END;
CREATE TRIGGER wheels_stay BEFORE DELETE ON wheels BEGIN SELECT RAISE(ABORT, 'wheels are measured again, never changed'); END;
