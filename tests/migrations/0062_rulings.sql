-- Two rulings, one of them taken back.
INSERT INTO rulings (build, place, rule, of_balloon, measure, stays, words, given_by, given, letter, edition, found, capture, round, recorded, by)
    VALUES ('0190a000-0000-7000-8000-000000000010', 1, 'weighing', NULL, NULL, 1, 'Weigh it once more when it is done.', 'Scrutineer', '2031-02-04', '', 'first', 'not measured', '0190a000-0000-7000-8000-000000000040', 1, '2031-02-03T11:44:00.000000Z', 'Office');
INSERT INTO rulings (build, place, rule, of_balloon, measure, stays, words, given_by, given, letter, edition, found, capture, round, recorded, by, taken_back, taken_back_by, why)
    VALUES ('0190a000-0000-7000-8000-000000000010', 2, 'class', 'M1', 'tube wall', 0, 'Another tube.', 'Scrutineer', '2031-02-04', '', 'first', 'not measured', NULL, NULL, '2031-02-03T11:44:00.000000Z', 'Office', '2031-02-03T11:44:00.000000Z', 'Office', 'Of another car.');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (30, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T11:44:00.000000Z', 'rulings', 'Two rulings were recorded.', '{}', '9a73920e5dc6e7c249d43b4ae05f8a7e408b434b65a75dbdcc2442b675fb025b');
