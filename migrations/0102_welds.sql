-- The weld log: a line for each weld, repair, inspection and practice coupon of a joint. Only added to; a wrong line is struck
-- through. What was done is JSON, its figures as typed. `held` says why the joint was held then; empty where it was not.
CREATE TABLE welds (
    number INTEGER PRIMARY KEY,
    build  TEXT NOT NULL REFERENCES builds (id),
    line   INTEGER NOT NULL,
    joint  TEXT NOT NULL,
    day    TEXT NOT NULL,
    did    TEXT NOT NULL,
    note   TEXT NOT NULL,
    held   TEXT NOT NULL,
    at     TEXT NOT NULL,
    by     TEXT NOT NULL,
    UNIQUE (build, line)
) STRICT;
CREATE TABLE welds_struck (
    weld   INTEGER PRIMARY KEY REFERENCES welds (number),
    why    TEXT NOT NULL,
    struck TEXT NOT NULL,
    by     TEXT NOT NULL
) STRICT;
CREATE TRIGGER welds_keep BEFORE UPDATE ON welds BEGIN SELECT RAISE(ABORT, 'a line of the weld log never changes'); END;
CREATE TRIGGER welds_stay BEFORE DELETE ON welds BEGIN SELECT RAISE(ABORT, 'a line of the weld log stays'); END;
CREATE TRIGGER welds_struck_keep BEFORE UPDATE ON welds_struck BEGIN SELECT RAISE(ABORT, 'a struck line stays struck'); END;
CREATE TRIGGER welds_struck_stay BEFORE DELETE ON welds_struck BEGIN SELECT RAISE(ABORT, 'a struck line stays struck'); END;
