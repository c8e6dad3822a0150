-- The name that a phone gave to a line of the weld log which it kept until the shop answered: told again, it is the same line.
CREATE TABLE welds_told (
    build TEXT NOT NULL REFERENCES builds (id),
    id    TEXT NOT NULL,
    weld  INTEGER NOT NULL UNIQUE REFERENCES welds (number),
    PRIMARY KEY (build, id)
) STRICT;
CREATE TRIGGER welds_told_keep BEFORE UPDATE ON welds_told BEGIN SELECT RAISE(ABORT, 'a line keeps its name'); END;
CREATE TRIGGER welds_told_stay BEFORE DELETE ON welds_told BEGIN SELECT RAISE(ABORT, 'a line keeps its name'); END;
