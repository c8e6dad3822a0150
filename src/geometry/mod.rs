//! Points, tubes, bends and meetings in space, in millimetres.
