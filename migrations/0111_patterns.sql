-- From which car's file a build was begun as from a pattern: that car's name, the SHA-256 of the file's list, the key that signed
-- it, and the figures of its cage as JSON. Nothing is judged by them.
CREATE TABLE patterns (
    build   TEXT PRIMARY KEY REFERENCES builds (id),
    car     TEXT NOT NULL,
    list    TEXT NOT NULL CHECK (length(list) = 64),
    public  TEXT NOT NULL,
    figures TEXT NOT NULL,
    at      TEXT NOT NULL,
    by      TEXT NOT NULL
) STRICT;
CREATE TRIGGER patterns_keep BEFORE UPDATE ON patterns BEGIN SELECT RAISE(ABORT, 'the pattern of a build never changes'); END;
CREATE TRIGGER patterns_stay BEFORE DELETE ON patterns BEGIN SELECT RAISE(ABORT, 'the pattern of a build stays'); END;
