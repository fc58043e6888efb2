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
