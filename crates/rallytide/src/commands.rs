//! One command a file.

pub(crate) mod agree;
pub(crate) mod check;
pub(crate) mod demo;
pub(crate) mod export;
pub(crate) mod feed;
pub(crate) mod plugin;
pub(crate) mod readings;
pub(crate) mod score;
pub(crate) mod serve;
pub(crate) mod simulate;
