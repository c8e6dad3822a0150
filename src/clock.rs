//! The one clock: now, today, new ids.
