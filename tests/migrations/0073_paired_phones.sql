-- A phone that was paired, and a code that nobody used.
INSERT INTO sessions (token_hash, person, device, begun, seen)
    VALUES ('45569da57f4b7bf472d7a864ef4781451cae6383fee9fb0ae40c59aa1ce475b7', '0190a000-0000-7000-8000-000000000002', 'a phone', '2031-02-03T13:15:00.000000Z', '2031-02-03T13:15:00.000000Z');
INSERT INTO pairings (person, token_hash, letters_hash, made, wrong, used)
    VALUES ('0190a000-0000-7000-8000-000000000002', '47d8bd46877831ccd61c1cfac962cd4143bc818c7d5fd0989de4f061ce60351e', '7ad8dbe5dbed0dcda5e2fa713de5ddb5b6db23d8b7f4fc0ed2650b5b071107c7', '2031-02-03T13:15:00.000000Z', 1, '2031-02-03T13:15:00.000000Z');
INSERT INTO pairings (person, token_hash, letters_hash, made)
    VALUES ('0190a000-0000-7000-8000-000000000002', '1eeaac91d3d3275dd58eb6af29d62ec57058c9473f49277faf8df6762f020784', 'e680cba1ce4198292806440acd9b1dda7152469e2591bf6ad9925e1709138222', '2031-02-03T13:15:00.000000Z');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (45, NULL, 'Fabricator', '2031-02-03T13:15:00.000000Z', 'people', 'A phone was paired.', '{}', '62088d5108f4d55570c3b0c9670639ba349b567ddb5aee97c1556fbf477e9e20');
