-- A cut that says what it took of its stick.
INSERT INTO cuts (build, member, stick, at, by, blank_mm, before_mm, after_mm, kerf_mm, trim_mm)
    VALUES ('0190a000-0000-7000-8000-000000000010', 'M2', '0190a000-0000-7000-8000-000000000050', '2031-02-03T13:36:00.000000Z', 'Fabricator', 3199.629, 0.0, 0.0, 3.0, 0.0);
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (48, '0190a000-0000-7000-8000-000000000010', 'Fabricator', '2031-02-03T13:36:00.000000Z', 'stock', 'M2 was cut from S1.', '{}', 'e48c2fd0abcbf272575538815711770352fa0cc85a1e8929ed5685ea0d2894ec');
