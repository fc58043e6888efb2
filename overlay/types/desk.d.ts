// What the desk page hears from the host over HTTP, and what it knows. Written by
// hand; depends on messages.d.ts and on nothing else.
import type { MatchFormat, MatchHeader, Score, Team, TeamSheet } from "./messages.js";

/** Who a link is for; each has a key of its own. */
export type Role = "desk" | "charter" | "booth" | "viewer";

export type Links = {
  /** How other machines reach this host, `http://192.168.1.20:7447`. */
  addresses: string[];
  /** The system's name of the network behind an address. */
  networks?: Record<string, string>;
  reachable: boolean;
  /** Whether others are let in; absent where the host was started for others, too. */
  let_in?: boolean;
  /** In answer to a new key: how many connections with the old one were cut off. */
  ended?: number;
  keys: Record<Role, string>;
  /** How to let others in, where they cannot. */
  hint?: string;
};

export type ColouredTeam = TeamSheet & { colour?: string };
/** A match header as the desk writes it: team colours come along. */
export type DeskHeader = Omit<MatchHeader, "teams" | "format"> & {
  teams: { a: ColouredTeam; b: ColouredTeam };
  format: MatchFormat;
};

export type Charter = {
  client: string;
  seat: boolean;
  address?: string | null;
  late_ms: number | null;
  clock_ms: number | null;
};

export type CourtState = {
  court: string;
  state: "empty" | "ready" | "playing" | "paused" | "finished";
  match: string | null;
  score: Score | null;
  entries: number;
  last_entry: { id: string; kind: string; at: string; received: string } | null;
  charters: Charter[];
  viewers: { viewer: number; booth: number };
};

export type MatchState = {
  id: string;
  header: DeskHeader;
  state: "planned" | "on" | "finished" | "put_aside";
  court: string | null;
  entries: number;
  winner: Team | null;
};

export type HostState = {
  now: string;
  version: string;
  courts: CourtState[];
  matches: MatchState[];
  text_files: { folder: string | null; problem: string | null };
};

export type ImportProblem = { line: number; column: string | null; message: string };
export type ImportAnswer = { matches: DeskHeader[]; problems: ImportProblem[] };

export type EntryJson = Record<string, unknown> & { id: string; kind: string };
export type ListedEntry = {
  seq: number;
  entry: EntryJson;
  state: "original" | "amended" | "retracted" | "inserted";
  /** The correction that decides, where there is one. */
  correction?: string | null;
  score: Score | null;
  rally: number | null;
};
export type Refusal = { id: string | null; code: string; message: string };
export type Preview = {
  score: { before: Score; after: Score };
  rallies: { number: number; before: string; after: string }[];
  readings: { changed: number };
  refused: Refusal[];
  flags: unknown[];
};
export type Taken = { accepted: { id: string; seq: number; flags: unknown[] }[]; refused: Refusal[] };

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

/** What the desk page knows; every part of it draws from this. */
export type DeskView = {
  host: HostState | null;
  /** The address that goes into links stands first. */
  links: Links | null;
  /** The host's addresses in the order it offers them. */
  offered: string[];
  plugins: PluginReport | null;
  /** Why there is no fresh word from the host; empty while there is. */
  trouble: string;
  /** When the host was last heard, this machine's clock, ms; 0: never. */
  heardAt: number;
  /** Why links or plugins are not known, though the host answers; else empty. */
  missing: { links: string; plugins: string };
  /** What the host says it can do: the paths it describes. Null: it does not say, so all of it. */
  paths: readonly string[] | null;
  /** Host's clock minus this machine's, ms. */
  clockMs: number;
};
