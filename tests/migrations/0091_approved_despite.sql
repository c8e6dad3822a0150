-- An approval over what was open.
INSERT INTO rounds (id, build, round, issue_key, contents, contents_sha256, packet_sha256, as_of, issued, by)
    VALUES ('0190a000-0000-7000-8000-0000000000a0', '0190a000-0000-7000-8000-000000000010', 3, '0190a000-0000-7000-8000-0000000000a1', '{"tackbook_round":1,"build":"rowan-coupe","round":3,"as_of":49,"log_head":"28e312c05dbddeb25bfa63117e461ea4bd80d45a4a6719f1f54a5f44f9fd350a","book":["Sample Rules","first","641a4985944068fac8edab30f8bc467d85c8fdb2c1dcff0dbf1000846b7c24f5"],"parts":{"C1":["Rowan Coupe"]},"photos":{"M1":["96210597a3cedee79899b4b1a5068078e7ac45d7489f7ceeb69383db21f322a5"]},"verdicts":{},"questions":{}}', '7991eef75a7126b205003b2f28b6781ac9de26ef2b6c018a490897699f5b494d', '690ba89f5aac3c5dde0882c455563510b07657e90f7e18256b5aca2a64167129', 49, '2031-02-03T13:50:00.000000Z', 'Office');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (50, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T13:50:00.000000Z', 'rounds', 'Round 3 was issued.', '{}', '8fa07b2a2f87607990d54813fc2ee88e6d398c5dddfdab5cacf913a05ee96a8a');
INSERT INTO replies (id, round, decision, words, given_by, received, by, despite)
    VALUES ('0190a000-0000-7000-8000-000000000173', '0190a000-0000-7000-8000-0000000000a0', 'approved', 'Seen at the car.', 'Scrutineer', '2031-02-03T13:57:00.000000Z', 'Office', '{"open":["M1 is not photographed."],"words":"Seen at the car."}');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (51, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T13:57:00.000000Z', 'rounds', 'The reply to round 3 was recorded: approved.', '{}', 'd682269ff17da8e462b0f3c0e78b0f74a79db76195d950a1427bd4d2eca0a2bb');
