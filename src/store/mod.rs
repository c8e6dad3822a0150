//! One shop's rows and files.
