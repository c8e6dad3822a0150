-- Which scale a car was weighed on, and how it was certified; earlier weigh-ins said it among their notes, if at all.
ALTER TABLE weigh_ins ADD COLUMN scale TEXT NOT NULL DEFAULT '';
