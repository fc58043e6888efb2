// What travels over `GET /courts/{court}/feed`, host to page, as JSON text.
// This file is what the host's Rust types export; pages only read it. It holds
// shapes, no behaviour, and nothing a page adds for itself (see view.d.ts).

/** The two teams of a match. */
export type Team = "a" | "b";

export type TeamSheet = { name: string; players: Array<string> };

export type MatchFormat = {
  discipline: "doubles" | "singles";
  scoring: "side_out" | "rally";
  points: number;
  win_by: number;
  games: number;
  winning_point?: "any" | "server";
  positions?: "swap" | "static";
};

export type MatchHeader = {
  kind: "match";
  chart: number;
  id: string;
  title: string;
  court: string;
  teams: { a: TeamSheet; b: TeamSheet };
  format: MatchFormat;
  first_serve: Team;
};

export type Points = { a: number; b: number };

export type Score = {
  game: number;
  games: Points;
  points: Points;
  call: string | null;
  serving: Team;
  server: number | null;
  server_player: number;
  receiver_player: number;
  court: "right" | "left";
  finished: Array<Points>;
  change_ends: boolean;
  near: Team;
  time_outs_left: Points;
  game_point: Team | null;
  match_point: Team | null;
  winner: Team | null;
  rallies: number;
};

export type Value =
  | { type: "lean"; toward: Team | null; strength: number }
  | { type: "count"; n: number }
  | { type: "share"; part: number; whole: number }
  | { type: "chance"; p: number }
  | { type: "duration"; ms: number }
  | { type: "text"; text: string }
  | { type: "flag"; on: boolean };

/** One row of the cue table that was read; `team` is the team it is against. */
export type Reason = { code: string; team: Team | null; entry: string; inferred: boolean };

export type ReadingKey = {
  indicator: string;
  team: Team | null;
  player: number | null;
  slot: string | null;
};

export type Reading = ReadingKey & {
  value: Value;
  why: Array<Reason>;
  flags: Array<string>;
  plugin: string;
  seq: number;
};

/** One contact with the ball and the initiative just after it. */
export type ShotView = {
  n: number;
  entry: string | null;
  team: Team;
  stroke: string | null;
  contact: string | null;
  cues: Array<string>;
  assumed: boolean;
  toward: Team | null;
  strength: number;
  why: Array<Reason>;
  flags: Array<string>;
};

export type RallyEndView = {
  entry: string;
  won_by: Team | null;
  how: string | null;
  by: Team | null;
};

export type EarlierRally = {
  number: number;
  shots: Array<ShotView>;
  end: RallyEndView | null;
};

export type RallyView = {
  number: number;
  shots: Array<ShotView>;
  end: RallyEndView | null;
  earlier: Array<EarlierRally>;
};

/** Shots to put in by their `n`; a higher number begins a new rally. */
export type RallyPatch = {
  number: number;
  shots: Array<ShotView>;
  end?: RallyEndView | null;
};

export type PluginFault = { plugin: string; message: string };

export type Snapshot = {
  seq: number;
  revision: number;
  /** Why it comes in the middle of a feed: `corrected`, `match`. */
  reason?: string;
  match: MatchHeader | null;
  score: Score | null;
  readings: Array<Reading>;
  rally: RallyView | null;
  unavailable?: Array<PluginFault>;
};

export type Update = {
  seq: number;
  revision: number;
  entry?: Record<string, unknown>;
  score?: Score;
  readings: Array<Reading>;
  gone?: Array<ReadingKey>;
  rally?: RallyPatch;
  /** All faults, where they have changed. */
  unavailable?: Array<PluginFault>;
};

export type FeedMessage =
  | ({ type: "snapshot" } & Snapshot)
  | ({ type: "update" } & Update)
  | { type: "beat" };
