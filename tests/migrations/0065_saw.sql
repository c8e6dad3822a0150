-- How the shop cuts its tube.
INSERT INTO saw (kerf, trim, cope, grip, buy, keep, at, by)
    VALUES ('{"value":3.0,"text":"3"}', '{"value":0.0,"text":"0"}', '{"value":5.0,"text":"5 mm"}', '{"value":152.4,"text":"6 in"}', '{"value":6096.0,"text":"20 ft"}', '{"value":304.8,"text":"12 in"}', '2031-02-03T12:12:00.000000Z', 'Office');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (34, NULL, 'Office', '2031-02-03T12:12:00.000000Z', 'saw', 'The saw''s figures were stated.', '{}', '7a07d1e4373b77c1dd34ca7e607ed84ccc7510c8d368473f3a65b8b102fd3672');
