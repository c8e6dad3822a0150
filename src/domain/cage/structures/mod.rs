//! The basic structures, each a function from tape measurements to bars.

pub(super) mod half_hoops;
