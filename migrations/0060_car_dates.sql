-- The car's own dates, as exactly as its papers say them (a day, a month or a year); the newest row of a build counts.
CREATE TABLE car_dates (
    number      INTEGER PRIMARY KEY,
    build       TEXT NOT NULL REFERENCES builds (id),
    registered  TEXT,
    homologated TEXT,
    log_book    TEXT,
    at          TEXT NOT NULL,
    by          TEXT NOT NULL
) STRICT;
CREATE INDEX car_dates_of_build ON car_dates (build, number);
CREATE TRIGGER car_dates_stay BEFORE DELETE ON car_dates
    BEGIN SELECT RAISE(ABORT, 'what was recorded of a car is never deleted'); END;
CREATE TRIGGER car_dates_keep BEFORE UPDATE ON car_dates
    BEGIN SELECT RAISE(ABORT, 'what was recorded of a car never changes'); END;
