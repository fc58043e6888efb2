//! Why a file is not taken as a plugin, and what its author can change.
//!
//! Nothing of a refused file stays behind; the court it was meant for has not
//! noticed it.

use crate::fault::PluginFaultKind;
use crate::interface;

/// A file that was not taken as a plugin.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("the file `{file}` is refused as a plugin: {reason}")]
pub struct PluginRefused {
    /// The file's name as the caller gave it.
    pub file: String,
    /// Why.
    pub reason: RefusedReason,
}

impl PluginRefused {
    /// What the author can do about it, where there is something to say.
    #[must_use]
    pub fn hint(&self) -> Option<String> {
        self.reason.hint()
    }
}

/// Why a file is not taken as a plugin.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum RefusedReason {
    /// The file is larger than its form may be.
    #[error("it is {size} bytes long; a {form} may be {limit} bytes at most")]
    TooBig {
        /// Its size.
        size: usize,
        /// `core module` or `component`.
        form: &'static str,
        /// The limit.
        limit: usize,
    },
    /// The file is something else.
    #[error("it is no WebAssembly file")]
    NotWasm,
    /// The file is damaged, or uses what the engine does not know.
    #[error("it is no valid WebAssembly: {detail}")]
    Malformed {
        /// What the validator found.
        detail: String,
    },
    /// Compiling it could take the machine for minutes.
    #[error("compiling it could take far too long: {detail}")]
    TooIntricate {
        /// What is beyond which limit.
        detail: String,
    },
    /// Its types take more room than any plugin needs.
    #[error("one of its type sections is {size} bytes long; {limit} are allowed")]
    TypesTooBig {
        /// Its size.
        size: usize,
        /// The limit.
        limit: usize,
    },
    /// It needs something that the host does not hand out.
    #[error(
        "it imports `{import}`; a plugin may import nothing but `{}`",
        interface::HOST
    )]
    ForeignImport {
        /// What it imports.
        import: String,
    },
    /// It was built for another version of the interface.
    #[error(
        "it was built for version {found} of the plugin interface; this host runs version {}",
        interface::VERSION
    )]
    OtherVersion {
        /// The version it was built for.
        found: String,
    },
    /// It does not export the interface.
    #[error("it does not export `{}`", interface::GUEST)]
    NoGuest,
    /// It exports the interface, but not as it is written.
    #[error("its `{}` is not as the interface says: {detail}", interface::GUEST)]
    MistypedGuest {
        /// What differs.
        detail: String,
    },
    /// No component could be made of its core module.
    #[error("no component could be made of it: {detail}")]
    Unconvertible {
        /// What stood in the way.
        detail: String,
    },
    /// The engine could not compile it.
    #[error("it could not be compiled: {detail}")]
    Uncompilable {
        /// What the engine said.
        detail: String,
    },
    /// It was stopped before it had described itself.
    #[error("it was stopped as it was asked to describe itself: {message}")]
    Stopped {
        /// What sort of fault.
        kind: PluginFaultKind,
        /// What it did.
        message: String,
    },
    /// Its manifest breaks a rule.
    #[error("its manifest breaks a rule: {detail}")]
    BadManifest {
        /// What is wrong, and what is allowed.
        detail: String,
    },
    /// The host failed, not the file.
    #[error("{0}")]
    Host(#[from] crate::HostFault),
}

impl RefusedReason {
    /// The file cannot be read as WebAssembly.
    #[allow(
        clippy::needless_pass_by_value,
        reason = "`map_err` hands over a value"
    )]
    pub(crate) fn malformed(error: wasmparser::BinaryReaderError) -> Self {
        Self::Malformed {
            detail: error.to_string(),
        }
    }

    /// The reason as a word, for programs.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            Self::TooBig { .. } => "too_big",
            Self::NotWasm => "not_wasm",
            Self::Malformed { .. } => "malformed",
            Self::TooIntricate { .. } => "too_intricate",
            Self::TypesTooBig { .. } => "types_too_big",
            Self::ForeignImport { .. } => "foreign_import",
            Self::OtherVersion { .. } => "other_version",
            Self::NoGuest => "no_guest",
            Self::MistypedGuest { .. } => "mistyped_guest",
            Self::Unconvertible { .. } => "unconvertible",
            Self::Uncompilable { .. } => "uncompilable",
            Self::Stopped { .. } => "stopped",
            Self::BadManifest { .. } => "bad_manifest",
            Self::Host(_) => "host_fault",
        }
    }

    fn hint(&self) -> Option<String> {
        let hint = match self {
            Self::TooBig { .. } => {
                "build it with `--release`, `lto = true` and `opt-level = \"s\"`"
            }
            Self::NotWasm => {
                "the file to put here is the `.wasm` that \
                 `cargo build --release --target wasm32-unknown-unknown` leaves in `target`"
            }
            Self::Malformed { .. } => "it may have been cut off while it was copied: copy it again",
            Self::ForeignImport { import } if import.starts_with("wasi") => {
                "there is no WASI here: build for `wasm32-unknown-unknown`; for JavaScript and \
                 Python, stub WASI out when the component is made"
            }
            Self::ForeignImport { .. } => {
                "a plugin has no clock, no random numbers, no files and no network: leave out \
                 what needs them"
            }
            Self::OtherVersion { .. } => {
                "build it against the `plugin-kit` that belongs to this host"
            }
            Self::NoGuest => {
                "in Rust: `crate-type = [\"cdylib\"]` in `Cargo.toml`, and \
                 `rallytide_plugin_kit::export_plugin!(…)` in the crate"
            }
            Self::MistypedGuest { .. } => {
                "build it against the unchanged `plugin.wit` of this version"
            }
            _ => return None,
        };
        Some(hint.into())
    }
}
