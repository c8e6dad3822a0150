-- What each cut took of its stick on the day it was recorded: the blank by the model, what was added before and after it,
-- the saw's kerf, the trim of a stick's end. What was cut before this was kept has none of them: nobody knows it any more.
ALTER TABLE cuts ADD COLUMN blank_mm REAL;
ALTER TABLE cuts ADD COLUMN before_mm REAL CHECK ((before_mm IS NULL) = (blank_mm IS NULL));
ALTER TABLE cuts ADD COLUMN after_mm REAL CHECK ((after_mm IS NULL) = (blank_mm IS NULL));
ALTER TABLE cuts ADD COLUMN kerf_mm REAL CHECK ((kerf_mm IS NULL) = (blank_mm IS NULL));
ALTER TABLE cuts ADD COLUMN trim_mm REAL CHECK ((trim_mm IS NULL) = (blank_mm IS NULL));
