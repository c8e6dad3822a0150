//! Looking at photographs, making them small, drawing sheets as pixels.
