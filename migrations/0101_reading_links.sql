-- Links by which a round is read without a sign-in. The secret in a link's address stands nowhere: only its SHA-256. A row is
-- never deleted and never changes but once, when the link is withdrawn.
CREATE TABLE reading_links (
    id           TEXT PRIMARY KEY,
    round        TEXT NOT NULL REFERENCES rounds (id),
    secret       TEXT NOT NULL UNIQUE,
    reader       TEXT NOT NULL,
    made         TEXT NOT NULL,
    by           TEXT NOT NULL,
    ends         TEXT NOT NULL,
    withdrawn    TEXT NOT NULL DEFAULT '',
    withdrawn_by TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE INDEX reading_links_of_round ON reading_links (round);
CREATE TRIGGER reading_links_stay BEFORE DELETE ON reading_links BEGIN SELECT RAISE(ABORT, 'a link stays'); END;
CREATE TRIGGER reading_links_keep BEFORE UPDATE ON reading_links
    WHEN OLD.withdrawn != '' OR NEW.withdrawn = '' OR NEW.id != OLD.id OR NEW.round != OLD.round OR NEW.secret != OLD.secret
        OR NEW.reader != OLD.reader OR NEW.made != OLD.made OR NEW.by != OLD.by OR NEW.ends != OLD.ends
    BEGIN SELECT RAISE(ABORT, 'a link never changes but to be withdrawn'); END;
-- How a reply came, with which licence or role it was given; empty of one that was recorded before it was asked.
ALTER TABLE replies ADD COLUMN came TEXT NOT NULL DEFAULT '' CHECK (came IN ('', 'signed in', 'reading link', 'e-mail', 'telephone', 'on paper', 'in person'));
ALTER TABLE replies ADD COLUMN licence TEXT NOT NULL DEFAULT '';
