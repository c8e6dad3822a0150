-- A shop of the first program: two vehicles, one of them with a book; figures stand as they were typed then, without a unit.
INSERT INTO setup_links (token_hash, made, used)
    VALUES ('b1b1bdb480c61d075300d9bff7d9cb69cf31695ea048e478facadf426e8d0fb0', '2031-02-03T08:07:00.000000Z', '2031-02-03T08:07:00.000000Z');
INSERT INTO people (id, name, role, password, added)
    VALUES ('0190a000-0000-7000-8000-000000000001', 'Office', 'office', '$argon2id$v=19$m=19456,t=2,p=1$c2FtcGxlIHNhbHQgaGVyZQ$bm9ib2R5IHNpZ25zIGluIGJ5IHRoaXMgc2FtcGxlISE', '2031-02-03T08:14:00.000000Z');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (1, NULL, 'Office', '2031-02-03T08:14:00.000000Z', 'people', 'Office was added, office.', '{"name":"Office","role":"office"}', '43306b8f85d525f5cd1e41100275e026f70b28117ffac71d44a4a6746cd5543d');
INSERT INTO people (id, name, role, password, added)
    VALUES ('0190a000-0000-7000-8000-000000000002', 'Fabricator', 'fabricator', '$argon2id$v=19$m=19456,t=2,p=1$c2FtcGxlIHNhbHQgaGVyZQ$bm9ib2R5IHNpZ25zIGluIGJ5IHRoaXMgc2FtcGxlISE', '2031-02-03T08:21:00.000000Z');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (2, NULL, 'Office', '2031-02-03T08:21:00.000000Z', 'people', 'Fabricator was added, fabricator.', '{"name":"Fabricator","role":"fabricator"}', '3647f21c316fd70abcfd0fc4466610fcf80a145554ba4cbe6dd9fcfc2eed63a5');
INSERT INTO people (id, name, role, password, added)
    VALUES ('0190a000-0000-7000-8000-000000000003', 'Scrutineer', 'scrutineer', '$argon2id$v=19$m=19456,t=2,p=1$c2FtcGxlIHNhbHQgaGVyZQ$bm9ib2R5IHNpZ25zIGluIGJ5IHRoaXMgc2FtcGxlISE', '2031-02-03T08:28:00.000000Z');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (3, NULL, 'Office', '2031-02-03T08:28:00.000000Z', 'people', 'Scrutineer was added, scrutineer.', '{"name":"Scrutineer","role":"scrutineer"}', 'a1941a7105f669d4b38a82b34a6717ccba73a33e3bfe52d23d93ab88298ccc2a');
INSERT INTO people (id, name, role, password, added, removed)
    VALUES ('0190a000-0000-7000-8000-000000000004', 'Helper', 'fabricator', '$argon2id$v=19$m=19456,t=2,p=1$c2FtcGxlIHNhbHQgaGVyZQ$bm9ib2R5IHNpZ25zIGluIGJ5IHRoaXMgc2FtcGxlISE', '2031-02-03T08:35:00.000000Z', '2031-02-03T08:35:00.000000Z');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (4, NULL, 'Office', '2031-02-03T08:35:00.000000Z', 'people', 'Helper was removed.', '{}', '18270f3f72af1b578a95b1113c04595792e90a4c3b0b1bf44096082171d728da');
INSERT INTO sessions (token_hash, person, begun, seen)
    VALUES ('3f3af1ecebbd1410ab417ec0d27bbfcb5d340e177ae159b59fc8626c2dfd9175', '0190a000-0000-7000-8000-000000000002', '2031-02-03T08:42:00.000000Z', '2031-02-03T08:42:00.000000Z');
INSERT INTO sign_in_failures (name_hash, failures, latest)
    VALUES ('6382b3cc881412b77bfcaeed026001c00d9e3025e66c20f6e7e92f079851462a', 2, '2031-02-03T08:42:00.000000Z');
INSERT INTO books (id, name, edition, toml, added)
    VALUES ('0190a000-0000-7000-8000-000000000020', 'Sample Rules', 'first', '[book]
name = "Sample Rules"
body = "Sample League"
edition = "first"
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
', '2031-02-03T08:49:00.000000Z');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (5, NULL, 'Office', '2031-02-03T08:49:00.000000Z', 'rule_books', 'Sample Rules, first, was added.', '{}', 'b70b29f48450d51a16541c1f2dfcbfd03a1ad49415010f0d087b407c8882d8f1');
INSERT INTO builds (id, slug, name, about, book, event_day, version)
    VALUES ('0190a000-0000-7000-8000-000000000010', 'rowan-coupe', 'Rowan Coupe', 'Two doors, stripped.', '0190a000-0000-7000-8000-000000000020', '2031-06-14', 1);
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (6, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T08:56:00.000000Z', 'builds', 'Rowan Coupe was begun.', '{}', 'f32ce67896e4c17229a14cb5d3226c934ad8800d87d8e70c61412a73abb4d5ad');
INSERT INTO builds (id, slug, name, about, book, event_day, version)
    VALUES ('0190a000-0000-7000-8000-000000000011', 'sorrel-pickup', 'Sorrel Pickup', '', NULL, NULL, 1);
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (7, '0190a000-0000-7000-8000-000000000011', 'Office', '2031-02-03T09:03:00.000000Z', 'builds', 'Sorrel Pickup was begun.', '{}', '3cfe057fe90e53a922d5b74a67b2ccf8d6a982bc1b7dfe57b255e7d84e949efa');
INSERT INTO weigh_ins (id, build, balloon, left_front_kg, left_front, right_front_kg, right_front, left_rear_kg, left_rear, right_rear_kg, right_rear, resolution_kg, resolution, conditions, note, day, by)
    VALUES ('0190a000-0000-7000-8000-000000000030', '0190a000-0000-7000-8000-000000000010', 1, 280.5, '280.5', 277.0, '277', 269.5, '269.5 kg', 124.73790175, '275 lb', 0.5, '0.5', '["crew out"]', 'Zeroed empty.', '2031-02-03', 'Office');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (8, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T09:10:00.000000Z', 'weigh_in', 'The car was weighed.', '{"weigh_in":1}', '225760f83e0094582d7c0ccdb646ab60f35d0bcc2f26f844a9e74625a286c95e');
INSERT INTO cages (build, json, version)
    VALUES ('0190a000-0000-7000-8000-000000000010', '{"measures":{"hoop_feet_width":{"value":1215.0,"text":"1215"},"hoop_shoulder_width":{"value":1285.0,"text":"1285"},"hoop_shoulder_height":{"value":505.0,"text":"505"},"hoop_roof_width":{"value":1000.0,"text":"1000"},"hoop_roof_height":{"value":1120.0,"text":"1120"},"hoop_lean":{"value":34.0,"text":"34"},"roof_inside":{"value":1156.0,"text":"1156"},"front_foot_forward_left":{"value":1160.0,"text":"1160"},"front_foot_out_left":{"value":655.0,"text":"655"},"knee_forward_left":{"value":1076.0,"text":"1076"},"knee_out_left":{"value":660.0,"text":"660"},"knee_up_left":{"value":672.0,"text":"672"},"screen_corner_forward_left":{"value":694.0,"text":"694"},"screen_corner_out_left":{"value":486.0,"text":"486"},"screen_corner_up_left":{"value":1066.0,"text":"1066"},"backstay_foot_back_left":{"value":852.0,"text":"852"},"backstay_foot_out_left":{"value":474.0,"text":"474"},"backstay_foot_up_left":{"value":386.0,"text":"386"}},"options":{"hoop_diagonal":"one","roof_diagonal":"none","backstay_diagonal":"none","through":"left","door_left":"one","door_right":"one","door_through":"high_at_hoop","sill_bars":false,"harness_bar":false,"dash_bar":false,"hoop_cross_bar":false,"pillar_struts":false,"seat_cross_bars":0},"plates":{"main_hoop":{"side_a":{"value":125.0,"text":"125"},"side_b":{"value":100.0,"text":"100"},"thickness":{"value":3.0,"text":"3"},"fixed":"welded"}},"gussets":[],"bend_radius":{"hoop":{"value":130.0,"text":"130"},"other":{"value":115.0,"text":"115"}},"tubes":{},"numbers":{"main-hoop":"M1"}}', 1);
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (9, '0190a000-0000-7000-8000-000000000010', 'Fabricator', '2031-02-03T09:17:00.000000Z', 'cage', 'The cage was measured.', '{"version":1}', 'a5c9b9012eeb27a2147ad2cfc029ce9989b9dad99eff85b3ed9c2cee1e14b724');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (10, '0190a000-0000-7000-8000-000000000010', 'Fabricator', '2031-02-03T09:24:00.000000Z', 'photos', 'A photo arrived.', '{"capture":"0190a000-0000-7000-8000-000000000040","sha256":"96210597a3cedee79899b4b1a5068078e7ac45d7489f7ceeb69383db21f322a5","shot":"M1 cut/cut"}', 'bfdfbb6b849b9c7b14812068cca56aa3741042b4d4b57456f975c3fefb5a63ee');
INSERT INTO photos (capture, build, shot, note, sha256, size, taken_claim, declared, by, received, entry, width, height, remarks)
    VALUES ('0190a000-0000-7000-8000-000000000040', '0190a000-0000-7000-8000-000000000010', 'M1 cut/cut', 'by the saw', '96210597a3cedee79899b4b1a5068078e7ac45d7489f7ceeb69383db21f322a5', 178353, '2031-02-03T09:00:00Z', '2031-02-03T09:24:00.000000Z', 'Fabricator', '2031-02-03T09:24:00.000000Z', 10, 1280, 960, '["dark"]');
INSERT INTO photos (capture, build, shot, note, sha256, size, declared, by)
    VALUES ('0190a000-0000-7000-8000-000000000041', '0190a000-0000-7000-8000-000000000010', 'J1 joint/above', '', 'e5a5555d73bc0e1568d65563abf327bd6c0b9b9dc3336e86e0b17e865e9ee6d2', 99, '2031-02-03T09:31:00.000000Z', 'Fabricator');
INSERT INTO photos (capture, build, shot, note, sha256, size, declared, by, withdrawn, withdrawn_by, withdrawn_why)
    VALUES ('0190a000-0000-7000-8000-000000000042', '0190a000-0000-7000-8000-000000000010', '', '', '9b73ce2e5c72e9c8eb35ae3f509ef901b26ed3e9811f0782f3633cceab140918', 77, '2031-02-03T09:31:00.000000Z', 'Fabricator', '2031-02-03T09:31:00.000000Z', 'Office', 'Not of this car.');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (11, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T09:31:00.000000Z', 'photos', 'A photo was withdrawn.', '{"capture":"0190a000-0000-7000-8000-000000000042"}', 'eeb917db5188d352d729f5522c831f5a014f411c85995041a4955f18e22eab1e');
INSERT INTO sticks (id, balloon, outside_mm, wall_mm, printed, size, grade, heat, length_mm, length, certificate, given_to, added, by)
    VALUES ('0190a000-0000-7000-8000-000000000050', 1, 42.4, 2.6, 'metric', '42.4 × 2.6 mm', 'seamless, E355', '64521', 6000.0, '6 m', '0190a000-0000-7000-8000-000000000040', '0190a000-0000-7000-8000-000000000010', '2031-02-03T09:38:00.000000Z', 'Office');
INSERT INTO sticks (id, balloon, outside_mm, wall_mm, printed, size, grade, heat, length_mm, length, added, by)
    VALUES ('0190a000-0000-7000-8000-000000000051', 2, 44.45, 2.413, 'inch', '1 3/4 × .095 in', 'seamless', '', 6096.0, '20 ft', '2031-02-03T09:38:00.000000Z', 'Office');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (12, NULL, 'Office', '2031-02-03T09:38:00.000000Z', 'stock', 'Two sticks were added.', '{}', 'f167b8b1fdc8f1c67a0ceb97b703fb24cbfb7a28cfdd1c09a8dc5cbe1994f8cb');
INSERT INTO cuts (build, member, stick, at, by)
    VALUES ('0190a000-0000-7000-8000-000000000010', 'M1', '0190a000-0000-7000-8000-000000000050', '2031-02-03T09:45:00.000000Z', 'Fabricator');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (13, '0190a000-0000-7000-8000-000000000010', 'Fabricator', '2031-02-03T09:45:00.000000Z', 'stock', 'M1 was cut from S1.', '{}', 'cc5672912e47433c4b1bb5ad206a45375012822312c047664d516e6279439607');
INSERT INTO measured (build, measure, of_balloon, value, text, at, by)
    VALUES ('0190a000-0000-7000-8000-000000000010', 'plate thickness', 'P1', 3.0, '3', '2031-02-03T09:52:00.000000Z', 'Fabricator');
INSERT INTO measured (build, measure, of_balloon, value, text, at, by)
    VALUES ('0190a000-0000-7000-8000-000000000010', 'bend angle', 'M1', 1.5707963267948966, '90', '2031-02-03T09:52:00.000000Z', 'Fabricator');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (14, '0190a000-0000-7000-8000-000000000010', 'Fabricator', '2031-02-03T09:52:00.000000Z', 'measures', 'Two figures were read off the car.', '{}', '6963969117502db94436514e1c3fb6d5f8c368b723b763fca26f80e42ebcb9d1');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (15, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T09:59:00.000000Z', 'notes', 'A line was written in the log.', '{}', '929d24de051c86ad75f12da8edfe2b837b5d59d3213d6a6cfd7dadd3e555ee53');
INSERT INTO notes (id, build, day, text, hours, cost_minor, waiting_on, written, by)
    VALUES ('0190a000-0000-7000-8000-000000000060', '0190a000-0000-7000-8000-000000000010', '2031-02-03', 'Stripped and cleaned.', 11.5, 12050, 'the tube merchant', '2031-02-03T09:59:00.000000Z', 'Fabricator');
INSERT INTO notes (id, build, day, text, waiting_on, written, by)
    VALUES ('0190a000-0000-7000-8000-000000000061', '0190a000-0000-7000-8000-000000000011', '2031-02-03', 'Came in on a trailer.', '', '2031-02-03T09:59:00.000000Z', 'Office');
INSERT INTO rounds (id, build, round, issue_key, contents, contents_sha256, packet_sha256, as_of, issued, by)
    VALUES ('0190a000-0000-7000-8000-000000000070', '0190a000-0000-7000-8000-000000000010', 1, '0190a000-0000-7000-8000-000000000071', '{"tackbook_round":1,"build":"rowan-coupe","round":1,"as_of":15,"log_head":"929d24de051c86ad75f12da8edfe2b837b5d59d3213d6a6cfd7dadd3e555ee53","book":["Sample Rules","first","641a4985944068fac8edab30f8bc467d85c8fdb2c1dcff0dbf1000846b7c24f5"],"parts":{"C1":["Rowan Coupe"]},"photos":{"M1":["96210597a3cedee79899b4b1a5068078e7ac45d7489f7ceeb69383db21f322a5"]},"verdicts":{},"questions":{}}', 'c3b1220b7813e8f3b44b0d1de1ccc57d7c8c8f742b4589243a5548a2560160bd', '7c20d86675c5303deb7b35a4c19eefe3e7e792f995f0ebc313bc759fc22f999c', 15, '2031-02-03T10:06:00.000000Z', 'Office');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (16, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T10:06:00.000000Z', 'rounds', 'Round 1 was issued.', '{}', '99007ec0b1ec1fbf9c84202437955007ea2236921a0b6956037d6a1972658eff');
INSERT INTO replies (id, round, decision, words, given_by, received, by)
    VALUES ('0190a000-0000-7000-8000-000000000072', '0190a000-0000-7000-8000-000000000070', 'not yet', 'Show the plates.', 'Scrutineer', '2031-02-03T10:13:00.000000Z', 'Office');
INSERT INTO questions (id, build, balloon, about, text, reply, asked, by)
    VALUES ('0190a000-0000-7000-8000-000000000080', '0190a000-0000-7000-8000-000000000010', 1, 'M1', 'Which stick is it from?', '0190a000-0000-7000-8000-000000000072', '2031-02-03T10:13:00.000000Z', 'Office');
INSERT INTO questions (id, build, balloon, about, text, reply, asked, by, settled)
    VALUES ('0190a000-0000-7000-8000-000000000081', '0190a000-0000-7000-8000-000000000010', 2, NULL, 'Is it still a coupe?', NULL, '2031-02-03T10:13:00.000000Z', 'Fabricator', '2031-02-03T10:13:00.000000Z');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (17, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T10:13:00.000000Z', 'rounds', 'The reply to round 1 was recorded: not yet.', '{}', '5f8002bebdc55fb2aa0fe2d36f4477acdccc9770c941c767681a63cd674440f9');
INSERT INTO answers (question, text, capture, given, by)
    VALUES ('0190a000-0000-7000-8000-000000000080', 'From S1, see its cut.', '0190a000-0000-7000-8000-000000000040', '2031-02-03T10:20:00.000000Z', 'Office');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (18, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T10:20:00.000000Z', 'questions', 'Question 1 was answered.', '{}', '41ca0309b97dd68b9f5c52bbd8ac10cb38185d085faf4bff3161bd359dc6eaf2');
INSERT INTO heartbeat (number, beats)
    VALUES (1, 3);
