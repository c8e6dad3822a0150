-- What still comes out and goes in, one thing taken back; a car weighed with its cage in.
INSERT INTO foreseen (build, place, name, way, mass_kg, mass, spread_kg, spread, spread_is, weigh_in, added, by)
    VALUES ('0190a000-0000-7000-8000-000000000010', 1, 'carpets', 'out', 38.0, '38', 3.0, '3', 'limits', 2, '2031-02-03T10:55:00.000000Z', 'Office');
INSERT INTO foreseen (build, place, name, way, mass_kg, mass, spread_kg, spread, spread_is, weigh_in, added, by, taken_back)
    VALUES ('0190a000-0000-7000-8000-000000000010', 2, 'seats', 'in', 18.0, '18 kg', NULL, NULL, NULL, 2, '2031-02-03T10:55:00.000000Z', 'Office', '2031-02-03T10:55:00.000000Z');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (23, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T10:55:00.000000Z', 'foreseen', 'Two things were listed, one was taken back.', '{}', '01422e24158853c68d6fb588d1f07d8b0cc2128053ca9ba9da99ddce3a620f77');
INSERT INTO weigh_ins (id, build, balloon, left_front_kg, left_front, right_front_kg, right_front, left_rear_kg, left_rear, right_rear_kg, right_rear, resolution_kg, resolution, conditions, note, day, by, whole_kg, whole, cage_in)
    VALUES ('0190a000-0000-7000-8000-000000000033', '0190a000-0000-7000-8000-000000000011', 2, 0.0, '', 0.0, '', 0.0, '', 0.0, '', 0.45359237, '1 lb', '[]', '', '2031-02-04', 'Office', 960.0, '960 kg', 1);
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (24, '0190a000-0000-7000-8000-000000000011', 'Office', '2031-02-03T11:02:00.000000Z', 'weigh_in', 'The car was weighed with its cage in.', '{"weigh_in":2}', '4110ed14e19154831306464e85ff470ae6e1c7e2def5d2fea4433928f8def64e');
