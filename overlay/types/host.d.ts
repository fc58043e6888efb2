// What goes over HTTP as JSON. Written by `cargo xtask types`; do not edit.
import type { MatchFormat, MatchHeader, Name, Reading, Score, Seq, EntryId, Team, TeamSheet } from "./messages.js";

export type Role = "desk" | "charter" | "booth" | "viewer";

export type Kind = "shot" | "cue" | "depth" | "rally_end" | "replay" | "time_out" | "penalty" | "score_fix" | "lineup" | "retire" | "note" | "retract" | "amend" | "insert";

export type Flag = "serve_by_receivers" | "missed_shot" | "no_serve" | "no_shot" | "no_time_out_left";

export type CourtList = { 
/**
 * By name.
 */
courts: Array<ListedCourt>, };

export type ListedCourt = { court: string, match: ListedMatch | null, };

export type ListedMatch = { id: string, 
/**
 * For people; may be empty.
 */
title: string, };

export type PutMatch = { match: string, 
/**
 * Also where another match is being played.
 */
replace: boolean, 
/**
 * Where it is on another court, it leaves that one.
 */
move: boolean, };

export type Pause = { paused: boolean, };

export type Finish = { finished: boolean, 
/**
 * The team that stops, `a` or `b`: the other one wins.
 */
retired: string | null, };

export type HostState = { 
/**
 * The host's clock.
 */
now: string, 
/**
 * The version of the program.
 */
version: string, courts: Array<CourtState>, 
/**
 * In the order in which they were planned; those that the desk did not plan
 * follow, by id.
 */
matches: Array<MatchState>, text_files: TextFilesState, };

export type CourtState = { court: string, state: CourtPhase, 
/**
 * The id of the match that is on.
 */
match: string | null, score: Score | null, 
/**
 * How many entries were recorded.
 */
entries: number, last_entry: LastEntry | null, charters: Array<Charter>, viewers: ViewerCount, };

export type CourtPhase = "empty" | "ready" | "playing" | "paused" | "finished";

export type LastEntry = { id: string, kind: string, 
/**
 * When it was recorded, by the recorder's clock.
 */
at: string, 
/**
 * When the host received it.
 */
received: string | null, };

export type Seat = "chart" | "cues";

export type Charter = { client: string, seat: Seat, 
/**
 * Whether it has taken its seat over.
 */
holds: boolean, 
/**
 * The address it comes from, as the host sees it.
 */
address: string | null, 
/**
 * The match it charts; `null`: whatever is on.
 */
match: string | null, 
/**
 * How late its entries come, if that is known; never of the seat `cues`.
 */
late_ms: number | null, 
/**
 * Its clock minus the host's, if that is known.
 */
clock_ms: number | null, };

export type ViewerCount = { viewer: number, booth: number, };

export type MatchState = { id: string, header: DeskHeader, state: MatchPhase, 
/**
 * The court it is on, else the one it is planned for.
 */
court: string | null, 
/**
 * How many entries were recorded.
 */
entries: number, winner: Team | null, 
/**
 * Where it stands, or how it ended; `null` for one that is only planned.
 */
score: Score | null, 
/**
 * Its places that other matches fill.
 */
places: Array<PlaceState>, };

export type PlaceState = { 
/**
 * Whose place it is.
 */
team: Team, outcome: "winner" | "loser", 
/**
 * The id of the other match.
 */
of: string, 
/**
 * What people call it, like `QF 2`.
 */
called: string, 
/**
 * Who has the place by the other match; `null` while that is not decided.
 */
now: PlaceTeam | null, 
/**
 * Whether this match was begun with another team than that.
 */
differs: boolean, };

export type PlaceTeam = { name: string, 
/**
 * Empty where they are not named.
 */
players: Array<string>, };

export type MatchPhase = "planned" | "on" | "finished" | "put_aside";

export type TextFilesState = { 
/**
 * Where they are written; `null`: nowhere.
 */
folder: string | null, 
/**
 * Why they cannot be written at the moment.
 */
problem: string | null, };

export type TextFilesChoice = { 
/**
 * `null`: nothing is written any more; the files stay as they are.
 */
folder: string | null, };

export type EntryList = { entries: Array<ListedEntry>, };

export type ListedEntry = { seq: Seq, entry: EntryJson, 
/**
 * What became of it.
 */
state: EntryFate, 
/**
 * The correction that decides, where there is one.
 */
correction: string | null, 
/**
 * Who recorded it.
 */
client: string | null, 
/**
 * From which seat; the desk has none.
 */
seat: Seat | null, 
/**
 * The score after it.
 */
score: Score, 
/**
 * The rally it belongs to, from 1.
 */
rally: number, };

export type EntryFate = "original" | "amended" | "retracted" | "inserted";

export type EntriesOfDesk = { entries: EntryJson[], };

export type Preview = { score: ScoreChange, 
/**
 * The rallies that would be told otherwise, in order.
 */
rallies: Array<RallyChange>, readings: ReadingChange, refused: Array<Refusal>, flags: Array<Flag>, };

export type ScoreChange = { before: Score, after: Score, };

export type RallyChange = { number: number, before: string | null, after: string | null, };

export type ReadingChange = { changed: number, };

export type Taken = { accepted: Array<AcceptedEntry>, refused: Array<Refusal>, };

export type AcceptedEntry = { id: EntryId, seq: Seq, flags: Array<Flag>, };

export type Refusal = { id: string | null, code: string, message: string, };

export type EventDay = { 
/**
 * By name.
 */
courts: Array<EventCourt>, 
/**
 * In the order in which they were planned; those that the desk did not plan
 * follow, by id.
 */
matches: Array<EventMatch>, };

export type EventCourt = { court: string, state: CourtPhase, 
/**
 * The id of the match that is on.
 */
match: string | null, 
/**
 * The id of the first match that is planned for it.
 */
next: string | null, };

export type EventMatch = { id: string, 
/**
 * For people; may be empty, as the next two.
 */
title: string, round: string, time: string, state: MatchPhase, 
/**
 * The court it is on, else the one it is planned for.
 */
court: string | null, teams: EventTeams, format: EventFormat, 
/**
 * Where it stands, or how it ended; `null` for one that is only planned.
 */
score: Score | null, };

export type EventFormat = { 
/**
 * Points that win a game.
 */
points: number, 
/**
 * The match is the best of so many games.
 */
games: number, };

export type EventTeams = { a: EventTeam, b: EventTeam, };

export type EventTeam = { name: string, 
/**
 * Empty where they are not named.
 */
players: Array<string>, };

export type Links = { 
/**
 * How other machines reach this host, like `http://192.168.1.20:7447`, the
 * most likely way first; empty where they do not.
 */
addresses: Array<string>, 
/**
 * The system's name of the network behind an address, where it is known.
 */
networks: { [key in string]: string }, reachable: boolean, keys: Record<Role, string>, 
/**
 * Whether the desk lets others in; absent where the host was started for
 * others, too.
 */
let_in?: boolean, 
/**
 * How to let others in, where they cannot come.
 */
hint?: string, 
/**
 * In answer to a new key: how many connections with the old one were ended.
 */
ended?: number, };

export type NewKey = { role: Role, };

export type OtherMachines = { let_in: boolean, };

export type PlannedMatch = { id: string, header: DeskHeader, };

export type BegunMatches = { matches: Array<BegunMatch>, };

export type BegunMatch = { id: string, state: MatchPhase, header: DeskHeader, };

export type ImportAnswer = { matches: DeskHeader[], 
/**
 * Columns that mean nothing here and were left aside, as they were written.
 */
ignored: Array<string>, 
/**
 * Rows that are no matches.
 */
left_out: Array<LeftOutRow>, problems: Array<ImportProblem>, 
/**
 * How the sheet was read; null where it could not be.
 */
sheet: ReadSheet | null, };

export type LeftOutRow = { line: number, why: string, 
/**
 * What stands in the row.
 */
row: string, };

export type ReadSheet = { 
/**
 * In words: `text with tabs between its cells, UTF-8`.
 */
form: string, 
/**
 * The tabs of a workbook that hold anything.
 */
tabs: Array<SheetTab>, 
/**
 * The tab that was read.
 */
tab: string | null, 
/**
 * The row of the headings; null where there are none.
 */
heading: number | null, 
/**
 * The first rows, one of which may be the headings.
 */
first_rows: Array<SheetRow>, columns: Array<SheetColumn>, 
/**
 * Whether it can be told which columns name the two teams.
 */
is_clear: boolean, };

export type SheetTab = { name: string, has_matches: boolean, };

export type SheetRow = { line: number, row: string, };

export type SheetColumn = { 
/**
 * What a spreadsheet shows over it: `A`.
 */
letters: string, 
/**
 * Its heading; may be empty.
 */
heading: string, 
/**
 * What it means, as the address of an import says it; null: nothing here.
 */
meaning: string | null, 
/**
 * The first cells below the heading.
 */
examples: Array<string>, };

export type ImportProblem = { 
/**
 * As the spreadsheet counts its rows; null where it is about the whole sheet.
 */
line: number | null, 
/**
 * Where one cell is at fault, what the sheet calls its column.
 */
column: string | null, 
/**
 * What is wrong and what to do, in sentences.
 */
message: string, 
/**
 * What stands in the row.
 */
row: string, };

export type IndicatorReadings = { 
/**
 * All that are current, sorted.
 */
readings: Reading[], };

export type Health = { status: HealthStatus, 
/**
 * The version of the program.
 */
version: string, };

export type HealthStatus = "ok";

export type Switch = { on: boolean, };

export type PluginReport = { 
/**
 * Every plugin, by its id.
 */
plugins: Array<RegisteredPlugin>, 
/**
 * How the plugins are on each court that a match is on, by the court's name.
 */
courts: { [key in string]: Array<PluginOnCourt> }, 
/**
 * Every attempt that is still kept, the oldest first.
 */
attempts: Array<LoadAttempt>, };

export type RegisteredPlugin = { 
/**
 * The file it comes from, or the name it has in the program.
 */
file: string, 
/**
 * Whether it is built into the program.
 */
built_in: boolean, 
/**
 * The SHA-256 of the file, in hexadecimal digits.
 */
sha256: string, 
/**
 * Its size in bytes.
 */
size: number, 
/**
 * Whether it is switched on.
 */
on: boolean, 
/**
 * What was chosen for its settings; what is not here has its default.
 */
chosen: { [key in string]: SettingValue } | null, 
/**
 * Names the plugin everywhere: 1 to 64 of `a–z 0–9 -`, a letter first.
 */
id: Name, 
/**
 * The author's version of it.
 */
version: string, 
/**
 * One sentence for the streamer.
 */
about: string, 
/**
 * The indicators it publishes.
 */
provides: Array<Name>, 
/**
 * The indicators of other plugins that it is handed.
 */
reads: Array<Name>, 
/**
 * The kinds of entries it is called for, besides those that change the
 * score or a reading it reads; `None`: every entry.
 */
called_for: Array<Kind> | null, 
/**
 * The settings it offers.
 */
settings: Array<SettingOffer>, };

export type SettingOffer = { 
/**
 * Its name, unique in its plugin.
 */
name: string, 
/**
 * One sentence for the streamer.
 */
about: string, } & ({ "type": "number", 
/**
 * The least.
 */
from: number, 
/**
 * The greatest.
 */
to: number, 
/**
 * Where nothing is chosen.
 */
default: number, } | { "type": "whole", 
/**
 * The least.
 */
from: number, 
/**
 * The greatest.
 */
to: number, 
/**
 * Where nothing is chosen.
 */
default: number, } | { "type": "truth", 
/**
 * Where nothing is chosen.
 */
default: boolean, } | { "type": "choice", 
/**
 * All of them; the first is the default.
 */
choices: Array<string>, } | { "type": "text", 
/**
 * Characters allowed.
 */
longest: number, 
/**
 * Where nothing is chosen.
 */
default: string, });

export type SettingValue = boolean | number | string;

export type PluginOnCourt = { 
/**
 * How many faults of this file count in this match.
 */
faults: number, 
/**
 * The last of them.
 */
last_fault: CountedFault | null, 
/**
 * Whether they were too many.
 */
switched_off_by_faults: boolean, 
/**
 * Its id.
 */
plugin: Name, 
/**
 * Its version, as its author counts.
 */
version: string, 
/**
 * The file it was loaded from.
 */
file: string, 
/**
 * The SHA-256 of that file, in hexadecimal digits.
 */
sha256: string, 
/**
 * How often it was called in this run, its start included.
 */
calls: number, 
/**
 * The fuel of all calls. It may mean something else under another version
 * of the engine.
 */
fuel: number, 
/**
 * The fuel of the dearest call.
 */
most_fuel: number, 
/**
 * The time of all calls, in microseconds of the host's clock.
 */
time_us: number, 
/**
 * The time of the longest call, in microseconds.
 */
most_time_us: number, 
/**
 * Its linear memory after the last call, in bytes.
 */
memory_bytes: number, 
/**
 * How many readings of it are current.
 */
readings: number, 
/**
 * What it wrote last.
 */
log: Array<LogLine>, 
/**
 * How many lines it wrote that were not kept.
 */
log_dropped: number, } & ({ "state": "running" } | { "state": "stopped", 
/**
 * What it did.
 */
fault: PluginFault, } | { "state": "failed", 
/**
 * What went wrong.
 */
fault: HostFault, } | { "state": "switched_off", 
/**
 * Why, in one sentence.
 */
why: string, } | { "state": "suspended", 
/**
 * What it waits for.
 */
missing: Array<MissingSource>, });

export type PluginFault = { 
/**
 * Which plugin.
 */
plugin: Name, 
/**
 * What sort of fault.
 */
kind: PluginFaultKind, 
/**
 * What it did, in one sentence.
 */
message: string, 
/**
 * The entry that it was handed; `None`: it was starting the match.
 */
entry: EntryId | null, 
/**
 * The position of that entry, 0 at the start.
 */
seq: Seq, };

export type PluginFaultKind = "out_of_fuel" | "out_of_time" | "out_of_memory" | "stack_overflow" | "panicked" | "trapped" | "too_much_copied" | "too_much_logged" | "broken_answer" | "undeclared_indicator" | "foreign_indicator" | "impossible_value" | "changed_type" | "unknown_entry" | "too_many" | "text_too_long" | "settings_refused";

export type HostFault = { 
/**
 * What it was doing.
 */
doing: string, 
/**
 * What went wrong.
 */
message: string, };

export type CountedFault = { 
/**
 * The entry that the plugin was handed; `None`: it was starting the match.
 */
entry: string | null, 
/**
 * How many corrections the chart held.
 */
revision: number, 
/**
 * The kind, as [`rallytide_plugin_host::PluginFaultKind::word`] writes it.
 */
kind: string, 
/**
 * One sentence.
 */
message: string, };

export type MissingSource = { 
/**
 * The indicator.
 */
indicator: Name, 
/**
 * Its plugin, if that is there but suspended itself.
 */
suspended: Name | null, };

export type LogLine = { 
/**
 * The position of the entry that the plugin was handed, 0 at the start.
 */
seq: Seq, 
/**
 * How serious it is.
 */
severity: Severity, 
/**
 * One line, cut off where it was too long.
 */
text: string, };

export type Severity = "debug" | "info" | "warn" | "error";

export type LoadAttempt = { 
/**
 * When, on the host's clock.
 */
at: string, 
/**
 * The file's name.
 */
file: string, 
/**
 * The plugin in it, once that is known.
 */
plugin: string | null, 
/**
 * Its version, once that is known.
 */
version: string | null, } & ({ "outcome": "taken" } | { "outcome": "refused" } & Objection | { "outcome": "turned_down" } & Objection | { "outcome": "removed" });

export type Objection = { 
/**
 * Why it does not run, in a sentence.
 */
message: string, 
/**
 * What its author can change, where there is something to say.
 */
hint: string | null, };

export type ColoredTeam = TeamSheet & { color?: string };
/** A match header as the desk writes it: team colors, round and scheduled time come along. */
export type DeskHeader = Omit<MatchHeader, "teams" | "format"> & {
  teams: { a: ColoredTeam; b: ColoredTeam };
  format: MatchFormat;
  /** For people, like `QF 2`. */
  round?: string;
  /** When it is to begin, for people, like `14:40`. */
  time?: string;
};

export type EntryJson = Record<string, unknown> & { id: string; kind: string };
