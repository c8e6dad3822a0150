-- Each move of a build to another edition of its book, and why; the rounds issued before keep the edition they were issued under.
CREATE TABLE book_moves (
    number    INTEGER PRIMARY KEY,
    build     TEXT NOT NULL REFERENCES builds (id),
    from_book TEXT NOT NULL REFERENCES books (id),
    to_book   TEXT NOT NULL REFERENCES books (id),
    at        TEXT NOT NULL,
    by        TEXT NOT NULL,
    reason    TEXT NOT NULL
) STRICT;
CREATE TRIGGER book_moves_keep BEFORE UPDATE ON book_moves BEGIN SELECT RAISE(ABORT, 'a move to another edition never changes'); END;
CREATE TRIGGER book_moves_stay BEFORE DELETE ON book_moves BEGIN SELECT RAISE(ABORT, 'a move to another edition is never deleted'); END;
