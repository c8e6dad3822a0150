-- A photograph that was kept although something was remarked of it, and what was ticked as seen in it.
INSERT INTO photos_said (number, capture, shot, what, words, said, by)
    VALUES (1, '0190a000-0000-7000-8000-000000000040', 'M1 cut/cut', 'kept so', 'Very dark in the middle.', '2031-02-03T14:50:00.000000Z', 'Fabricator'),
        (2, '0190a000-0000-7000-8000-000000000040', 'M1 cut/cut', 'seen', 'the saw''s cut', '2031-02-03T14:50:00.000000Z', 'Fabricator');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (57, '0190a000-0000-7000-8000-000000000010', 'Fabricator', '2031-02-03T14:50:00.000000Z', 'photos', 'The photo at M1 cut/cut is kept so, says Fabricator: Very dark in the middle.', '{}', 'f5e89a3ca53294eb3431ef1e4b60afdaaff1ac0ecbed3adb0447d021b4126200');
