//! The one query that reads inside JSON, which each engine does in words of its own.

/// The entries on the photographs that are or were at a shot. Each part has an index of its own, which serves only a
/// query that repeats its condition, only where the log is told to come last (`CROSS JOIN`), and only for a value
/// whose column's type is laid aside (`+`).
pub(in crate::store) const OF_SHOT: &str = "
    WITH named (capture) AS (
        SELECT +capture FROM photos WHERE build = $1 AND shot = $2
        UNION SELECT detail ->> 'capture' FROM log
            WHERE build = $1 AND room = 'photos' AND json_valid(detail) AND detail ->> 'shot' = $2
        UNION SELECT detail ->> 'capture' FROM log
            WHERE build = $1 AND room = 'photos' AND json_valid(detail) AND detail ->> 'before' = $2
    ), content (sha256) AS (
        SELECT +sha256 FROM named CROSS JOIN photos ON photos.capture = named.capture WHERE build = $1
    )
    SELECT * FROM log WHERE number IN (
        SELECT number FROM named CROSS JOIN log ON detail ->> 'capture' = +named.capture
            WHERE build = $1 AND room = 'photos' AND json_valid(detail)
        UNION SELECT number FROM content CROSS JOIN log ON detail ->> 'sha256' = +content.sha256
            WHERE build = $1 AND room = 'photos' AND json_valid(detail)
    ) ORDER BY number DESC LIMIT $3";
