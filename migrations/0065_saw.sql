-- How the shop cuts its tube, for the cut plan: figures as typed, JSON; the newest row counts.
CREATE TABLE saw (
    number INTEGER PRIMARY KEY,
    kerf   TEXT NOT NULL,
    trim   TEXT NOT NULL,
    cope   TEXT NOT NULL,
    grip   TEXT NOT NULL,
    buy    TEXT NOT NULL,
    keep   TEXT NOT NULL,
    at     TEXT NOT NULL,
    by     TEXT NOT NULL
) STRICT;

CREATE TRIGGER saw_keep BEFORE UPDATE ON saw BEGIN SELECT RAISE(ABORT, 'what the saw takes is stated again, never changed'); END;
CREATE TRIGGER saw_stay BEFORE DELETE ON saw BEGIN SELECT RAISE(ABORT, 'what the saw takes is stated again, never changed'); END;
