-- A step ticked for its own plan.
INSERT INTO lowering_looks (build, place, looked, ticked, note, at, by, plan)
    VALUES ('0190a000-0000-7000-8000-000000000010', 'step/holes', '[]', '["done"]', '', '2031-02-03T14:04:00.000000Z', 'Fabricator', '9f2c');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (52, '0190a000-0000-7000-8000-000000000010', 'Fabricator', '2031-02-03T14:04:00.000000Z', 'lowering', 'A step was ticked.', '{}', '964aa272786a33e3ca8635ace56aa491dc1b479e85f1520a4b73dc81879f9420');
