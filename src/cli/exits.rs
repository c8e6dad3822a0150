//! What a call gives back when it does not go well.

/// The work says no.
pub(super) const SAYS_NO: u8 = 1;
/// The call or the input was wrong.
pub(super) const WRONG_CALL: u8 = 2;
