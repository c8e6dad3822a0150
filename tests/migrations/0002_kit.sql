-- Kit with its labels, each date as its label prints it.
INSERT INTO kit (id, build, balloon, item, label, second_label, note, version, added, by)
    VALUES ('0190a000-0000-7000-8000-000000000090', '0190a000-0000-7000-8000-000000000010', 1, 'seat', '{"standard":"SAMPLE-1","serial":"SH-4406","made":"2029-07","ends_printed":null,"checked":null}', NULL, 'left', 1, '2031-02-03T10:27:00.000000Z', 'Fabricator');
INSERT INTO kit (id, build, balloon, item, label, second_label, note, version, added, by)
    VALUES ('0190a000-0000-7000-8000-000000000091', '0190a000-0000-7000-8000-000000000010', 2, 'extinguisher', '{"standard":"SAMPLE-2","serial":"EX-1","made":"2030","ends_printed":null,"checked":null}', '{"standard":"","serial":"","made":"2030-05-04","ends_printed":null,"checked":"2030-06-01"}', '', 2, '2031-02-03T10:27:00.000000Z', 'Fabricator');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (19, '0190a000-0000-7000-8000-000000000010', 'Fabricator', '2031-02-03T10:27:00.000000Z', 'kit', 'K1 and K2 were added.', '{}', '09c405b696b2bf9b6a0687a9754891f8f7684957a5cb657f21b5106bcd7a5a5d');
