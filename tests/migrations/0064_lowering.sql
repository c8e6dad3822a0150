-- A lowering that is wanted, what was ticked of it, and a reply that released one joint.
INSERT INTO lowering (build, wanted, plan, at, by)
    VALUES ('0190a000-0000-7000-8000-000000000010', 1, '{"room":{"value":152.4,"text":"6 in"},"over":{"value":6.35,"text":"1/4 in"},"roof_front":{"value":1100.0,"text":"1100"},"under":null}', '2031-02-03T11:51:00.000000Z', 'Fabricator');
INSERT INTO lowering_looks (build, place, looked, ticked, note, at, by)
    VALUES ('0190a000-0000-7000-8000-000000000010', 'P1', '[1160.0,655.0,60.0,50.0]', '["pipes"]', 'Nothing under it.', '2031-02-03T11:51:00.000000Z', 'Fabricator');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (31, '0190a000-0000-7000-8000-000000000010', 'Fabricator', '2031-02-03T11:51:00.000000Z', 'lowering', 'The lowering was planned.', '{}', 'a56f7a38d54c0504dccfee47d2ca42090c5164af2454535680dab0385686b44b');
INSERT INTO rounds (id, build, round, issue_key, contents, contents_sha256, packet_sha256, as_of, issued, by)
    VALUES ('0190a000-0000-7000-8000-000000000090', '0190a000-0000-7000-8000-000000000010', 2, '0190a000-0000-7000-8000-000000000091', '{"tackbook_round":1,"build":"rowan-coupe","round":2,"as_of":31,"log_head":"a56f7a38d54c0504dccfee47d2ca42090c5164af2454535680dab0385686b44b","book":["Sample Rules","first","641a4985944068fac8edab30f8bc467d85c8fdb2c1dcff0dbf1000846b7c24f5"],"parts":{"C1":["Rowan Coupe"]},"photos":{"M1":["96210597a3cedee79899b4b1a5068078e7ac45d7489f7ceeb69383db21f322a5"]},"verdicts":{},"questions":{}}', '58f8583408ac473f0d2db55b10fb1bf15705029c6789bb35a46f3e6c4ebee885', 'a790154d8499d809d3b85f48d584fcc844638b52daa055ed1d5e20af2ef96405', 31, '2031-02-03T11:58:00.000000Z', 'Office');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (32, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T11:58:00.000000Z', 'rounds', 'Round 2 was issued.', '{}', 'a850f09578766dbab82615691276c8148aac4ee1a90923b262aa95821da38e26');
INSERT INTO replies (id, round, decision, words, given_by, received, by, released)
    VALUES ('0190a000-0000-7000-8000-000000000172', '0190a000-0000-7000-8000-000000000090', 'not yet', 'J3 may be welded while it is down.', 'Scrutineer', '2031-02-03T12:05:00.000000Z', 'Office', '["J3"]');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (33, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T12:05:00.000000Z', 'rounds', 'The reply to round 2 was recorded: not yet.', '{}', '54e2ce795d3a0807e54fbf5d7b3a95365f17ab2a9ab14020ff7e43820a841726');
