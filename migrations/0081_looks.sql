-- What was seen in a photograph when it came, as figures: remarks follow from them, and pictures nearly the same are found by
-- their likeness. What the camera says is a claim; where it was is never read.
CREATE TABLE looks (
    number       INTEGER PRIMARY KEY,
    build        TEXT NOT NULL REFERENCES builds (id),
    sha256       TEXT NOT NULL CHECK (length(sha256) = 64),
    width        INTEGER NOT NULL,
    height       INTEGER NOT NULL,
    sharpness    REAL NOT NULL,
    mean         REAL NOT NULL,
    dark_share   REAL NOT NULL,
    bright_share REAL NOT NULL,
    likeness     TEXT NOT NULL CHECK (length(likeness) = 16),
    camera_says  TEXT,
    UNIQUE (build, sha256)
) STRICT;

-- From when on a photograph is called blurred, dark, washed out or nearly the same as another; the newest row counts, for the
-- photographs that come after it.
CREATE TABLE look_bounds (
    number     INTEGER PRIMARY KEY,
    blurred    REAL NOT NULL,
    dark       REAL NOT NULL,
    black      REAL NOT NULL,
    washed_out REAL NOT NULL,
    alike      INTEGER NOT NULL,
    at         TEXT NOT NULL,
    by         TEXT NOT NULL
) STRICT;

CREATE TRIGGER looks_keep BEFORE UPDATE ON looks BEGIN SELECT RAISE(ABORT, 'a photo is looked at once'); END;
CREATE TRIGGER looks_stay BEFORE DELETE ON looks BEGIN SELECT RAISE(ABORT, 'a photo is looked at once'); END;
CREATE TRIGGER look_bounds_keep BEFORE UPDATE ON look_bounds BEGIN SELECT RAISE(ABORT, 'bounds are set again, never changed'); END;
CREATE TRIGGER look_bounds_stay BEFORE DELETE ON look_bounds BEGIN SELECT RAISE(ABORT, 'bounds are set again, never changed'); END;
