-- The build was begun from another car's file.
INSERT INTO patterns (build, car, list, public, figures, at, by)
    VALUES ('0190a000-0000-7000-8000-000000000010', 'Oak Van', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855', 'ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAAIOakVanKeyOfNobodyForASampleRowOnlyAAAAAAAA', '{}', '2031-02-03T15:30:00.000000Z', 'Office');
