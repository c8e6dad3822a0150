-- The mail that a typed-in reply was typed from: a file as it came, which lies beside the records under its SHA-256. A reply
-- may have several, attached with it or later; a row is never deleted and never changes.
CREATE TABLE reply_mails (
    number   INTEGER PRIMARY KEY,
    reply    TEXT NOT NULL REFERENCES replies (id),
    name     TEXT NOT NULL,
    size     INTEGER NOT NULL CHECK (size > 0),
    sha256   TEXT NOT NULL CHECK (length(sha256) = 64),
    attached TEXT NOT NULL,
    by       TEXT NOT NULL,
    UNIQUE (reply, sha256)
) STRICT;
CREATE TRIGGER reply_mails_keep BEFORE UPDATE ON reply_mails BEGIN SELECT RAISE(ABORT, 'what came with a reply never changes'); END;
CREATE TRIGGER reply_mails_stay BEFORE DELETE ON reply_mails BEGIN SELECT RAISE(ABORT, 'what came with a reply stays'); END;
-- What an answer points at on the photographs of its round: JSON; each photograph by its SHA-256, and the place on it.
ALTER TABLE reviewed ADD COLUMN marks TEXT NOT NULL DEFAULT '[]';
