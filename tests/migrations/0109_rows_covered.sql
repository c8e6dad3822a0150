-- An entry that covers a row.
INSERT INTO log (number, build, by, at, room, what, detail, rows, hash)
    VALUES (58, NULL, 'Office', '2031-02-03T15:13:00.000000Z', 'welds', 'A line that a phone had kept was written.', '{}', '8cff4213127d92e6bd229e367fcba3512191e039dcf59bc3cd3c0c7d23ab67fc', '760322d09af101a6cd141add6be870042e2e04a0833fa483def20103811f31d2');
INSERT INTO log_rows (entry, place, name, before, after) VALUES (58, 1, 'welds_told', NULL, X'bb263139b13e0f6f986467bc1d0abf0d8c32063ea1378325bb5dbbd4f080d9bb');
