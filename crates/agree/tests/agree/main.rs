//! Agreement of charts with themselves, with copies that hold known slips, and of
//! published tables.

#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod alignment;
mod charts;
mod published;
mod slips;
mod support;
