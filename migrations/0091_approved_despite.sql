-- What was open in a round that was approved all the same, and why: JSON; empty where nothing was.
ALTER TABLE replies ADD COLUMN despite TEXT NOT NULL DEFAULT '';
