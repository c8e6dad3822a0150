-- A photograph that the phone made smaller.
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (41, '0190a000-0000-7000-8000-000000000010', 'Fabricator', '2031-02-03T12:47:00.000000Z', 'photos', 'A photo arrived.', '{"capture":"0190a000-0000-7000-8000-000000000043","sha256":"73fb47247808eefa92140859d5aeee8955cca452b9f6873e67ecbeba9276a3f4","shot":"P1 plate/plate"}', 'dd8f73f1aa4983d43f33b247a7ae03742b1b860e2739695c67da25e33670ff8f');
INSERT INTO photos (capture, build, shot, note, sha256, size, declared, by, received, entry, width, height, remarks, camera_size)
    VALUES ('0190a000-0000-7000-8000-000000000043', '0190a000-0000-7000-8000-000000000010', 'P1 plate/plate', '', '73fb47247808eefa92140859d5aeee8955cca452b9f6873e67ecbeba9276a3f4', 300000, '2031-02-03T12:47:00.000000Z', 'Fabricator', '2031-02-03T12:47:00.000000Z', 41, 1600, 1200, '[]', 4000000);
