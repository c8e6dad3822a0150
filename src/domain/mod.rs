//! What the trade knows: data and pure functions, in the order they build on one another.
