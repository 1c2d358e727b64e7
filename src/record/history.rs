//! A client's visits in time, and the view of them that may become public.

use chrono::NaiveDate;

use super::{ClientFile, Health, ServiceRecord};

/// One client with every visit, oldest first, at most one a day.
#[derive(Debug, Clone, PartialEq)]
pub struct History {
    /// The client.
    pub client: ClientFile,
    /// The visits, oldest first; never empty.
    pub visits: Vec<ServiceRecord>,
}

/// The view without health facts: all that a forecast, the care texts and a public page may see.
///
/// Built by [`History::shareable`], which empties every health field, so that nothing downstream can depend on one.
#[derive(Debug, Clone, PartialEq)]
pub struct Shareable(History);

impl History {
    /// The visit whose work is on the head now: the last one with a placement, else the last one.
    ///
    /// A visit for a trim or a test alone leaves the colour, and so the plan, as they were.
    #[must_use]
    pub fn latest(&self) -> &ServiceRecord {
        let worked = self.visits.iter().rev().find(|visit| !visit.placements.is_empty());
        worked.or(self.visits.last()).expect("a history holds at least one visit")
    }

    /// The day the client was last in the salon, for whatever reason.
    #[must_use]
    pub fn last_seen(&self) -> NaiveDate {
        self.visits.last().expect("a history holds at least one visit").date
    }

    /// The view without health facts.
    #[must_use]
    pub fn shareable(&self) -> Shareable {
        let mut bare = self.clone();
        bare.client.health = Health::default();
        for visit in &mut bare.visits {
            visit.health = Health::default();
            for placement in &mut visit.placements {
                // A confirmed excess of peroxide is an incident, and an incident is a health fact.
                placement.lightening.iter_mut().for_each(|step| step.confirmed_as_used = false);
                placement.toning.iter_mut().for_each(|pass| pass.confirmed_as_used = false);
            }
        }
        Shareable(bare)
    }
}

impl Shareable {
    /// The client, without health facts.
    #[must_use]
    pub fn client(&self) -> &ClientFile {
        &self.0.client
    }

    /// The visits, oldest first, without health facts.
    #[must_use]
    pub fn visits(&self) -> &[ServiceRecord] {
        &self.0.visits
    }

    /// The visit whose work is on the head now, without health facts; see [`History::latest`].
    #[must_use]
    pub fn latest(&self) -> &ServiceRecord {
        self.0.latest()
    }
}
