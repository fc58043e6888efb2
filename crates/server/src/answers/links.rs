//! What links for other machines are made of.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::access::{KeySet, Permit};

/// `GET /desk/links`. It holds keys, so it cannot be printed.
#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct Links {
    /// How other machines reach this host, like `http://192.168.1.20:7447`, the
    /// most likely way first; empty where they do not.
    pub(crate) addresses: Vec<String>,
    /// The system's name of the network behind an address, where it is known.
    pub(crate) networks: BTreeMap<String, String>,
    pub(crate) reachable: bool,
    #[cfg_attr(feature = "schema", ts(type = "Record<Role, string>"))]
    pub(crate) keys: KeySet,
    /// Whether the desk lets others in; absent where the host was started for
    /// others, too.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", ts(optional))]
    pub(crate) let_in: Option<bool>,
    /// How to let others in, where they cannot come.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", ts(optional))]
    pub(crate) hint: Option<&'static str>,
    /// In answer to a new key: how many connections with the old one were ended.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", ts(optional))]
    pub(crate) ended: Option<usize>,
}

/// Whose key is to be replaced.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct NewKey {
    pub(crate) role: Permit,
}

/// Whether other machines are let in.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "schema", derive(ts_rs::TS, schemars::JsonSchema))]
pub(crate) struct OtherMachines {
    pub(crate) let_in: bool,
}
