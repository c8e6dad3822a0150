-- A scale's papers, a weighing that goes by one, and what was foreseen when the finished car was weighed.
INSERT INTO scale_papers (build, place, name, paper, checked, accuracy, recorded, by)
    VALUES ('0190a000-0000-7000-8000-000000000010', 1, 'Four pads, LP-208', 'LP-208', '2030-11-02', '{"limits":{"value":0.5,"text":"0.5"}}', '2031-02-03T12:54:00.000000Z', 'Office');
INSERT INTO scale_papers (build, place, name, paper, checked, accuracy, recorded, by)
    VALUES ('0190a000-0000-7000-8000-000000000010', 2, 'Weighbridge', '', NULL, '{"class":["III","in_service"]}', '2031-02-03T12:54:00.000000Z', 'Office');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (42, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T12:54:00.000000Z', 'weigh_in', 'Two papers were recorded.', '{}', '0896ff56e5d2393a620b63b7937aadea1dc3b8c4366adc7f541198cef50ceb97');
INSERT INTO weigh_ins (id, build, balloon, left_front_kg, left_front, right_front_kg, right_front, left_rear_kg, left_rear, right_rear_kg, right_rear, resolution_kg, resolution, conditions, note, day, by, whole_kg, whole, cage_in, paper)
    VALUES ('0190a000-0000-7000-8000-000000000034', '0190a000-0000-7000-8000-000000000010', 3, 0.0, '', 0.0, '', 0.0, '', 0.0, '', 0.45359237, '1 lb', '["crew out"]', '', '2031-02-05', 'Office', 985.0, '985 kg', 1, 1);
INSERT INTO forecasts (build, weigh_in, forecast)
    VALUES ('0190a000-0000-7000-8000-000000000010', 3, '{"weigh_in":3,"before":2,"conditions":["crew out"],"weighed":953.0,"things":[{"name":"carpets","way":"out","mass":{"value":38.0,"text":"38"},"spread":{"mass":{"value":3.0,"text":"3"},"is":"limits"}}],"cage":70.5,"finished":985.5,"doubt":1.8,"class":["class","all"],"class_foreseen":["class","all"]}');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (43, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T13:01:00.000000Z', 'weigh_in', 'The car was weighed with its cage in.', '{"weigh_in":3}', '48fb4762fd920f2c630a45bf2d0d90771ede178c8260fee3bb16a28c9f744220');
