-- What a scrutineer answers of each part of a round before he signs: only added to, the newest of a part stands. What stood
-- when a reply was signed is kept with it: JSON; empty of a reply that came by mail or by telephone.
CREATE TABLE reviewed (
    number INTEGER PRIMARY KEY,
    round  TEXT NOT NULL REFERENCES rounds (id),
    part   TEXT NOT NULL,
    answer TEXT NOT NULL CHECK (answer IN ('', 'accepted', 'change wanted', 'question')),
    remark TEXT NOT NULL,
    at     TEXT NOT NULL,
    by     TEXT NOT NULL
) STRICT;
CREATE INDEX reviewed_of_round ON reviewed (round, number);
CREATE TRIGGER reviewed_stays BEFORE DELETE ON reviewed BEGIN SELECT RAISE(ABORT, 'an answer stays'); END;
CREATE TRIGGER reviewed_keeps BEFORE UPDATE ON reviewed BEGIN SELECT RAISE(ABORT, 'an answer never changes'); END;
ALTER TABLE replies ADD COLUMN answers TEXT NOT NULL DEFAULT '';
