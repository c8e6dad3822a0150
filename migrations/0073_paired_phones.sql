-- What a session is signed in on, as its browser said it, and the codes by which a phone is paired without a password.
ALTER TABLE sessions ADD COLUMN device TEXT NOT NULL DEFAULT '';

CREATE TABLE pairings (
    number       INTEGER PRIMARY KEY,
    person       TEXT NOT NULL REFERENCES people (id),
    token_hash   TEXT NOT NULL UNIQUE,
    letters_hash TEXT NOT NULL,
    made         TEXT NOT NULL,
    -- letters typed that were nobody's, while these were good
    wrong        INTEGER NOT NULL DEFAULT 0,
    used         TEXT
) STRICT;
CREATE INDEX pairings_open ON pairings (made) WHERE used IS NULL;
