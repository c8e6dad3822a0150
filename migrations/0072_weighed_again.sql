-- The totals of further weighings of one weigh-in (JSON, as typed and in kilograms), and how the car stood.
ALTER TABLE weigh_ins ADD COLUMN again TEXT NOT NULL DEFAULT '[]';
ALTER TABLE weigh_ins ADD COLUMN aboard TEXT NOT NULL DEFAULT '';
ALTER TABLE weigh_ins ADD COLUMN heights TEXT NOT NULL DEFAULT '';
