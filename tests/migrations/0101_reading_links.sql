-- A round that is read by a link, another link that was withdrawn, and a reply that came by the first.
INSERT INTO reading_links (id, round, secret, reader, made, by, ends, withdrawn, withdrawn_by)
    VALUES ('0190a000-0000-7000-8000-0000000000c1', '0190a000-0000-7000-8000-0000000000a0', '0a3f5c7e9b1d2f4a6c8e0b3d5f7a9c1e2d4f6a8b0c3e5d7f9a1b2c4d6e8f0a1b', 'the scrutineer', '2031-02-03T15:00:00.000000Z', 'Office', '2031-02-17T15:00:00.000000Z', '', ''),
        ('0190a000-0000-7000-8000-0000000000c2', '0190a000-0000-7000-8000-0000000000a0', '1b4f6d8e0c2a3f5b7d9e1c4f6a8b0d2e3f5a7c9b1d4e6f8a0b2c3d5e7f9a1b2c', 'another', '2031-02-03T15:01:00.000000Z', 'Office', '2031-02-06T15:01:00.000000Z', '2031-02-03T15:02:00.000000Z', 'Office');
INSERT INTO replies (id, round, decision, words, given_by, received, by, answers, came, licence)
    VALUES ('0190a000-0000-7000-8000-000000000175', '0190a000-0000-7000-8000-0000000000a0', 'not yet', 'Later.', 'A. Reader', '2031-02-03T15:05:00.000000Z', 'the scrutineer, by reading link', '', 'reading link', 'licence 12');
