-- A die on a bender that swings to the right, not bent over any more.
INSERT INTO dies (id, name, outside, radius, offset, tests, version, added, by, swing, plus, in_use)
    VALUES ('0190a000-0000-7000-8000-0000000000a1', '115 shoe', '{"value":38.1,"text":"1 1/2 in"}', '{"value":115.0,"text":"115 mm"}', '{"value":0.0,"text":"0 mm"}', '[]', 1, '2031-02-03T14:11:00.000000Z', 'Office', 'right', 'anticlockwise', 0);
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (53, NULL, 'Office', '2031-02-03T14:11:00.000000Z', 'dies', 'The die 115 shoe was added.', '{}', '61d4031865cc4377c46960ce2feaad94ef88896024e88bad35010565ec70580e');
