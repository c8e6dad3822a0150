-- A draft that became an edition, and a build that was moved to it.
INSERT INTO books (id, name, edition, toml, added)
    VALUES ('0190a000-0000-7000-8000-000000000021', 'Sample Rules', 'second', '[book]
name = "Sample Rules"
body = "Sample League"
edition = "second"
valid_from = 2030-01-01
units = "metric"
source_note = "Invented for a test: no such league exists."

[weight]
id = "weighing"
clause = "1"
text_ours = "The car is weighed."
force = "must"
evidence = "figure"
sure = "invented for the demo"
edge_belongs_to = "lighter"
hoop_bars = ["main hoop", "lateral half hoop"]
conditions = [{ key = "crew out", words = "Nobody sits in the car." }]

[[weight_class]]
id = "class"
clause = "2"
text_ours = "Every car has bars of 42.4 × 2.6 mm, or more both ways."
force = "must"
evidence = "figure"
sure = "invented for the demo"
name = "all"
upto = 2000
unit = "kg"

[[weight_class.tube]]
use = "hoop"
outside = 42.4
wall = 2.6
unit = "mm"
made = ["seamless"]

[[weight_class.tube]]
use = "other"
outside = 42.4
wall = 2.6
unit = "mm"
made = ["seamless"]
', '2031-02-03T12:33:00.000000Z');
UPDATE book_drafts SET became = '0190a000-0000-7000-8000-000000000021' WHERE id = '0190a000-0000-7000-8000-0000000000b0';
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (39, NULL, 'Office', '2031-02-03T12:33:00.000000Z', 'rule_books', 'Sample Rules, second, may be used.', '{}', '045bd8fd34ead7f1720a6fc02b536191e3e518aaf751cd1b58d433209491c440');
UPDATE builds SET book = '0190a000-0000-7000-8000-000000000021', version = 2 WHERE id = '0190a000-0000-7000-8000-000000000010';
INSERT INTO book_moves (build, from_book, to_book, at, by, reason)
    VALUES ('0190a000-0000-7000-8000-000000000010', '0190a000-0000-7000-8000-000000000020', '0190a000-0000-7000-8000-000000000021', '2031-02-03T12:40:00.000000Z', 'Office', 'It is in force on the event day.');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (40, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T12:40:00.000000Z', 'rule_books', 'Rowan Coupe was moved to the second edition.', '{}', '8ab2970ef42215b6222ff036fcfcaca4d3f1bc0357924bb09a06f088335b3f17');
