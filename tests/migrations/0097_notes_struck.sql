-- A wrong line of the log, struck through.
INSERT INTO notes_struck (note, why, struck, by)
    VALUES ('0190a000-0000-7000-8000-000000000060', 'It was the other car.', '2031-02-03T14:30:00.000000Z', 'Office');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (55, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T14:30:00.000000Z', 'notes', 'A line was struck through.', '{}', '09968eb3ae0d48f68c4aaf41894d5de882208e2f4daed96a3bf110118c409a04');
