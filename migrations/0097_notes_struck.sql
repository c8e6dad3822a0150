-- A wrong line of a build's log is struck through, never changed: by whom, when and why. The line itself stays readable.
CREATE TABLE notes_struck (
    note   TEXT PRIMARY KEY REFERENCES notes (id),
    why    TEXT NOT NULL,
    struck TEXT NOT NULL,
    by     TEXT NOT NULL
) STRICT;
CREATE TRIGGER notes_struck_stay BEFORE DELETE ON notes_struck BEGIN SELECT RAISE(ABORT, 'a struck line stays struck'); END;
CREATE TRIGGER notes_struck_keep BEFORE UPDATE ON notes_struck BEGIN SELECT RAISE(ABORT, 'a struck line stays struck'); END;
