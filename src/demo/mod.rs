//! The drawn shop.
