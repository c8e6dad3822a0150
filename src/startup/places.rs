//! How many connections there may be: in all, and from one address.

use std::collections::HashMap;
use std::net::IpAddr;
use std::sync::{Arc, Mutex, PoisonError};

/// Most connections at once (own choice: with the files that are open beside them under the 1,024 that systems give a program).
const IN_ALL: usize = 640;
/// Most of one address (own choice: twenty browsers behind one, at six connections each).
const OF_ONE: usize = 128;

/// The places there are. Clones are the same ones.
#[derive(Debug, Clone, Default)]
pub(super) struct Places(Arc<Mutex<Taken>>);

#[derive(Debug, Default)]
struct Taken {
    in_all: usize,
    of: HashMap<IpAddr, usize>,
}

/// One of them, free again when it is dropped.
#[derive(Debug)]
pub(super) struct Place {
    places: Places,
    address: IpAddr,
}

impl Places {
    /// A place for another connection from an address; none where it has as many as it may, or all are taken.
    pub(super) fn take(&self, address: IpAddr) -> Option<Place> {
        let address = address.to_canonical();
        let mut taken = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let has = taken.of.get(&address).copied().unwrap_or_default();
        if has >= OF_ONE || taken.in_all >= IN_ALL {
            return None;
        }
        taken.in_all += 1;
        taken.of.insert(address, has + 1);
        Some(Place { places: self.clone(), address })
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        let mut taken = self.places.0.lock().unwrap_or_else(PoisonError::into_inner);
        taken.in_all -= 1;
        let left = taken.of.get(&self.address).map_or(0, |has| has - 1);
        if left == 0 {
            taken.of.remove(&self.address);
        } else {
            taken.of.insert(self.address, left);
        }
    }
}

#[cfg(test)]
mod tests {
    use std::net::IpAddr;

    use super::{IN_ALL, OF_ONE, Places};

    #[test]
    fn an_address_has_so_many_places_and_all_together_so_many() {
        let (places, one) = (Places::default(), IpAddr::from([192, 0, 2, 1]));
        let mut inside: Vec<_> = (0..OF_ONE).map(|_| places.take(one).unwrap()).collect();
        assert!(places.take(one).is_none() && places.take("::ffff:192.0.2.1".parse().unwrap()).is_none());
        for number in 2..=255 {
            inside.extend((0..OF_ONE).map_while(|_| places.take(IpAddr::from([192, 0, 2, number]))));
        }
        assert_eq!(inside.len(), IN_ALL);
        drop(inside);
        assert!(places.take(one).is_some());
        assert!(places.0.lock().unwrap().of.is_empty());
    }
}
