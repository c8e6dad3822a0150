-- An arrow and a balloon over a photograph, and a circle that was rubbed out.
INSERT INTO mark_ups (mark, shape, build, sha256, from_across, from_down, to_across, to_down, drawn, by)
    VALUES (1, 'arrow', '0190a000-0000-7000-8000-000000000010', '96210597a3cedee79899b4b1a5068078e7ac45d7489f7ceeb69383db21f322a5', 0.25, 0.5, 0.5, 0.75, '2031-02-03T13:22:00.000000Z', 'Office');
INSERT INTO mark_ups (mark, shape, of_balloon, build, sha256, from_across, from_down, to_across, to_down, drawn, by)
    VALUES (2, 'balloon', 'M1', '0190a000-0000-7000-8000-000000000010', '96210597a3cedee79899b4b1a5068078e7ac45d7489f7ceeb69383db21f322a5', 0.25, 0.5, 0.5, 0.75, '2031-02-03T13:22:00.000000Z', 'Office');
INSERT INTO mark_ups (mark, shape, rubbed_out, rubbed_out_by, build, sha256, from_across, from_down, to_across, to_down, drawn, by)
    VALUES (3, 'circle', '2031-02-03T13:22:00.000000Z', 'Office', '0190a000-0000-7000-8000-000000000010', '96210597a3cedee79899b4b1a5068078e7ac45d7489f7ceeb69383db21f322a5', 0.25, 0.5, 0.5, 0.75, '2031-02-03T13:22:00.000000Z', 'Office');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (46, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T13:22:00.000000Z', 'mark_ups', 'Three marks were drawn.', '{}', '36ce911cb95b0e2cc3101d41846c5d749464df41bbdd9f9d3fb01b25f166cc0a');
