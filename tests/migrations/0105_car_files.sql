-- A car that came with its file: its book and a stick under the numbers of the shop that cut it, the key of that shop, what
-- the entries of its log were there, and an item of kit that was in a car which is not here.
INSERT INTO books (id, name, edition, toml, added, brought)
    SELECT '0190a000-0000-7000-8000-000000000181', name, edition, toml, '2030-01-09T08:00:00.000000Z', 1 FROM books
    WHERE id = '0190a000-0000-7000-8000-000000000020';
INSERT INTO sticks (id, balloon, outside_mm, wall_mm, printed, size, grade, heat, length_mm, length, given_to, added, by, brought)
    VALUES ('0190a000-0000-7000-8000-000000000182', 1, 40.0, 2.5, 'metric', '40 × 2.5 mm', 'seamless', '90210', 5000.0, '5 m', '0190a000-0000-7000-8000-000000000011', '2030-01-10T08:00:00.000000Z', 'Elsewhere', 1);
INSERT INTO kit (id, build, balloon, item, label, second_label, note, version, added, by)
    VALUES ('0190a000-0000-7000-8000-000000000183', '0190a000-0000-7000-8000-000000000011', 2, 'extinguisher', '{"standard":"SAMPLE-2","serial":"EX-7","made":"2030","ends_printed":null,"checked":null}', NULL, '', 1, '2031-02-03T15:20:00.000000Z', 'Elsewhere');
INSERT INTO kit_ways_brought (item, way, gone)
    VALUES ('0190a000-0000-7000-8000-000000000183', '{"item":"0190a000-0000-7000-8000-000000000183","stays":[{"build":"0190a000-0000-7000-8000-000000000180","car":"Yarrow Van","slug":"yarrow-van","item":{"id":"0190a000-0000-7000-8000-000000000184","number":4,"item":"extinguisher","label":{"standard":"SAMPLE-2","serial":"EX-7","made":"2030","ends_printed":null,"checked":null},"second_label":null,"note":"","version":1},"recorded":"2030-05-01T09:00:00Z","came":null,"went":["2030-09-01","It was sold."],"photos":[]},{"build":"0190a000-0000-7000-8000-000000000011","car":"Sorrel Pickup","slug":"sorrel-pickup","item":{"id":"0190a000-0000-7000-8000-000000000183","number":2,"item":"extinguisher","label":{"standard":"SAMPLE-2","serial":"EX-7","made":"2030","ends_printed":null,"checked":null},"second_label":null,"note":"","version":1},"recorded":"2031-02-03T15:20:00Z","came":"2030-09-01","went":null,"photos":[]}]}', 0);
INSERT INTO signing_keys (public, recorded, by, brought)
    VALUES ('ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAAIGB3XtEGGqZf5WdP0dFDdLxVPpeRoEgYcG2Bg2lTVUxM elsewhere', '', '', 1);
INSERT INTO log_brought (entry, number, before, hash) VALUES
    (7, 3, '0a00000000000000000000000000000000000000000000000000000000000000', '1a00000000000000000000000000000000000000000000000000000000000000'), (20, 5, '0b00000000000000000000000000000000000000000000000000000000000000', '1b00000000000000000000000000000000000000000000000000000000000000');
INSERT INTO car_files (build, slug, manifest, signature, public, loaded, by)
    VALUES ('0190a000-0000-7000-8000-000000000011', 'sorrel-pickup', '{}', '', 'ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAAIGB3XtEGGqZf5WdP0dFDdLxVPpeRoEgYcG2Bg2lTVUxM elsewhere', '2031-02-03T15:20:00.000000Z', 'Office');
