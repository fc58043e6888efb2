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
