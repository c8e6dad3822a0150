-- What people drew over a photograph, mark by mark: a layer of its own, the photograph stays as it came. Places are parts of
-- the upright picture, 0 to 1 from its left and its top. A mark is rubbed out, never changed and never deleted.
CREATE TABLE mark_ups (
    number        INTEGER PRIMARY KEY,
    build         TEXT NOT NULL REFERENCES builds (id),
    sha256        TEXT NOT NULL CHECK (length(sha256) = 64),
    mark          INTEGER NOT NULL CHECK (mark > 0),
    shape         TEXT NOT NULL CHECK (shape IN ('arrow', 'circle', 'balloon')),
    from_across   REAL NOT NULL CHECK (from_across BETWEEN 0 AND 1),
    from_down     REAL NOT NULL CHECK (from_down BETWEEN 0 AND 1),
    to_across     REAL NOT NULL CHECK (to_across BETWEEN 0 AND 1),
    to_down       REAL NOT NULL CHECK (to_down BETWEEN 0 AND 1),
    of_balloon    TEXT CHECK ((of_balloon IS NOT NULL) = (shape = 'balloon')),
    drawn         TEXT NOT NULL,
    by            TEXT NOT NULL,
    rubbed_out    TEXT,
    rubbed_out_by TEXT,
    UNIQUE (build, sha256, mark)
) STRICT;

CREATE TRIGGER mark_ups_stay BEFORE DELETE ON mark_ups BEGIN SELECT RAISE(ABORT, 'a mark is rubbed out, never deleted'); END;
CREATE TRIGGER mark_ups_keep BEFORE UPDATE OF
    number, build, sha256, mark, shape, from_across, from_down, to_across, to_down, of_balloon, drawn, by ON mark_ups
    BEGIN SELECT RAISE(ABORT, 'a mark is drawn anew, never changed'); END;
CREATE TRIGGER mark_ups_rubbed_out_once BEFORE UPDATE OF rubbed_out, rubbed_out_by ON mark_ups WHEN OLD.rubbed_out IS NOT NULL
    BEGIN SELECT RAISE(ABORT, 'a mark is rubbed out once'); END;
