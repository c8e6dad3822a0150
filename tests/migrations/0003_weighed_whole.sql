-- A car weighed as a whole.
INSERT INTO weigh_ins (id, build, balloon, left_front_kg, left_front, right_front_kg, right_front, left_rear_kg, left_rear, right_rear_kg, right_rear, resolution_kg, resolution, conditions, note, day, by, whole_kg, whole)
    VALUES ('0190a000-0000-7000-8000-000000000031', '0190a000-0000-7000-8000-000000000011', 1, 0.0, '', 0.0, '', 0.0, '', 0.0, '', 0.45359237, '1 lb', '[]', '', '2031-02-03', 'Office', 952.543977, '2100 lb');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (20, '0190a000-0000-7000-8000-000000000011', 'Office', '2031-02-03T10:34:00.000000Z', 'weigh_in', 'The car was weighed.', '{"weigh_in":1}', '8f1f94458a78959e3b7c5430053c1d59ac9b03afa0d6d403a15ceb2e0f2fbe50');
