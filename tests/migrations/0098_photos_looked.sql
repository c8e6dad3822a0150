-- A photograph that the office looked at.
INSERT INTO photos_looked (number, capture, shot, looked, by)
    VALUES (1, '0190a000-0000-7000-8000-000000000040', 'M1 cut/cut', '2031-02-03T14:40:00.000000Z', 'Office');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (56, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T14:40:00.000000Z', 'photos', 'The photo at M1 cut/cut was looked at.', '{}', '81c4eee593bd521b9a8c26afffaf376cb9a4b9845eead925bbd88a2b44f3898f');
