//! What goes over HTTP as JSON, one file a topic: every answer and every body of
//! a request. The documents and the pages' types are written out of these, so
//! nothing here is ever shaped by hand a second time.

pub(crate) mod courts;
pub(crate) mod desk;
pub(crate) mod entries;
pub(crate) mod event;
pub(crate) mod links;
pub(crate) mod matches;
pub(crate) mod operations;
pub(crate) mod plugins;
pub(crate) mod readings;
