-- A shot's history is found by what the log's entries on photographs name, not by reading the log.
CREATE INDEX log_of_shot ON log (build, detail ->> 'shot') WHERE room = 'photos' AND json_valid(detail);
CREATE INDEX log_of_shot_before ON log (build, detail ->> 'before') WHERE room = 'photos' AND json_valid(detail);
CREATE INDEX log_of_capture ON log (build, detail ->> 'capture') WHERE room = 'photos' AND json_valid(detail);
CREATE INDEX log_of_content ON log (build, detail ->> 'sha256') WHERE room = 'photos' AND json_valid(detail);
