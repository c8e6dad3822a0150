-- The bender each die is on, and whether bars are still bent over it. Which way a bender swings and counts was not said
-- before: the sheets then showed one that swings to the left and counts clockwise.
ALTER TABLE dies ADD COLUMN swing TEXT NOT NULL DEFAULT 'left' CHECK (swing IN ('left', 'right'));
ALTER TABLE dies ADD COLUMN plus TEXT NOT NULL DEFAULT 'clockwise' CHECK (plus IN ('clockwise', 'anticlockwise'));
ALTER TABLE dies ADD COLUMN in_use INTEGER NOT NULL DEFAULT 1 CHECK (in_use IN (0, 1));
