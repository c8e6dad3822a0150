-- The car's own dates, each as exactly as its papers say it.
INSERT INTO car_dates (build, registered, homologated, log_book, at, by)
    VALUES ('0190a000-0000-7000-8000-000000000010', '2006-10', NULL, '2007-03-02', '2031-02-03T11:30:00.000000Z', 'Office');
INSERT INTO log (number, build, by, at, room, what, detail, hash)
    VALUES (28, '0190a000-0000-7000-8000-000000000010', 'Office', '2031-02-03T11:30:00.000000Z', 'car_dates', 'The car''s dates were recorded.', '{}', 'ef203fc075658941d72ef0f003c5ad5ae1eed386f97d2af9936e9db748eab6d6');
