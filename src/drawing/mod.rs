//! Sheets of marks in millimetres: views, balloons, title blocks.
