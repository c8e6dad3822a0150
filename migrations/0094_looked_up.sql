-- What is looked up with every sheet, and grows with the shop.
CREATE INDEX notes_of_build ON notes (build);
CREATE INDEX answers_of_question ON answers (question);
CREATE INDEX replies_of_round ON replies (round);
CREATE INDEX sessions_of_person ON sessions (person);
CREATE INDEX sticks_given_to ON sticks (given_to);
CREATE INDEX book_moves_of_build ON book_moves (build);
