//! A place of the body in words, and the same place on the other side of the car.

use crate::domain::cage::lay::by_hand::negated;
use crate::domain::cage::parts::Cage;
use crate::domain::cage::record::body::{BodyPlace, Taken};
use crate::domain::cage::record::key_words::words;

impl BodyPlace {
    /// How it was taken, every length as typed.
    pub fn describe(&self) -> String {
        match &self.taken {
            Taken::Gap { on, at, gap } => format!("{} from the {}, {}", gap.text, words(on), at.describe()),
            Taken::Point { forward, left, up } => {
                format!("{} forward, {} left of the centre, {} up", forward.text, left.text, up.text)
            }
        }
    }

    /// The same on the other side of the car, with the next number; none where it lies on the centre plane itself.
    ///
    /// # Errors
    /// A sentence, where the other side lacks the bar that the gap was measured on.
    pub fn mirrored(&self, cage: &Cage) -> Result<Option<Self>, String> {
        let taken = match &self.taken {
            Taken::Gap { on, at, gap } => {
                let (on, at) = at.mirrored(on, cage)?;
                Taken::Gap { on, at, gap: gap.clone() }
            }
            Taken::Point { forward, left, up } => {
                Taken::Point { forward: forward.clone(), left: negated(left), up: up.clone() }
            }
        };
        let centred = matches!(&self.taken, Taken::Point { left, .. } if left.value.mm() == 0.0);
        let own = centred || taken == self.taken;
        Ok((!own).then(|| Self { number: self.number.saturating_add(1), part: self.part, taken }))
    }
}
