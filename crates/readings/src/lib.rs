//! A reading: one current value of an indicator, as plain data.
//!
//! Whoever shows, stores or compares readings needs these types and no plugin
//! engine. Nothing here runs, judges or orders plugins. The indicators that the
//! host itself reads or names stand here too, and nowhere else.

mod known;
mod name;
mod reading;
mod unavailable;

pub use known::KnownIndicator;
pub use name::Name;
pub use reading::{Reading, ReadingKey, Reason, Value};
pub use unavailable::Unavailable;
