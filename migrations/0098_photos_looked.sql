-- That the office looked at a photograph at the shot it stood at: who and when. At another shot it is looked at anew.
CREATE TABLE photos_looked (
    number  INTEGER PRIMARY KEY,
    capture TEXT NOT NULL REFERENCES photos (capture),
    shot    TEXT NOT NULL,
    looked  TEXT NOT NULL,
    by      TEXT NOT NULL,
    UNIQUE (capture, shot)
) STRICT;
CREATE TRIGGER photos_looked_stay BEFORE DELETE ON photos_looked BEGIN SELECT RAISE(ABORT, 'a look stays'); END;
CREATE TRIGGER photos_looked_keep BEFORE UPDATE ON photos_looked BEGIN SELECT RAISE(ABORT, 'a look never changes'); END;
