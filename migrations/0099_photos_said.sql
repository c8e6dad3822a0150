-- What was said of a photograph on the walk, as it stood at its shot: that it is kept although something was remarked of it,
-- and what was ticked as seen in it. Said once, it stays; at another shot it is said anew.
CREATE TABLE photos_said (
    number  INTEGER PRIMARY KEY,
    capture TEXT NOT NULL REFERENCES photos (capture),
    shot    TEXT NOT NULL,
    what    TEXT NOT NULL CHECK (what IN ('kept so', 'seen')),
    words   TEXT NOT NULL,
    said    TEXT NOT NULL,
    by      TEXT NOT NULL,
    UNIQUE (capture, shot, what, words)
) STRICT;
CREATE TRIGGER photos_said_stay BEFORE DELETE ON photos_said BEGIN SELECT RAISE(ABORT, 'what was said stays'); END;
CREATE TRIGGER photos_said_keep BEFORE UPDATE ON photos_said BEGIN SELECT RAISE(ABORT, 'what was said never changes'); END;
