//! Who gets in: the name a request is sent to, the page it comes from, and the
//! key that another machine has to bring.

mod guard;
mod keys;
mod origin;
mod reach;
mod sessions;

pub(crate) use guard::{Gate, guard, guard_host};
pub(crate) use keys::KeySet;
pub use keys::{Keys, KeysError, Permit};
pub(crate) use origin::is_own_page;
pub(crate) use reach::Visitor;
pub use reach::{Access, Address};
pub(crate) use sessions::{KEY_REPLACED, Session};
