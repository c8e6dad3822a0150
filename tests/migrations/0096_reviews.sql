-- An answer to a part of a round, and a reply that was signed with it.
INSERT INTO reviewed (number, round, part, answer, remark, at, by)
    VALUES (1, '0190a000-0000-7000-8000-0000000000a0', 'M1', 'change wanted', 'Photograph the bend.', '2031-02-03T14:20:00.000000Z', 'Scrutineer');
INSERT INTO replies (id, round, decision, words, given_by, received, by, answers)
    VALUES ('0190a000-0000-7000-8000-000000000174', '0190a000-0000-7000-8000-0000000000a0', 'not yet', '', 'Scrutineer', '2031-02-03T14:21:00.000000Z', 'Scrutineer', '[{"number":1,"part":"M1","answer":"change_wanted","remark":"Photograph the bend.","at":"2031-02-03T14:20:00Z","by":"Scrutineer"}]');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (54, '0190a000-0000-7000-8000-000000000010', 'Scrutineer', '2031-02-03T14:21:00.000000Z', 'rounds', 'The reply to round 3 was recorded: not yet.', '{}', 'fa6b035275348b5b663cf6b93fe278899b4f33e2a08a1088423a14aef40a4ac3');
