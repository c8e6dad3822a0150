-- A weighing that names its scale.
INSERT INTO weigh_ins (id, build, balloon, left_front_kg, left_front, right_front_kg, right_front, left_rear_kg, left_rear, right_rear_kg, right_rear, resolution_kg, resolution, conditions, note, day, by, whole_kg, whole, scale)
    VALUES ('0190a000-0000-7000-8000-000000000032', '0190a000-0000-7000-8000-000000000010', 2, 0.0, '', 0.0, '', 0.0, '', 0.0, '', 0.45359237, '1 lb', '["crew out"]', '', '2031-02-04', 'Office', 953.0, '953', 'Four pads, certificate LP-208');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (21, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T10:41:00.000000Z', 'weigh_in', 'The car was weighed.', '{"weigh_in":2}', '267ed1ecea83dc220303f9af0e82105bc71755d6bd9040827d7a1c03142c5800');
