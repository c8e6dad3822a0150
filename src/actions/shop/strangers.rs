//! What somebody who is not signed in may ask for: guesses from one address, and how many wait to be signed in at once.

use std::collections::HashMap;
use std::net::{IpAddr, Ipv6Addr};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use jiff::SignedDuration;
use tokio::sync::{OwnedSemaphorePermit, Semaphore};

use crate::actions::error::ActionError;
use crate::clock::Clock;

/// Guesses that an address has before it waits, and how long until it has another (own choice: a shop behind one address
/// goes on signing in; what does not guess gets its guess back).
const GUESSES: u32 = 20;
const ANOTHER: Duration = Duration::from_secs(6);
/// Most that wait to be signed in at once (own choice: at two hashes at a time they are through within two seconds).
const WAITING: usize = 64;
/// Most addresses that are remembered.
const ADDRESSES: usize = 4_096;

/// The door that strangers stand at. Cheap to clone; clones are the same door.
#[derive(Debug, Clone)]
pub struct Strangers {
    waiting: Arc<Semaphore>,
    guessed: Arc<Mutex<HashMap<IpAddr, Guessed>>>,
}

/// What an address used up, and up to when that is counted.
#[derive(Debug, Clone, Copy)]
struct Guessed {
    used: Duration,
    at: Duration,
}

/// A stranger's turn: a guess of their address, counted before anything is looked at, and a place to wait in.
#[derive(Debug)]
pub struct Turn {
    guessed: Arc<Mutex<HashMap<IpAddr, Guessed>>>,
    address: IpAddr,
    _place: OwnedSemaphorePermit,
}

impl Default for Strangers {
    fn default() -> Self {
        Self { waiting: Arc::new(Semaphore::new(WAITING)), guessed: Arc::default() }
    }
}

impl Strangers {
    /// Counts a guess from an address and gives it a place.
    ///
    /// # Errors
    /// `Wait` where the address guessed too often, `Busy` where no place is left.
    pub fn turn(&self, address: IpAddr, clock: &Clock) -> Result<Turn, ActionError> {
        let (address, now) = (counted_as(address), clock.steady());
        let place = Arc::clone(&self.waiting).try_acquire_owned().map_err(|_| ActionError::Busy)?;
        let mut guessed = self.guessed.lock().unwrap_or_else(PoisonError::into_inner);
        let used = guessed.get(&address).map_or(Duration::ZERO, |guessed| guessed.left(now));
        let over = (used + ANOTHER).saturating_sub(ANOTHER * GUESSES);
        if !over.is_zero() {
            return Err(ActionError::Wait(SignedDuration::try_from(over).unwrap_or(SignedDuration::MAX)));
        }
        if guessed.len() >= ADDRESSES && !guessed.contains_key(&address) {
            guessed.retain(|_, one| !one.left(now).is_zero());
            let least = guessed.iter().min_by_key(|(_, one)| one.left(now)).map(|(address, _)| *address);
            if let Some(least) = least.filter(|_| guessed.len() >= ADDRESSES) {
                guessed.remove(&least);
            }
        }
        guessed.insert(address, Guessed { used: used + ANOTHER, at: now });
        drop(guessed);
        Ok(Turn { guessed: Arc::clone(&self.guessed), address, _place: place })
    }
}

impl Guessed {
    fn left(self, now: Duration) -> Duration {
        self.used.saturating_sub(now.saturating_sub(self.at))
    }
}

impl Turn {
    /// It was no guess: the address has it back.
    pub fn was_right(self) {
        let mut guessed = self.guessed.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(one) = guessed.get_mut(&self.address) {
            one.used = one.used.saturating_sub(ANOTHER);
        }
    }
}

/// One household of addresses is one: of the sixth version the network counts, whose addresses a machine takes as it likes
/// (RFC 8981).
fn counted_as(address: IpAddr) -> IpAddr {
    match address.to_canonical() {
        IpAddr::V6(six) => {
            let [one, two, three, four, ..] = six.segments();
            Ipv6Addr::new(one, two, three, four, 0, 0, 0, 0).into()
        }
        four @ IpAddr::V4(_) => four,
    }
}

#[cfg(test)]
mod tests {
    use std::net::IpAddr;

    use jiff::SignedDuration;

    use super::{ADDRESSES, GUESSES, Strangers, WAITING, counted_as};
    use crate::actions::error::ActionError;
    use crate::clock::Clock;

    fn clock(seconds: i64) -> Clock {
        let noon: jiff::Timestamp = "2026-05-04T12:00:00Z".parse().unwrap();
        Clock::held_at(noon + SignedDuration::from_secs(seconds))
    }

    #[test]
    fn an_address_waits_after_its_guesses_and_no_other_does() {
        let (strangers, one) = (Strangers::default(), IpAddr::from([192, 0, 2, 1]));
        for _ in 0..GUESSES {
            strangers.turn(one, &clock(0)).unwrap();
        }
        let said = strangers.turn(one, &clock(0));
        assert!(matches!(said, Err(ActionError::Wait(left)) if left.as_secs() == 6), "{said:?}");
        strangers.turn(IpAddr::from([192, 0, 2, 2]), &clock(0)).unwrap();
        strangers.turn(one, &clock(6)).unwrap();
        assert!(strangers.turn(one, &clock(6)).is_err());
        // a day later it has no more of them than at first
        assert_eq!((0..99).filter(|_| strangers.turn(one, &clock(86_400)).is_ok()).count(), GUESSES as usize);
    }

    #[test]
    fn who_signs_in_rightly_never_waits() {
        let strangers = Strangers::default();
        for _ in 0..200 {
            strangers.turn(IpAddr::from([192, 0, 2, 1]), &clock(0)).unwrap().was_right();
        }
    }

    #[test]
    fn beyond_the_places_nobody_waits() {
        let strangers = Strangers::default();
        let came = |number: u8| strangers.turn(IpAddr::from([192, 0, 2, number]), &clock(0));
        let inside: Vec<_> = (0..WAITING).filter_map(|number| came(u8::try_from(number).unwrap()).ok()).collect();
        assert_eq!(inside.len(), WAITING);
        assert!(matches!(came(200), Err(ActionError::Busy)));
        drop(inside);
        assert!(came(200).is_ok());
    }

    #[test]
    fn a_network_of_the_sixth_version_is_one_and_no_flood_of_them_fills_the_memory() {
        let net = |text: &str| counted_as(text.parse().unwrap());
        assert_eq!(net("2001:db8:1:2::1"), net("2001:db8:1:2:ffff::9"));
        assert_ne!(net("2001:db8:1:2::1"), net("2001:db8:1:3::1"));
        assert_eq!(net("::ffff:192.0.2.1"), IpAddr::from([192, 0, 2, 1]));
        let strangers = Strangers::default();
        for number in 0..u32::try_from(ADDRESSES).unwrap() + 50 {
            strangers.turn(IpAddr::from(number.to_be_bytes()), &clock(0)).unwrap();
        }
        assert_eq!(strangers.guessed.lock().unwrap().len(), ADDRESSES);
    }
}
