-- What a line of a build's log waited for ends when somebody says so, and only then: by whom, when, and what became of it. A
-- line that was never ended still waits, those that were written before this too.
CREATE TABLE waits_ended (
    note  TEXT PRIMARY KEY REFERENCES notes (id),
    how   TEXT NOT NULL,
    ended TEXT NOT NULL,
    by    TEXT NOT NULL
) STRICT;
CREATE TRIGGER waits_ended_stay BEFORE DELETE ON waits_ended BEGIN SELECT RAISE(ABORT, 'an ended wait stays'); END;
CREATE TRIGGER waits_ended_keep BEFORE UPDATE ON waits_ended BEGIN SELECT RAISE(ABORT, 'an ended wait never changes'); END;
