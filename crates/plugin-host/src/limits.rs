//! Every bound on what a plugin may do, by name.
//!
//! Those that decide about a plugin are counted: what happens to it depends on
//! the file and the chart alone, so a live match, a replay and another machine
//! agree. The two that are timed, [`CALL_MILLISECONDS`] and
//! [`RUN_MILLISECONDS`], stand far behind them, for the host's own health. Each
//! constant says what it does *not* cover.

/// The largest core module (what a Rust compiler makes), in bytes.
///
/// Does not cover how long compiling takes: that grows faster than the size,
/// see [`BRANCHES_SQUARED`]. Compile off the live path.
pub const CORE_MODULE_BYTES: usize = 4 << 20;

/// The largest ready component, in bytes. Wider than a core module's because a
/// component from an interpreted language brings its interpreter along.
///
/// Does not cover how long compiling takes (an 18 MB component was measured at
/// about ten seconds on one core).
pub const COMPONENT_BYTES: usize = 32 << 20;

/// The largest single function of a file, in bytes.
///
/// Does not cover how the function is built, see [`LOOPS_NESTED`],
/// [`BRANCHES_SQUARED`] and [`CARRIED_PER_FUNCTION`].
pub const FUNCTION_BYTES: usize = 512 << 10;

/// How deep the loops of a function may be nested.
///
/// The compiler's time grows with more than the square of this (5,000 nested
/// loops in 35 kB were measured at two minutes); people write three or four.
/// Does not cover loops side by side.
pub const LOOPS_NESTED: usize = 50;

/// How deep blocks of any sort may be nested in a function. A choice among
/// hundreds of cases is as many nested blocks.
pub const BLOCKS_NESTED: usize = 2000;

/// Branches of one function times themselves, all functions of a file together.
///
/// The compiler's time grows like this in the worst case, measured at seven
/// seconds for a thousand million. Does not cover what values have to be carried along, see
/// [`CARRIED_PER_FUNCTION`].
pub const BRANCHES_SQUARED: u64 = 1_000_000_000;

/// Values that branches carry along, of one function: for each block the
/// branches to it times the locals that change within it.
///
/// Bounds the compiler's memory, measured at up to 300 bytes for each, and its
/// time. Does not cover other functions, see [`CARRIED_PER_FILE`].
pub const CARRIED_PER_FUNCTION: u64 = 2_000_000;

/// The same of all functions of a file: measured at up to one and a half
/// microseconds for each.
pub const CARRIED_PER_FILE: u64 = 20_000_000;

/// [`BRANCHES_SQUARED`] of a file that is still compiled with care for the speed
/// of its code; beyond it, and beyond [`PLAIN_CARRIED`], quickly.
///
/// A second of compiling at worst. Ordinary plugins have some ten thousand.
pub const PLAIN_BRANCHES_SQUARED: u64 = 100_000_000;

/// Values carried along, of one function, up to which a file is compiled with
/// care for the speed of its code.
///
/// With care each costs up to 70 microseconds, without it one and a half.
/// Ordinary plugins have two thousand. Does not cover other functions.
pub const PLAIN_CARRIED: u64 = 10_000;

/// The largest section of component types, and the largest description of an
/// interface in a core module, in bytes.
///
/// Types nest without a limit of their own, and everything that reads them
/// does so by recursion: three bytes a level. This bounds the depth to what fits
/// on [`LOADER_STACK_BYTES`]. Does not cover how many such sections there are.
pub const TYPE_SECTION_BYTES: usize = 64 << 10;

/// The stack on which files are read and compiled, in bytes of address space;
/// memory is taken only as far as the stack is used.
///
/// The deepest types that [`TYPE_SECTION_BYTES`] lets through were measured at
/// less than a quarter of it. Does not cover the compiler's own threads, which
/// see one function at a time.
pub const LOADER_STACK_BYTES: usize = 256 << 20;

/// Fuel for making an instance and asking it to describe itself, and again for
/// its start.
///
/// See [`STEP_FUEL`] for what fuel does not cover.
pub const START_FUEL: u64 = 50_000_000;

/// Fuel for one entry.
///
/// Fuel counts the instructions of the guest, so it is the same on every
/// machine. It does not cover time exactly: ordinary code was measured at
/// 0.06 ns a unit, code that misses the memory cache with every instruction at
/// 73 ns. It does not cover the depth of the stack ([`STACK_BYTES`]), what the
/// host copies ([`COPIED_BYTES`]), compiling, or a plugin that stays just under
/// it at every entry. What a unit pays for may change with the engine's version.
pub const STEP_FUEL: u64 = 10_000_000;

/// How long one call may take on the host's clock, in milliseconds.
///
/// A backstop for what fuel does not see: code that misses the memory cache with
/// every instruction, a machine that has too much to do. Fuel ends an ordinary
/// loop two hundred times sooner. Where in a [`TICK_MILLISECONDS`] a call begins
/// decides about as much more. It does not cover compiling, what the host does
/// with an answer, the making of an instance apart from its start function, nor
/// all calls together ([`RUN_MILLISECONDS`]). While the process is stopped or the
/// machine asleep it does not go on.
pub const CALL_MILLISECONDS: u64 = 2_000;

/// How long all calls of a plugin over one run of a chart may take together, in
/// milliseconds, and [`ENTRY_MICROSECONDS`] more for each call.
///
/// Bounds what a plugin can do that stays just under its fuel at every entry: how
/// long it can hold up each shot, and a court after a correction. From half of it
/// on only the time counts in which the plugin was computing, so a machine that
/// is busy with something else blames nobody (Linux and macOS; elsewhere the time
/// that passed). Looked at after every call, so it does not cover the last one
/// ([`CALL_MILLISECONDS`]), nor what lies between the calls.
pub const RUN_MILLISECONDS: u64 = 1_000;

/// How much longer than [`RUN_MILLISECONDS`] all calls of a plugin may take
/// together for each call, in microseconds.
///
/// So a plugin is judged by what an entry typically takes it, whatever the length
/// of the chart. A plugin in Rust takes some 3 microseconds an entry, one in
/// Python some 120.
pub const ENTRY_MICROSECONDS: u64 = 500;

/// How often the clock behind [`CALL_MILLISECONDS`] moves, in milliseconds.
///
/// Does not cover a machine that is too busy to let it move.
pub const TICK_MILLISECONDS: u64 = 100;

/// Linear memory of one instance, all its memories together, in bytes.
///
/// Does not cover the compiled code, which all instances of a plugin share, nor
/// what the host itself keeps about an instance (some ten kilobytes).
pub const MEMORY_BYTES: usize = 32 << 20;

/// Elements of all tables of one instance together.
///
/// Does not cover linear memory.
pub const TABLE_ELEMENTS: usize = 100_000;

/// Core instances inside one component. A Rust plugin needs a handful, one from
/// an interpreted language some forty.
///
/// Does not cover their memories and tables, which are counted on their own.
pub const CORE_INSTANCES: usize = 64;

/// Linear memories of one instance.
///
/// Does not cover their size, see [`MEMORY_BYTES`].
pub const MEMORIES: usize = 8;

/// Tables of one instance.
///
/// Does not cover their size, see [`TABLE_ELEMENTS`].
pub const TABLES: usize = 64;

/// The native stack that a guest's calls may take, in bytes.
///
/// How many calls fit depends on the compiler, so a plugin that recurses up to
/// here may be stopped at another depth by another version of the host; it is
/// stopped either way. Does not cover the stack that a Rust guest keeps in its
/// linear memory. The thread that runs a plugin needs this much and half a
/// megabyte more.
pub const STACK_BYTES: usize = 512 << 10;

/// What the host copies out of a guest in one call, in bytes.
///
/// Guards the host against a list whose items all point at the same text. It
/// counts in sizes of the host's own types, so the bounds below, which count in
/// units that never change, are chosen to be reached first. Does not cover what
/// the host hands to the guest.
pub const COPIED_BYTES: usize = 512 << 10;

/// Changes that one call may publish.
pub const CHANGES_PER_CALL: usize = 256;

/// Readings of one plugin that may be current at the same time.
///
/// Does not cover how often they change.
pub const READINGS_PER_PLUGIN: usize = 512;

/// The longest text of a reading, in bytes of UTF-8.
///
/// Does not cover all texts of a call together, see [`TEXT_BYTES_PER_CALL`].
pub const TEXT_BYTES: usize = 1024;

/// The longest slot, code of a reason, or flag, in bytes of UTF-8.
pub const NAME_BYTES: usize = 64;

/// All texts that one call publishes together, names included, in bytes of UTF-8.
///
/// Does not cover the log.
pub const TEXT_BYTES_PER_CALL: usize = 64 << 10;

/// Reasons of one reading.
pub const REASONS_PER_READING: usize = 32;

/// Flags of one reading.
pub const FLAGS_PER_READING: usize = 16;

/// Reasons and flags of all readings that one call publishes.
pub const REASONS_AND_FLAGS_PER_CALL: usize = 1024;

/// Log lines of one call that are kept; further ones are counted and dropped.
///
/// Does not cover a call that goes on writing, see [`LOG_CALLS_PER_CALL`].
pub const LOG_LINES_PER_CALL: usize = 16;

/// Log lines of one run that are kept for a plugin; the oldest make room.
pub const LOG_LINES_KEPT: usize = 100;

/// The longest log line that is kept, in bytes of UTF-8; the rest is cut off.
///
/// Does not cover what is copied before it is cut, see [`LOG_BYTES_PER_CALL`].
pub const LOG_LINE_BYTES: usize = 500;

/// Log lines that one call may write, kept or not; with one more the plugin is
/// stopped. Writing a line costs the guest next to no fuel, so fuel alone would
/// let a loop of it keep the host busy.
pub const LOG_CALLS_PER_CALL: usize = 1000;

/// Bytes of log that one call may write, kept or not; with more the plugin is
/// stopped.
pub const LOG_BYTES_PER_CALL: usize = 256 << 10;

/// Indicators that one plugin may provide, and that it may read.
pub const INDICATORS_PER_PLUGIN: usize = 64;

/// Settings that one plugin may offer.
pub const SETTINGS_PER_PLUGIN: usize = 32;

/// Choices of one setting.
pub const CHOICES_PER_SETTING: usize = 32;

/// The longest sentence of a manifest, in bytes of UTF-8.
pub const ABOUT_BYTES: usize = 300;

/// Files of compiled code that the cache keeps; the oldest make room.
///
/// Does not cover their size: compiled code is three to four times as large as
/// the plugin.
pub const CACHED_FILES: usize = 128;
