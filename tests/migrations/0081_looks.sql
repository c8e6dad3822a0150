-- What was seen in a photograph, and the shop's own bounds.
INSERT INTO looks (build, sha256, width, height, sharpness, mean, dark_share, bright_share, likeness, camera_says)
    VALUES ('0190a000-0000-7000-8000-000000000010', '73fb47247808eefa92140859d5aeee8955cca452b9f6873e67ecbeba9276a3f4', 1600, 1200, 489.376158, 122.093526, 5.1e-05, 0.0, '31ecec4ceccc4cc2', '2031-02-05T10:00:00');
INSERT INTO look_bounds (blurred, dark, black, washed_out, alike, at, by)
    VALUES (40.0, 60.0, 0.3, 0.3, 6, '2031-02-03T13:29:00.000000Z', 'Office');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (47, NULL, 'Office', '2031-02-03T13:29:00.000000Z', 'looks', 'The bounds for photographs were set.', '{}', 'b7d4ea2ff687fa6d6a086b9feefbf84b085789ae4c58e636c2c4421351e0917b');
