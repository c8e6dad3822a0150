//! A build with another cage and all else the same: one that is typed and not stored, or the one before the last save.

use jiff::Timestamp;

use crate::domain::cage::CageRecord;
use crate::domain::recorded::facts::{BuildFacts, CageText, EarlierCage, InForce};

impl BuildFacts {
    /// The facts as a save of this record would leave them, its parts numbered as a save numbers them. `since` is the moment
    /// at which the cage that stands was saved: what is photographed or measured since is of that one. An error where the
    /// cage that stands does not read.
    pub fn with_cage(&self, record: &CageRecord, since: Option<Timestamp>) -> Result<Self, String> {
        let before = self.cage.as_ref().map(CageText::record).transpose()?.unwrap_or_default();
        let numbered = if self.may_number_anew(&before) { record.numbered_anew() } else { record.numbered() };
        let json = serde_json::to_string(&numbered).map_err(|error| error.to_string())?;
        let version = self.cage.as_ref().map_or(0, |cage| cage.version);
        let mut other = self.clone();
        let while_it_was = InForce { version, from: since, until: Timestamp::MAX };
        other.earlier_cages.push(EarlierCage { cage: self.cage.clone(), while_it_was });
        other.cage = Some(CageText { json, version: version + 1 });
        Ok(other)
    }

    /// The facts with the cage that stood before the last save, none before the first.
    #[must_use]
    pub fn with_cage_before(&self, before: Option<&CageText>) -> Self {
        let version = before.map_or(0, |cage| cage.version);
        let mut other = self.clone();
        other.earlier_cages.retain(|earlier| earlier.while_it_was.version < version);
        other.cage = before.cloned();
        other
    }
}
