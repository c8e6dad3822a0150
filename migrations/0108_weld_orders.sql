-- The order in which the office wants a cage welded; the newest counts. JSON: the joints and feet that were left then, or null
-- where it is to be as suggested again.
CREATE TABLE weld_orders (
    number  INTEGER PRIMARY KEY,
    build   TEXT NOT NULL REFERENCES builds (id),
    version INTEGER NOT NULL CHECK (version > 0),
    joints  TEXT NOT NULL,
    at      TEXT NOT NULL,
    by      TEXT NOT NULL,
    UNIQUE (build, version)
) STRICT;
CREATE TRIGGER weld_orders_keep BEFORE UPDATE ON weld_orders BEGIN SELECT RAISE(ABORT, 'an order of welding never changes'); END;
CREATE TRIGGER weld_orders_stay BEFORE DELETE ON weld_orders BEGIN SELECT RAISE(ABORT, 'an order of welding stays'); END;
