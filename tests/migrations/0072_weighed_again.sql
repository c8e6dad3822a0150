-- A car that was weighed again, and how it stood.
INSERT INTO weigh_ins (id, build, balloon, left_front_kg, left_front, right_front_kg, right_front, left_rear_kg, left_rear, right_rear_kg, right_rear, resolution_kg, resolution, conditions, note, day, by, whole_kg, whole, cage_in, again, aboard, heights)
    VALUES ('0190a000-0000-7000-8000-000000000035', '0190a000-0000-7000-8000-000000000010', 4, 0.0, '', 0.0, '', 0.0, '', 0.0, '', 0.45359237, '1 lb', '[]', '', '2031-02-05', 'Office', 985.5, '985.5', 1, '[{"value":985.0,"text":"985"},{"value":986.0,"text":"986 kg"}]', 'an empty tank', 'as it will race');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (44, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T13:08:00.000000Z', 'weigh_in', 'The car was weighed again.', '{"weigh_in":4}', '33ecf1a1ee91a51b3c8ef48138541ccb0ea4eccfa71f447b686274c2e273d8d2');
