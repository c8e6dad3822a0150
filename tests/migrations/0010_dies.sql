-- A die with its test bends.
INSERT INTO dies (id, name, outside, radius, offset, tests, version, added, by)
    VALUES ('0190a000-0000-7000-8000-0000000000a0', '130 shoe', '{"value":42.4,"text":"42.4"}', '{"value":130.0,"text":"130"}', '{"value":20.0,"text":"20"}', '[{"set":{"value":1.5707963267948966,"text":"90"},"got":{"value":1.509709802975095,"text":"86.5"}}]', 1, '2031-02-03T10:48:00.000000Z', 'Office');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (22, NULL, 'Office', '2031-02-03T10:48:00.000000Z', 'dies', 'The die 130 shoe was added.', '{}', '052539901383e3ba4f9bab863a570e8c2855a04a59b493a1801ef8b3114db7ad');
