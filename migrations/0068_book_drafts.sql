-- A rule book's text never changes once builds may be judged by it: they and the rounds issued under it hold on to it.
CREATE TRIGGER books_keep BEFORE UPDATE ON books BEGIN SELECT RAISE(ABORT, 'a rule book never changes'); END;
CREATE TRIGGER books_stay BEFORE DELETE ON books BEGIN SELECT RAISE(ABORT, 'a rule book is never deleted'); END;
-- A book that is being written: nothing is judged by it before the office says that it may be used.
CREATE TABLE book_drafts (
    number     INTEGER PRIMARY KEY,
    id         TEXT NOT NULL UNIQUE,
    begun_from TEXT REFERENCES books (id),
    version    INTEGER NOT NULL,
    toml       TEXT NOT NULL,
    at         TEXT NOT NULL,
    by         TEXT NOT NULL,
    became     TEXT REFERENCES books (id),
    set_aside  TEXT
) STRICT;
CREATE TRIGGER book_drafts_stay BEFORE DELETE ON book_drafts BEGIN SELECT RAISE(ABORT, 'a draft is never deleted'); END;
-- Each save of a draft stays as it was saved: a later one covers it, none replaces it.
CREATE TABLE book_draft_saves (
    number  INTEGER PRIMARY KEY,
    draft   TEXT NOT NULL REFERENCES book_drafts (id),
    version INTEGER NOT NULL,
    toml    TEXT NOT NULL,
    at      TEXT NOT NULL,
    by      TEXT NOT NULL,
    what    TEXT NOT NULL,
    UNIQUE (draft, version)
) STRICT;
CREATE TRIGGER book_draft_saves_keep BEFORE UPDATE ON book_draft_saves BEGIN SELECT RAISE(ABORT, 'a save of a draft never changes'); END;
CREATE TRIGGER book_draft_saves_stay BEFORE DELETE ON book_draft_saves BEGIN SELECT RAISE(ABORT, 'a save of a draft is never deleted'); END;
