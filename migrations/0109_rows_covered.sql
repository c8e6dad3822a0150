-- The log covers the rows: what each entry put in, changed or took away, as SHA-256 of the row before and after it, in the
-- order in which it was done. The entry's own hash covers the list. An entry from before has none.
ALTER TABLE log ADD COLUMN rows TEXT;
CREATE TABLE log_rows (
    entry  INTEGER NOT NULL REFERENCES log (number),
    place  INTEGER NOT NULL,
    name   TEXT NOT NULL,
    before BLOB CHECK (before IS NULL OR length(before) = 32),
    after  BLOB CHECK (after IS NULL OR length(after) = 32),
    PRIMARY KEY (entry, place)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER log_rows_stay BEFORE DELETE ON log_rows BEGIN SELECT RAISE(ABORT, 'the log is only added to'); END;
CREATE TRIGGER log_rows_keep BEFORE UPDATE ON log_rows BEGIN SELECT RAISE(ABORT, 'the log is only added to'); END;
