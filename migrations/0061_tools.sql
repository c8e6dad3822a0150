-- What a figure was read with, by its name in domain/tools.rs; figures recorded before this column said nothing of it.
ALTER TABLE measured ADD COLUMN tool TEXT;
