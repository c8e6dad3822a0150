//! What people do, one function each.
