-- A wait that somebody said is over.
INSERT INTO waits_ended (note, how, ended, by)
    VALUES ('0190a000-0000-7000-8000-000000000060', 'The tube came.', '2031-02-03T13:43:00.000000Z', 'Office');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (49, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T13:43:00.000000Z', 'notes', 'What was waited for is over.', '{}', '28e312c05dbddeb25bfa63117e461ea4bd80d45a4a6719f1f54a5f44f9fd350a');
