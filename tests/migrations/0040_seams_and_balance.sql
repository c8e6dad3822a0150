-- How the shop welds, and where a car's wheels stand.
INSERT INTO weld_rates (leg, wire, efficiency, laid, arc, at, by)
    VALUES ('{"value":3.175,"text":"1/8 in"}', '{"value":0.762,"text":".030 in"}', '{"value":0.95,"text":"95 %"}', '{"value":304.8,"text":"12 in"}', '{"value":0.25,"text":"25 %"}', '2031-02-03T11:09:00.000000Z', 'Office');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (25, NULL, 'Office', '2031-02-03T11:09:00.000000Z', 'seams', 'The shop''s weld rates were stated.', '{}', '55ecde7444383fc6142c5624c04d77d07e145dd8818ef4e04ad3265b0fc9baf6');
INSERT INTO wheels (build, wheelbase, track_front, track_rear, hoop_behind, at, by)
    VALUES ('0190a000-0000-7000-8000-000000000010', '{"value":2400.0,"text":"2400"}', '{"value":1450.0,"text":"1450"}', '{"value":1440.0,"text":"1440"}', '{"value":1500.0,"text":"1.5 m"}', '2031-02-03T11:16:00.000000Z', 'Fabricator');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (26, '0190a000-0000-7000-8000-000000000010', 'Fabricator', '2031-02-03T11:16:00.000000Z', 'balance', 'The wheels were measured.', '{}', '99a58996f7e8775f7707a230bf3245441977e71db9212b53c68643254f3fa524');
