//! A court from outside: matches are simulated, plugins left out (their run is
//! tested where it lives, and with the whole program in `tests/`).

#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod charted;
mod desk;
mod host_log;
mod inspecting;
mod live;
mod match_record;
mod restart;
mod seats;
mod support;
