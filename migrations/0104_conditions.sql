-- A condition of a release: an open thing that came with an approving reply. One that holds is met before anything is welded by it.
ALTER TABLE questions ADD COLUMN condition TEXT NOT NULL DEFAULT '' CHECK (condition IN ('', 'open', 'holds'));
-- A reply that refuses for good, where "not yet" leaves the door open.
ALTER TABLE replies ADD COLUMN refused INTEGER NOT NULL DEFAULT 0 CHECK (refused IN (0, 1));
