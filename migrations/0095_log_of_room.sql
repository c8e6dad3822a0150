-- What goes from build to build is looked for by its room: the last thing that happened to sticks and kit.
CREATE INDEX log_of_room ON log (room, number);
