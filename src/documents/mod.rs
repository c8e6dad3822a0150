//! The papers: packet, cut list.
