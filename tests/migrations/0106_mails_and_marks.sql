-- The mail that a reply was typed from, and an answer that points at a photograph.
INSERT INTO reply_mails (reply, name, size, sha256, attached, by)
    VALUES ('0190a000-0000-7000-8000-000000000176', 'answer.eml', 900, 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855', '2031-02-03T15:12:00.000000Z', 'Office');
INSERT INTO reviewed (number, round, part, answer, remark, at, by, marks)
    VALUES (2, '0190a000-0000-7000-8000-0000000000a0', 'M1', 'question', 'This bend?', '2031-02-03T15:13:00.000000Z', 'Scrutineer', '[{"sha256":"e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855","across":350,"down":200}]');
