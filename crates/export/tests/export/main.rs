//! The forms, on simulated matches and on charts with hostile texts.

#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod html;
mod support;
mod tables;
mod webvtt;
mod words;
