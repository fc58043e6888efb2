//! One running plugin: its store, its limits, and what its errors mean.
//!
//! Invariant: after any error an instance is never called again; whoever holds
//! it drops it. (After a trap the engine refuses re-entry itself; after an
//! answer that could not be copied it would not, but the guest has not cleaned
//! up.) Nothing here judges what an answer says.

use std::sync::Arc;
use std::time::{Duration, Instant};

use rallytide_chart::Seq;
use wasmtime::{Error, ResourceLimiter, Store, Trap};

use crate::backstop::Backstop;
use crate::fault::{HostFault, PluginFaultKind, Violation};
use crate::interface::{HostFunctions, Plugin, PluginPre, wit};
use crate::limits::{
    COPIED_BYTES, CORE_INSTANCES, MEMORIES, MEMORY_BYTES, START_FUEL, STEP_FUEL, TABLE_ELEMENTS,
    TABLES,
};
use crate::log::{PluginLog, TooMuchLogged};

/// What the host keeps for an instance.
pub(crate) struct HostState {
    log: PluginLog,
    memory: usize,
    table_elements: usize,
}

/// An instance asked for more than it may have.
#[derive(Debug, thiserror::Error)]
#[error("it wanted {wanted} {what}; {limit} are allowed")]
struct OverLimit {
    what: &'static str,
    wanted: usize,
    limit: usize,
}

impl ResourceLimiter for HostState {
    fn memory_growing(
        &mut self,
        current: usize,
        desired: usize,
        _maximum: Option<usize>,
    ) -> wasmtime::Result<bool> {
        let what = "bytes of memory";
        self.memory = grown(self.memory, current, desired, what, MEMORY_BYTES)?;
        Ok(true)
    }

    fn table_growing(
        &mut self,
        current: usize,
        desired: usize,
        _maximum: Option<usize>,
    ) -> wasmtime::Result<bool> {
        let what = "elements of tables";
        self.table_elements = grown(self.table_elements, current, desired, what, TABLE_ELEMENTS)?;
        Ok(true)
    }

    fn instances(&self) -> usize {
        CORE_INSTANCES
    }

    fn tables(&self) -> usize {
        TABLES
    }

    fn memories(&self) -> usize {
        MEMORIES
    }
}

/// The new total; an error instead of a polite refusal, so that a plugin that
/// runs out of memory is reported as that and not as the panic it answers with.
fn grown(
    total: usize,
    current: usize,
    desired: usize,
    what: &'static str,
    limit: usize,
) -> Result<usize, OverLimit> {
    let wanted = total.saturating_add(desired.saturating_sub(current));
    if wanted > limit {
        return Err(OverLimit {
            what,
            wanted,
            limit,
        });
    }
    Ok(wanted)
}

impl HostFunctions for HostState {
    fn log(&mut self, severity: wit::Severity, text: String) -> wasmtime::Result<()> {
        Ok(self.log.write(severity, &text)?)
    }
}

impl wit::Host for HostState {}

/// Why there is no instance.
#[derive(Debug)]
pub(crate) enum InstantiateError {
    /// The plugin's doing.
    Violation(Violation),
    /// Its functions are not of the types that the interface gives them.
    Mistyped(String),
    /// Not the plugin's doing.
    Host(HostFault),
}

/// What a call came to, and what it took. The time is for people: nothing that
/// a plugin says may depend on it.
pub(crate) struct Called<T> {
    pub(crate) outcome: Result<T, Violation>,
    pub(crate) fuel: u64,
    pub(crate) time: Duration,
    /// What of it is held against the plugin.
    pub(crate) charged: Duration,
}

/// One running plugin.
pub(crate) struct WasmInstance {
    store: Store<HostState>,
    plugin: Plugin,
    backstop: Arc<Backstop>,
    is_watched: bool,
}

impl WasmInstance {
    /// Makes an instance; its start function runs under the fuel of a start.
    pub(crate) fn new(
        pre: &PluginPre<HostState>,
        backstop: &Arc<Backstop>,
    ) -> Result<Self, InstantiateError> {
        let state = HostState {
            log: PluginLog::default(),
            memory: 0,
            table_elements: 0,
        };
        let mut store = Store::new(pre.engine(), state);
        store.limiter(|state| state);
        store.set_hostcall_fuel(COPIED_BYTES);
        set_fuel(&mut store, START_FUEL);
        store.set_epoch_deadline(backstop.ticks());
        let instance = match pre.instance_pre().instantiate(&mut store) {
            Ok(instance) => instance,
            Err(error) if is_guests_doing(&error) => {
                let panic = store.data().log.panic();
                return Err(InstantiateError::Violation(violation(
                    &error, START_FUEL, panic,
                )));
            }
            Err(error) => {
                let fault = HostFault::new("make an instance of a plugin", flat(&error));
                return Err(InstantiateError::Host(fault));
            }
        };
        // Linking has judged the names only; this judges the types.
        match Plugin::new(&mut store, &instance) {
            Ok(plugin) => Ok(Self {
                store,
                plugin,
                backstop: Arc::clone(backstop),
                is_watched: false,
            }),
            Err(error) => Err(InstantiateError::Mistyped(flat(&error))),
        }
    }

    /// Asks the plugin what it is.
    pub(crate) fn describe(&mut self) -> Called<wit::Manifest> {
        self.call(Seq(0), START_FUEL, |plugin, store| {
            plugin.rallytide_plugin_guest().call_describe(store)
        })
    }

    /// Starts a match.
    pub(crate) fn start(
        &mut self,
        opening: &wit::Opening,
    ) -> Called<Result<Vec<wit::Change>, String>> {
        self.call(Seq(0), START_FUEL, |plugin, store| {
            plugin.rallytide_plugin_guest().call_start(store, opening)
        })
    }

    /// Hands over the next entry.
    pub(crate) fn step(&mut self, moment: &wit::Moment, seq: Seq) -> Called<Vec<wit::Change>> {
        self.call(seq, STEP_FUEL, |plugin, store| {
            plugin.rallytide_plugin_guest().call_step(store, moment)
        })
    }

    /// From now on its calls are charged the time in which they computed, where the
    /// system tells it: asking for it at every call would slow down the quick ones.
    pub(crate) fn watch(&mut self) {
        self.is_watched = true;
    }

    /// Its linear memory, all memories together, in bytes.
    pub(crate) fn memory(&self) -> usize {
        self.store.data().memory
    }

    /// What the plugin has written.
    pub(crate) fn log(&self) -> &PluginLog {
        &self.store.data().log
    }

    fn call<T>(
        &mut self,
        seq: Seq,
        fuel: u64,
        call: impl FnOnce(&Plugin, &mut Store<HostState>) -> wasmtime::Result<T>,
    ) -> Called<T> {
        self.store.data_mut().log.begin(seq);
        set_fuel(&mut self.store, fuel);
        self.store.set_epoch_deadline(self.backstop.ticks());
        let before = if self.is_watched {
            computing_time()
        } else {
            None
        };
        let began = Instant::now();
        let outcome = call(&self.plugin, &mut self.store);
        let time = began.elapsed();
        let charged = before
            .and_then(|before| computing_time()?.checked_sub(before))
            .unwrap_or(time);
        let left = self
            .store
            .get_fuel()
            .expect("the engine was made to count fuel");
        Called {
            outcome: outcome
                .map_err(|error| violation(&error, fuel, self.store.data().log.panic())),
            fuel: fuel - left,
            time,
            charged,
        }
    }
}

/// How long this thread has been computing, where the system tells it.
#[cfg(any(target_os = "linux", target_vendor = "apple"))]
fn computing_time() -> Option<Duration> {
    let time = rustix::time::clock_gettime(rustix::time::ClockId::ThreadCPUTime);
    time.try_into().ok()
}

#[cfg(not(any(target_os = "linux", target_vendor = "apple")))]
fn computing_time() -> Option<Duration> {
    None
}

fn set_fuel(store: &mut Store<HostState>, fuel: u64) {
    store
        .set_fuel(fuel)
        .expect("the engine was made to count fuel");
}

/// Whether an error of instantiation comes from the guest's code or its wants.
fn is_guests_doing(error: &Error) -> bool {
    error.downcast_ref::<Trap>().is_some()
        || error.downcast_ref::<OverLimit>().is_some()
        || error.downcast_ref::<TooMuchLogged>().is_some()
        // The engine counts instances, tables and memories itself and has no
        // type for this; the tests hold on to its words.
        || flat(error).contains("resource limit exceeded")
}

/// What an error of a call means.
fn violation(error: &Error, fuel: u64, panic: Option<&str>) -> Violation {
    if let Some(over) = error.downcast_ref::<OverLimit>() {
        return Violation::new(PluginFaultKind::OutOfMemory, over.to_string());
    }
    if let Some(logged) = error.downcast_ref::<TooMuchLogged>() {
        return Violation::new(PluginFaultKind::TooMuchLogged, logged.to_string());
    }
    let Some(trap) = error.downcast_ref::<Trap>() else {
        return untyped(&flat(error));
    };
    match trap {
        Trap::OutOfFuel => Violation::new(
            PluginFaultKind::OutOfFuel,
            format!("it used up its {fuel} units of fuel in one call (a loop without end?)"),
        ),
        Trap::Interrupt => Violation::new(
            PluginFaultKind::OutOfTime,
            "it took longer over one call than the host waits",
        ),
        Trap::StackOverflow => Violation::new(
            PluginFaultKind::StackOverflow,
            "its calls went too deep (a recursion without end?)",
        ),
        Trap::UnreachableCodeReached => match panic {
            Some(panic) => Violation::new(PluginFaultKind::Panicked, format!("it {panic}")),
            None => Violation::new(
                PluginFaultKind::Trapped,
                "it gave up without a word (`unreachable`)",
            ),
        },
        Trap::MemoryOutOfBounds => Violation::new(
            PluginFaultKind::Trapped,
            "it reached outside its memory (a Rust plugin's recursion without end comes to this)",
        ),
        other => Violation::new(PluginFaultKind::Trapped, format!("it trapped: {other}")),
    }
}

/// Errors for which the engine has no type, told apart by their words; the
/// tests hold on to these words, so that a new version of the engine shows.
fn untyped(words: &str) -> Violation {
    if words.contains("resource limit exceeded") {
        return Violation::new(
            PluginFaultKind::OutOfMemory,
            format!("it wanted too much: {words}"),
        );
    }
    if words.contains("too much data is being copied") {
        return Violation::new(
            PluginFaultKind::TooMuchCopied,
            format!("its answer is larger than the {COPIED_BYTES} bytes that are copied"),
        );
    }
    Violation::new(
        PluginFaultKind::BrokenAnswer,
        format!("its answer does not follow the interface: {words}"),
    )
}

/// An engine's error as one line.
pub(crate) fn flat(error: &Error) -> String {
    let words = format!("{error:#}");
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}
