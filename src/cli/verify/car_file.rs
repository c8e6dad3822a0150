//! `verify FILE…` of a car's file: its own signature stands in it.

use std::fs::File;
use std::path::Path;

use super::whose;
use crate::actions::ActionError;
use crate::actions::shop::car_file::{LookedThrough, RoundSeen, look_through};
use crate::actions::shop::signing::fingerprint;
use crate::startup::StartError;

/// Says what is known of a round's packet, whoever saved the car.
fn say_of(round: &RoundSeen) {
    let number = round.number;
    let Some(packet) = &round.packet else {
        println!("  Round {number}: its packet is not in the file; nothing is known of it.");
        return;
    };
    match &packet.public {
        Some(public) => {
            println!(
                "  Round {number}: its packet is unaltered since it was signed by the key {}.",
                fingerprint(public)
            );
        }
        None => println!(
            "  Round {number}: its packet was never signed; it is as this file's list has it, and no more is known."
        ),
    }
    if packet.contents_inside {
        println!("    The round's contents list is the one inside the packet.");
    } else {
        println!("    No contents list that can be read is inside the packet: the file's is not compared with any.");
    }
}

/// Says what is known of one car's file; whether that is enough.
pub(super) fn one(file: &Path, allowed: Option<&[String]>) -> Result<bool, StartError> {
    let named = file.display();
    let mut opened = File::open(file).map_err(|why| StartError::File { file: named.to_string(), why })?;
    let LookedThrough { manifest, public, rounds } = match look_through(&mut opened, &|_| ()) {
        Ok(found) => found,
        Err(ActionError::Refused(faults)) => {
            for fault in faults {
                println!("{named}: {}", fault.why);
            }
            return Ok(false);
        }
        Err(other) => return Err(other.into()),
    };
    println!("{named}: unaltered since it was signed by the key {}.", fingerprint(&public));
    println!("  The car's file of {}: {} photographs, {} rounds.", manifest.name, manifest.photos(), manifest.rounds());
    rounds.iter().for_each(say_of);
    println!("  Log of the build, {} entries, head: {}", manifest.log_entries, manifest.log_head);
    if !manifest.lost.is_empty() {
        println!(
            "  {} photographs or packets that it names were lost before it was saved: they are not in it.",
            manifest.lost.len()
        );
    }
    Ok(whose(&public, allowed))
}
