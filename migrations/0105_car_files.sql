-- Cars' files: what came with a build that another shop recorded.
--
-- Its sticks and rule books keep the numbers and names they have there, whatever this shop's own are called: of those that
-- were brought, none is on this rack or among the books that a build is begun by.
PRAGMA defer_foreign_keys = ON;

CREATE TEMP TABLE books_before AS SELECT number, id, name, edition, toml, added FROM books;
DROP TABLE books;
CREATE TABLE books (
    number  INTEGER PRIMARY KEY,
    id      TEXT NOT NULL UNIQUE,
    name    TEXT NOT NULL,
    edition TEXT NOT NULL,
    toml    TEXT NOT NULL,
    added   TEXT NOT NULL,
    brought INTEGER NOT NULL DEFAULT 0 CHECK (brought IN (0, 1))
) STRICT;
INSERT INTO books (number, id, name, edition, toml, added) SELECT * FROM books_before;
DROP TABLE books_before;
CREATE UNIQUE INDEX books_of_shop ON books (name, edition) WHERE brought = 0;
CREATE TRIGGER books_keep BEFORE UPDATE ON books BEGIN SELECT RAISE(ABORT, 'a rule book never changes'); END;
CREATE TRIGGER books_stay BEFORE DELETE ON books BEGIN SELECT RAISE(ABORT, 'a rule book is never deleted'); END;

CREATE TEMP TABLE sticks_before AS
    SELECT number, id, balloon, outside_mm, wall_mm, printed, size, grade, heat, length_mm, length, certificate, given_to, added, by
    FROM sticks;
DROP TABLE sticks;
CREATE TABLE sticks (
    number      INTEGER PRIMARY KEY,
    id          TEXT NOT NULL UNIQUE,
    balloon     INTEGER NOT NULL,
    outside_mm  REAL NOT NULL,
    wall_mm     REAL NOT NULL,
    printed     TEXT NOT NULL CHECK (printed IN ('inch', 'metric')),
    size        TEXT NOT NULL,
    grade       TEXT NOT NULL,
    heat        TEXT NOT NULL,
    length_mm   REAL NOT NULL,
    length      TEXT NOT NULL,
    certificate TEXT REFERENCES photos (capture),
    given_to    TEXT REFERENCES builds (id),
    added       TEXT NOT NULL,
    by          TEXT NOT NULL,
    brought     INTEGER NOT NULL DEFAULT 0 CHECK (brought IN (0, 1))
) STRICT;
INSERT INTO sticks (number, id, balloon, outside_mm, wall_mm, printed, size, grade, heat, length_mm, length, certificate,
    given_to, added, by) SELECT * FROM sticks_before;
DROP TABLE sticks_before;
CREATE UNIQUE INDEX sticks_of_rack ON sticks (balloon) WHERE brought = 0;
CREATE INDEX sticks_given_to ON sticks (given_to);

-- keys of other shops, by which rounds were signed that came with a car
ALTER TABLE signing_keys ADD COLUMN brought INTEGER NOT NULL DEFAULT 0 CHECK (brought IN (0, 1));

-- what an entry of the log was in the log it was written in
CREATE TABLE log_brought (
    entry  INTEGER PRIMARY KEY REFERENCES log (number),
    number INTEGER NOT NULL CHECK (number > 0),
    before TEXT NOT NULL CHECK (length(before) = 64),
    hash   TEXT NOT NULL CHECK (length(hash) = 64)
) STRICT;
CREATE TRIGGER log_brought_keeps BEFORE UPDATE ON log_brought BEGIN SELECT RAISE(ABORT, 'the log is only added to'); END;
CREATE TRIGGER log_brought_stays BEFORE DELETE ON log_brought BEGIN SELECT RAISE(ABORT, 'the log is only added to'); END;

-- the way of an item of kit through cars that are not in this shop
CREATE TABLE kit_ways_brought (
    item TEXT PRIMARY KEY REFERENCES kit (id),
    way  TEXT NOT NULL,
    gone INTEGER NOT NULL CHECK (gone IN (0, 1))
) STRICT;
CREATE TRIGGER kit_ways_keep BEFORE UPDATE ON kit_ways_brought BEGIN SELECT RAISE(ABORT, 'where kit was never changes'); END;
CREATE TRIGGER kit_ways_stay BEFORE DELETE ON kit_ways_brought BEGIN SELECT RAISE(ABORT, 'where kit was never changes'); END;

-- the file that a build came with: its list, the signature of that, and the address it had there
CREATE TABLE car_files (
    build     TEXT PRIMARY KEY REFERENCES builds (id),
    slug      TEXT NOT NULL,
    manifest  TEXT NOT NULL,
    signature TEXT NOT NULL,
    public    TEXT NOT NULL,
    loaded    TEXT NOT NULL,
    by        TEXT NOT NULL
) STRICT;
CREATE TRIGGER car_files_keep BEFORE UPDATE ON car_files BEGIN SELECT RAISE(ABORT, 'what a car came with never changes'); END;
CREATE TRIGGER car_files_stay BEFORE DELETE ON car_files BEGIN SELECT RAISE(ABORT, 'what a car came with never changes'); END;
