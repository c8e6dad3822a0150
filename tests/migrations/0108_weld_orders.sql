-- An order of welding that the office set.
INSERT INTO weld_orders (build, version, joints, at, by)
    VALUES ('0190a000-0000-7000-8000-000000000010', 1, '["J2","J1"]', '2031-02-03T15:20:00.000000Z', 'Office');
