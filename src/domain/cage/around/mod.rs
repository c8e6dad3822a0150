//! What is round a cage: the body beside its bars, who sits in it, and what follows from both.

pub mod body;
mod describe_body;
pub mod seats;

use self::body::{BodyAt, OfJoint};
use self::seats::SeatAt;
use super::parts::Cage;
use super::record::CageRecord;
use crate::domain::words::faults::Fault;
use crate::quantity::Length;

/// What is round a cage.
#[derive(Debug, Clone, PartialEq)]
pub struct Around {
    /// Where the body is, near the bars.
    pub body: Vec<BodyAt>,
    /// The ball taken for a torch's head, its radius.
    pub torch: Length,
    /// The room behind each joint.
    pub behind_joints: Vec<OfJoint>,
    /// Who sits in the car.
    pub seats: Vec<SeatAt>,
    /// The places that the cage does not have, or that lie within a tube.
    pub faults: Vec<Fault>,
}

impl Around {
    /// What is recorded of body and seats, round this cage: gaps count from the tubes that its bars have.
    pub fn of(record: &CageRecord, cage: &Cage) -> Self {
        let (body, mut faults) = body::places(cage, &record.body);
        faults.extend(body::faults(cage, &body));
        Self {
            torch: record.torch_radius.as_ref().map_or(body::TORCH, |torch| torch.value),
            behind_joints: body::near_joints(cage, &body),
            seats: seats::seats(cage, &record.seats),
            body,
            faults,
        }
    }
}
