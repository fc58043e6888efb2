// What goes over HTTP as JSON. Written by `cargo xtask types`; do not edit.
import type { MatchFormat, MatchHeader, Reading, Score, Seq, EntryId, Team, TeamSheet } from "./messages.js";

export type Role = "desk" | "charter" | "booth" | "viewer";

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
score: Score | null, };

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
ignored: Array<string>, problems: Array<ImportProblem>, };

export type ImportProblem = { line: number, 
/**
 * Where one cell is at fault.
 */
column: string | null, message: string, };

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

export type SettingValue = number | boolean | string;
export type Setting = { name: string; about: string } & (
  | { type: "number" | "whole"; from: number; to: number; default: number }
  | { type: "truth"; default: boolean }
  | { type: "choice"; choices: string[] }
  | { type: "text"; longest: number; default: string }
);
export type Plugin = {
  id: string;
  version: string;
  about: string;
  provides: string[];
  reads: string[];
  settings: Setting[];
  file: string;
  built_in: boolean;
  on: boolean;
  chosen: Record<string, SettingValue> | null;
};
export type PluginFault = { message: string; kind?: string; entry?: string | null };
export type PluginOnCourt = {
  plugin: string;
  state: "running" | "stopped" | "failed" | "suspended" | "switched_off";
  fault?: PluginFault;
  /** Why it is switched off for this match. */
  why?: string;
  last_fault?: PluginFault | null;
  missing?: { indicator: string }[];
  calls: number;
  fuel: number;
  time_us: number;
  most_time_us: number;
  memory_bytes: number;
  faults: number;
};
export type LoadAttempt = {
  at: string;
  file: string;
  plugin: string | null;
  version: string | null;
  outcome: "taken" | "refused" | "turned_down" | "removed";
  message?: string;
  /** What the plugin's author can change. */
  hint?: string | null;
};
export type PluginReport = {
  plugins: Plugin[];
  courts: Record<string, PluginOnCourt[]>;
  attempts: LoadAttempt[];
};
