-- An item of kit that moved to another car: the row it left and the row it became there. Each row keeps its number in its
-- build, its label and its photographs.
CREATE TABLE kit_moves (
    number  INTEGER PRIMARY KEY,
    left_as TEXT NOT NULL UNIQUE REFERENCES kit (id),
    came_as TEXT NOT NULL UNIQUE REFERENCES kit (id),
    day     TEXT NOT NULL,
    why     TEXT NOT NULL,
    moved   TEXT NOT NULL,
    by      TEXT NOT NULL,
    CHECK (left_as <> came_as)
) STRICT;
CREATE TRIGGER kit_moves_stay BEFORE DELETE ON kit_moves BEGIN SELECT RAISE(ABORT, 'a move is never deleted'); END;
CREATE TRIGGER kit_moves_keep BEFORE UPDATE ON kit_moves BEGIN SELECT RAISE(ABORT, 'a move never changes'); END;
