-- A line that a phone had kept.
INSERT INTO welds_told (build, id, weld) VALUES ('0190a000-0000-7000-8000-000000000010', '0190a000-0000-7000-8000-000000000178', 2);
