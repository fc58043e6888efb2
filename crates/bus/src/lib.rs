//! The event bus: a durable append-only log per topic, and an ordered fan-out
//! of live messages with resume by sequence number.
//!
//! - [`Bus`] is what the rest of the host sees of the log; [`EmbeddedBus`] is
//!   the engine that comes with the host: one file a topic, one log thread.
//! - [`Hub`] passes encoded messages on to any number of readers. A slow reader
//!   is skipped ahead, it never holds the others back and never grows memory.
//!
//! Invariants: sequence numbers of a topic are 1, 2, 3 … in the order of the
//! file; a [`Ticket`] completes only when its record has reached the disk;
//! nothing that was read back intact is ever removed from a file.
//!
//! ```
//! use rallytide_bus::{Bus, EmbeddedBus, TopicName, system_clock};
//!
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! # let folder = tempfile::tempdir()?;
//! let bus = EmbeddedBus::start(folder.path(), system_clock())?;
//! let topic = TopicName::new("pier-cup-final")?;
//! bus.create(&topic, r#"{"kind":"match"}"#)?;
//! let appended = bus.append(&topic, r#"{"kind":"note","text":"warm-up"}"#)?;
//! assert_eq!(appended.seq, 1);
//! appended.ticket.wait()?; // or `.durable().await`
//! # Ok(())
//! # }
//! ```
//!
//! It sees JSON object text and nothing else: what an entry means, who may
//! write one and who reads it is the business of the crates above.

mod bus;
mod damage;
mod embedded;
mod error;
mod hub;
mod line;
mod recovery;
mod storage;
mod ticket;
mod topic_name;

pub use bus::{Appended, Bus, Clock, Opened, Stored, Trouble, now, system_clock};
pub use damage::{Damage, DamagePlace};
pub use embedded::{EmbeddedBus, MAX_QUEUED_BYTES, MAX_QUEUED_RECORDS};
pub use error::{BusError, FileChange};
pub use hub::{DEFAULT_RING, Hub, Next, Subscribed, Subscription};
/// The instant type of [`Stored::received`] and of a [`Clock`].
pub use jiff::Timestamp;
pub use line::{Flaw, UnfitLine};
pub use ticket::{Progress, Ticket};
pub use topic_name::{TopicName, TopicNameError};

use std::sync::{Mutex, MutexGuard, PoisonError};

/// Takes a lock, also after a holder panicked: the guarded values of this crate
/// are changed in single steps, so they are whole at every point of a panic.
fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
