-- A car may be weighed as a whole: then both columns are filled, and the four pads stand at 0 and empty.
ALTER TABLE weigh_ins ADD COLUMN whole_kg REAL;
ALTER TABLE weigh_ins ADD COLUMN whole TEXT;
