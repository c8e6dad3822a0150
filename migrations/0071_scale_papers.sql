-- How far a build's scales may be off, by their class or certificate; and what was foreseen of the finished car, kept as it
-- stood when that was weighed.
CREATE TABLE scale_papers (
    build    TEXT    NOT NULL REFERENCES builds (id),
    place    INTEGER NOT NULL CHECK (place > 0),
    name     TEXT    NOT NULL,
    paper    TEXT    NOT NULL,
    checked  TEXT,
    accuracy TEXT    NOT NULL,
    recorded TEXT    NOT NULL,
    by       TEXT    NOT NULL,
    PRIMARY KEY (build, place)
) STRICT;
CREATE TRIGGER scale_papers_stay BEFORE DELETE ON scale_papers BEGIN SELECT RAISE(ABORT, 'a paper is never deleted'); END;
CREATE TRIGGER scale_papers_keep BEFORE UPDATE ON scale_papers BEGIN SELECT RAISE(ABORT, 'a paper never changes'); END;
ALTER TABLE weigh_ins ADD COLUMN paper INTEGER;
CREATE TABLE forecasts (
    build    TEXT    NOT NULL REFERENCES builds (id),
    weigh_in INTEGER NOT NULL CHECK (weigh_in > 0),
    forecast TEXT    NOT NULL,
    PRIMARY KEY (build, weigh_in)
) STRICT;
CREATE TRIGGER forecasts_stay BEFORE DELETE ON forecasts BEGIN SELECT RAISE(ABORT, 'a forecast is never deleted'); END;
CREATE TRIGGER forecasts_keep BEFORE UPDATE ON forecasts BEGIN SELECT RAISE(ABORT, 'a forecast never changes'); END;
