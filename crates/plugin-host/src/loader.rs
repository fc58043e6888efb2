//! Where plugins are made ready to run: the engine, and the way from a file to
//! code that has described itself.
//!
//! Loading takes milliseconds to seconds and belongs off the live path. A
//! [`PluginCode`] is immutable and cheap to clone; what runs is made of it for
//! every run of a chart.

use std::path::PathBuf;
use std::sync::Arc;
use std::time::Duration;

use wasmtime::component::{Component, HasSelf, Linker};
use wasmtime::{Config, Engine, RegallocAlgorithm};

use crate::backstop::{Backstop, TimeLimits};
use crate::compiled::{self, CacheUse, CompiledCode};
use crate::fault::HostFault;
use crate::file_form::to_component;
use crate::interface::{Plugin, PluginPre};
use crate::intricacy::Intricacy;
use crate::limits::{LOADER_STACK_BYTES, STACK_BYTES};
use crate::manifest::Manifest;
use crate::refused::{PluginRefused, RefusedReason};
use crate::wasm_instance::{HostState, InstantiateError, WasmInstance, flat};
use rallytide_readings::Name;

/// How a loader is set up.
#[derive(Debug, Clone, Default)]
pub struct LoaderConfig {
    /// A folder for compiled code, the host's own; `None`: everything is
    /// compiled at each start.
    pub cache: Option<PathBuf>,
}

/// Loads plugins.
pub struct PluginLoader {
    careful: Compiler,
    quick: Compiler,
    backstop: Arc<Backstop>,
}

/// One of the two ways to compile.
struct Compiler {
    engine: Engine,
    linker: Linker<HostState>,
    cache: Option<CompiledCode>,
}

/// A plugin that is ready to run. Clones share the code.
#[derive(Clone)]
pub struct PluginCode(Arc<Code>);

struct Code {
    manifest: Manifest,
    file: String,
    sha256: String,
    size: usize,
    describe_fuel: u64,
    cache_use: CacheUse,
    pre: PluginPre<HostState>,
    backstop: Arc<Backstop>,
}

impl PluginLoader {
    /// Sets up a loader.
    ///
    /// # Errors
    /// If the machine is not one the engine can compile for, or the folder for
    /// compiled code cannot be used or is open to others.
    pub fn new(config: &LoaderConfig) -> Result<Self, HostFault> {
        let careful = Compiler::new(config, Intricacy::Plain)?;
        let quick = Compiler::new(config, Intricacy::Intricate)?;
        let backstop = Backstop::start([careful.engine.clone(), quick.engine.clone()])?;
        Ok(Self {
            careful,
            quick,
            backstop: Arc::new(backstop),
        })
    }

    /// Gives the plugins of this loader other times than those of
    /// [`limits`](crate::limits), from the next call on.
    pub fn limit_time(&self, limits: TimeLimits) {
        self.backstop.set(limits);
    }

    /// Makes a file ready to run: checks it, compiles it, and asks it what it
    /// is. `file` is a name for messages.
    ///
    /// # Errors
    /// Why the file is not taken, and what its author can change.
    pub fn load(&self, file: &str, bytes: &[u8]) -> Result<PluginCode, PluginRefused> {
        self.on_loader_stack(file, bytes)
            .map_err(|reason| PluginRefused {
                file: file.to_owned(),
                reason,
            })
    }

    /// On a thread of its own: files can nest their types so deep that whoever
    /// reads them runs out of an ordinary stack, which would end the process.
    fn on_loader_stack(&self, file: &str, bytes: &[u8]) -> Result<PluginCode, RefusedReason> {
        std::thread::scope(|scope| {
            let loader = std::thread::Builder::new()
                .name("plugin loader".into())
                .stack_size(LOADER_STACK_BYTES)
                .spawn_scoped(scope, || self.make_ready(file, bytes))
                .map_err(|error| HostFault::new("start the plugin loader", error))?;
            loader.join().unwrap_or_else(|_| {
                let fault = HostFault::new("load a plugin", "the loader panicked");
                Err(RefusedReason::Host(fault))
            })
        })
    }

    fn make_ready(&self, file: &str, bytes: &[u8]) -> Result<PluginCode, RefusedReason> {
        let sha256 = compiled::sha256(bytes);
        let (pre, cache_use) = match self.kept(&sha256) {
            Some(kept) => (kept?, CacheUse::Found),
            None => self.compile(bytes, &sha256)?,
        };
        let (manifest, describe_fuel) = describe(&pre, &self.backstop)?;
        Ok(PluginCode(Arc::new(Code {
            manifest,
            file: file.to_owned(),
            sha256,
            size: bytes.len(),
            describe_fuel,
            cache_use,
            pre,
            backstop: Arc::clone(&self.backstop),
        })))
    }

    /// The plugin of this SHA-256, if its code is in the cache: then the file has
    /// passed every check before.
    fn kept(&self, sha256: &str) -> Option<Result<PluginPre<HostState>, RefusedReason>> {
        [&self.careful, &self.quick]
            .into_iter()
            .find_map(|compiler| {
                let component = compiler.cache.as_ref()?.get(&compiler.engine, sha256)?;
                Some(compiler.link(&component))
            })
    }

    /// Checks a file and compiles it.
    fn compile(
        &self,
        bytes: &[u8],
        sha256: &str,
    ) -> Result<(PluginPre<HostState>, CacheUse), RefusedReason> {
        let (component, intricacy) = to_component(bytes)?;
        let compiler = match intricacy {
            Intricacy::Plain => &self.careful,
            Intricacy::Intricate => &self.quick,
        };
        compiler.compile(&component, sha256)
    }
}

impl Compiler {
    fn new(config: &LoaderConfig, intricacy: Intricacy) -> Result<Self, HostFault> {
        let failed = |error| HostFault::new("set up the engine", flat(&error));
        let engine = Engine::new(&engine_config(intricacy)).map_err(failed)?;
        let mut linker = Linker::new(&engine);
        Plugin::add_to_linker::<HostState, HasSelf<HostState>>(&mut linker, |state| state)
            .map_err(failed)?;
        let cache = match &config.cache {
            None => None,
            Some(folder) => Some(CompiledCode::open(folder, &engine)?),
        };
        Ok(Self {
            engine,
            linker,
            cache,
        })
    }

    fn compile(
        &self,
        component: &[u8],
        sha256: &str,
    ) -> Result<(PluginPre<HostState>, CacheUse), RefusedReason> {
        let compile = || {
            Component::from_binary(&self.engine, component).map_err(|error| {
                RefusedReason::Uncompilable {
                    detail: flat(&error),
                }
            })
        };
        let (component, cache_use) = match &self.cache {
            None => (compile()?, CacheUse::Off),
            Some(cache) => cache.compile(sha256, compile)?,
        };
        Ok((self.link(&component)?, cache_use))
    }

    fn link(&self, component: &Component) -> Result<PluginPre<HostState>, RefusedReason> {
        let linked = self.linker.instantiate_pre(component);
        linked
            .and_then(PluginPre::new)
            .map_err(|error| RefusedReason::MistypedGuest {
                detail: flat(&error),
            })
    }
}

/// Fuel, so that every plugin ends, at the same point everywhere; epochs, for
/// the clock behind it; one form of
/// not-a-number and of relaxed operations, so that results do not depend on the
/// machine; no backtraces, which plugins without names have no use for. For
/// intricate code registers are given out in one pass: the better way takes
/// minutes for files of ten kilobytes that are made to that end, and its code is
/// up to half again as fast where a plugin computes much.
fn engine_config(intricacy: Intricacy) -> Config {
    let mut config = Config::new();
    config
        .wasm_component_model(true)
        .consume_fuel(true)
        .epoch_interruption(true)
        .cranelift_nan_canonicalization(true)
        .relaxed_simd_deterministic(true)
        .max_wasm_stack(STACK_BYTES)
        .cranelift_regalloc_algorithm(match intricacy {
            Intricacy::Plain => RegallocAlgorithm::Backtracking,
            Intricacy::Intricate => RegallocAlgorithm::SinglePass,
        })
        .wasm_backtrace_max_frames(None);
    config
}

fn describe(
    pre: &PluginPre<HostState>,
    backstop: &Arc<Backstop>,
) -> Result<(Manifest, u64), RefusedReason> {
    let stopped = |violation: crate::fault::Violation| RefusedReason::Stopped {
        kind: violation.kind,
        message: violation.message,
    };
    let mut instance = WasmInstance::new(pre, backstop).map_err(|none| match none {
        InstantiateError::Violation(violation) => stopped(violation),
        InstantiateError::Mistyped(detail) => RefusedReason::MistypedGuest { detail },
        InstantiateError::Host(fault) => RefusedReason::Host(fault),
    })?;
    let called = instance.describe();
    let answer = called.outcome.map_err(stopped)?;
    let manifest =
        Manifest::check(answer).map_err(|detail| RefusedReason::BadManifest { detail })?;
    Ok((manifest, called.fuel))
}

impl PluginCode {
    /// What the plugin says about itself.
    #[must_use]
    pub fn manifest(&self) -> &Manifest {
        &self.0.manifest
    }

    /// The plugin's id.
    #[must_use]
    pub fn id(&self) -> &Name {
        &self.0.manifest.id
    }

    /// The name of the file it was loaded from, as the caller gave it.
    #[must_use]
    pub fn file(&self) -> &str {
        &self.0.file
    }

    /// The SHA-256 of that file, in hexadecimal digits.
    #[must_use]
    pub fn sha256(&self) -> &str {
        &self.0.sha256
    }

    /// The size of that file in bytes.
    #[must_use]
    pub fn size(&self) -> usize {
        self.0.size
    }

    /// The fuel it took to describe itself.
    #[must_use]
    pub fn describe_fuel(&self) -> u64 {
        self.0.describe_fuel
    }

    /// What became of its compiled code.
    #[must_use]
    pub fn cache_use(&self) -> &CacheUse {
        &self.0.cache_use
    }

    pub(crate) fn instance(&self) -> Result<WasmInstance, InstantiateError> {
        WasmInstance::new(&self.0.pre, &self.0.backstop)
    }

    /// How long so many calls of a run may take together.
    pub(crate) fn time_for(&self, calls: u64) -> Duration {
        self.0.backstop.time_for(calls)
    }
}

impl std::fmt::Debug for PluginLoader {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("PluginLoader")
            .field("cache", &self.careful.cache)
            .finish_non_exhaustive()
    }
}

impl std::fmt::Debug for PluginCode {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("PluginCode")
            .field("id", self.id())
            .field("file", &self.0.file)
            .field("sha256", &self.0.sha256)
            .finish_non_exhaustive()
    }
}
