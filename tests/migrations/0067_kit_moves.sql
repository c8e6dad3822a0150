-- An item of kit that went on to the other car.
INSERT INTO kit (id, build, balloon, item, label, second_label, note, version, added, by)
    VALUES ('0190a000-0000-7000-8000-000000000092', '0190a000-0000-7000-8000-000000000011', 1, 'seat', '{"standard":"SAMPLE-1","serial":"SH-4406","made":"2029-07","ends_printed":null,"checked":null}', NULL, 'left', 1, '2031-02-03T12:19:00.000000Z', 'Office');
INSERT INTO kit_moves (left_as, came_as, day, why, moved, by)
    VALUES ('0190a000-0000-7000-8000-000000000090', '0190a000-0000-7000-8000-000000000092', '2031-02-04', 'The other car races first.', '2031-02-03T12:19:00.000000Z', 'Office');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (35, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T12:19:00.000000Z', 'kit', 'K1 went to Sorrel Pickup.', '{}', '24044f1d4edc86c9284ebdac7af952486d4509f04d532e9623ae977823cb9527');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (36, '0190a000-0000-7000-8000-000000000011', 'Office', '2031-02-03T12:19:00.000000Z', 'kit', 'K1 came from Rowan Coupe.', '{}', 'd88eeb69f25e769ea22e5c73c9b554ea3ac5e380891112569730110ff8d155b2');
