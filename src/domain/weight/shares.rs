//! A share of the whole car, as of an axle or a side, with its doubt.

/// A share of the whole car, 0 to 1, with its doubt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shared {
    /// The share.
    pub share: f64,
    /// One standard deviation of it.
    pub doubt: f64,
}

impl Shared {
    /// In words: "49.7 %".
    pub fn describe(&self) -> String {
        format!("{:.1} %", self.share * 100.0)
    }

    /// Two standard deviations of it in words.
    pub fn describe_doubt(&self) -> String {
        format!("{:.2} %", self.doubt * 200.0)
    }

    /// What is left to the whole car, with the same doubt.
    #[must_use]
    pub fn rest(&self) -> Self {
        Self { share: 1.0 - self.share, ..*self }
    }
}
