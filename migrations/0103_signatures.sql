-- The public keys by which the shop signed packets (OpenSSH, one line), from when each was recorded; the newest is the one in
-- use. The private key lies in the folder's keys and never here.
CREATE TABLE signing_keys (
    number   INTEGER PRIMARY KEY,
    public   TEXT NOT NULL,
    recorded TEXT NOT NULL,
    by       TEXT NOT NULL
) STRICT;
CREATE TRIGGER signing_keys_stay BEFORE DELETE ON signing_keys BEGIN SELECT RAISE(ABORT, 'a key that was used stays'); END;
CREATE TRIGGER signing_keys_keep BEFORE UPDATE ON signing_keys BEGIN SELECT RAISE(ABORT, 'a key that was used never changes'); END;
-- The detached signature of a round's packet (OpenSSH PROTOCOL.sshsig, armoured, namespace "file"). A round that was issued
-- before there were any has none.
CREATE TABLE round_signatures (
    round     TEXT PRIMARY KEY REFERENCES rounds (id),
    key       INTEGER NOT NULL REFERENCES signing_keys (number),
    signature TEXT NOT NULL
) STRICT;
CREATE TRIGGER round_signatures_stay BEFORE DELETE ON round_signatures BEGIN SELECT RAISE(ABORT, 'a signature stays'); END;
CREATE TRIGGER round_signatures_keep BEFORE UPDATE ON round_signatures BEGIN SELECT RAISE(ABORT, 'a signature never changes'); END;
