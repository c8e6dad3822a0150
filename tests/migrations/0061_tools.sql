-- A figure that says what it was read with.
INSERT INTO measured (build, measure, of_balloon, value, text, at, by, tool)
    VALUES ('0190a000-0000-7000-8000-000000000010', 'tube wall', 'M1', 2.6, '2.6', '2031-02-03T11:37:00.000000Z', 'Fabricator', 'caliper-0.05mm');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (29, '0190a000-0000-7000-8000-000000000010', 'Fabricator', '2031-02-03T11:37:00.000000Z', 'measures', 'A figure was read off the car.', '{}', 'dbcb9086add52dc2bf5ad4afd9229919a8a96475555996f2bfa9256c892e1b7a');
