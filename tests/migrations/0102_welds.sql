-- A joint that was welded while it was held, that line struck through, and an inspection.
INSERT INTO welds (number, build, line, joint, day, did, note, held, at, by)
    VALUES (1, '0190a000-0000-7000-8000-000000000010', 1, 'J1', '2031-02-03', '{"welded":{"welder":{"name":"A. Welder","qualification":"","expires":null},"process":"135","positions":["PA","PE"],"filler":"","batch":"","gas":"","volts":{"value":18.0,"text":"18 V"},"amperes":null,"wire_speed":null,"travel":null,"stick_out":null,"preheat":null,"photo":null}}', '', 'held, no round yet', '2031-02-03T15:10:00.000000Z', 'Office'),
        (2, '0190a000-0000-7000-8000-000000000010', 2, 'J1', '2031-02-03', '{"inspected":{"level":"C","outcome":"accepted","inspector":"A. Reader"}}', 'Clean.', '', '2031-02-03T15:11:00.000000Z', 'Office');
INSERT INTO welds_struck (weld, why, struck, by) VALUES (1, 'It was the other car.', '2031-02-03T15:12:00.000000Z', 'Office');
