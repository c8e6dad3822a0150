-- Two drafts of a book, one of them set aside, with every save.
INSERT INTO book_drafts (id, begun_from, version, toml, at, by, became, set_aside)
    VALUES ('0190a000-0000-7000-8000-0000000000b0', '0190a000-0000-7000-8000-000000000020', 1, '[book]
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
', '2031-02-03T12:26:00.000000Z', 'Office', NULL, NULL);
INSERT INTO book_draft_saves (draft, version, toml, at, by, what)
    VALUES ('0190a000-0000-7000-8000-0000000000b0', 1, '[book]
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
', '2031-02-03T12:26:00.000000Z', 'Office', 'A draft was begun.');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (37, NULL, 'Office', '2031-02-03T12:26:00.000000Z', 'rule_books', 'A draft was begun.', '{}', 'dad821abaed21f7716d1d4a3b15dff51d819ea98c67ba4fab31270c4506431ef');
INSERT INTO book_drafts (id, begun_from, version, toml, at, by, became, set_aside)
    VALUES ('0190a000-0000-7000-8000-0000000000b1', NULL, 1, '[book]', '2031-02-03T12:26:00.000000Z', 'Office', NULL, 'Begun twice.');
INSERT INTO book_draft_saves (draft, version, toml, at, by, what)
    VALUES ('0190a000-0000-7000-8000-0000000000b1', 1, '[book]', '2031-02-03T12:26:00.000000Z', 'Office', 'A draft was begun.');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (38, NULL, 'Office', '2031-02-03T12:26:00.000000Z', 'rule_books', 'A draft was begun.', '{}', 'df6d7ede76bb030de9afb5d9e51b76375ec7430afead5c01df4acc0afab1ab91');
