-- A reply that refuses, and a condition that came with another.
INSERT INTO replies (id, round, decision, words, given_by, received, by, refused)
    VALUES ('0190a000-0000-7000-8000-000000000176', '0190a000-0000-7000-8000-0000000000a0', 'not yet', 'Not this cage.', 'Scrutineer', '2031-02-03T15:10:00.000000Z', 'Office', 1);
INSERT INTO questions (id, build, balloon, about, text, reply, asked, by, condition)
    VALUES ('0190a000-0000-7000-8000-000000000177', '0190a000-0000-7000-8000-000000000010', 977, 'M1', 'Pad it first.', '0190a000-0000-7000-8000-000000000176', '2031-02-03T15:11:00.000000Z', 'Scrutineer', 'holds');
