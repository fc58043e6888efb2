//! A court from outside: matches are simulated, plugins left out (their run is
//! tested where it lives, and with the whole program in `tests/`).

mod charted;
mod inspecting;
mod live;
mod restart;
mod support;
