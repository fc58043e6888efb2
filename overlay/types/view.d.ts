// What the pages make of the feed: the one state object that every element
// draws. Written by hand; depends on messages.d.ts and on nothing else.
import type { FeedMessage, MatchHeader, RallyView, Reading, Reason, Score, Snapshot } from "./messages.js";

/** One of the two teams of a match. */
export type Side = "a" | "b";

export type Fault = NonNullable<Snapshot["unavailable"]>[number];

/** One rally, current or earlier. */
export type OneRally = Omit<RallyView, "earlier">;

/** How the page is connected, for people to read. */
export type Connection = {
  /** `replaced`: the desk has made a new key, and this link holds the old one. */
  phase: "connecting" | "live" | "lost" | "replaced" | "recorded" | "failed";
  /** Attempts since the feed was last heard. */
  attempt: number;
  /** What went wrong, for `failed`. */
  message: string;
};

/** Something worth a short plate over the picture. `id` grows with each. */
export type Moment = {
  id: number;
  kind: "escape" | "turned" | "game point" | "match point" | "game" | "match";
  /** Whose moment it is; nobody's where the feed does not tell. */
  team: Side | null;
  /** How often in a row for `escape` and `turned`, which game for `game`, else 0. */
  streak: number;
};

/** What happened between rallies, until play goes on. */
export type Between = {
  entry: string;
  kind: "time_out" | "penalty" | "replay" | "score_fix";
  /** Whose time-out or foul. */
  team: Side | null;
  isMedical: boolean;
};

/** What the feed says, and nothing about time or layout. */
export type FeedState = {
  connection: Connection;
  seq: number | null;
  revision: number;
  match: MatchHeader | null;
  score: Score | null;
  readings: Readonly<Record<string, Reading>>;
  rally: RallyView | null;
  unavailable: ReadonlyArray<Fault>;
  /** The host says that play is paused. */
  paused: boolean;
  between: Between | null;
  moment: Moment | null;
  /** Moments since the page was opened; gives each its `id`. */
  moments: number;
  /** Messages that were not understood and left alone. */
  ignored: number;
  /** An update came that does not follow from what is known: ask for a snapshot. */
  outOfStep: boolean;
};

/** A reason with the stroke of the shot it speaks of, where that decides its words. */
export type StruckReason = Reason & { stroke?: string | null };

/** Who holds the initiative, as shown in words. */
export type Lean = {
  /** `rest`: no shot is being played; `unknown`: no such reading. */
  phase: "unknown" | "rest" | "play";
  toward: Side | null;
  strength: number;
  why: ReadonlyArray<StruckReason>;
  flags: ReadonlyArray<string>;
};

/** A lean that is held for a moment before another takes its place. */
export type CalmLean = { lean: Lean; since: number };

/** What elements draw. */
export type View = FeedState & { shown: Lean };

/** What the reducer takes: messages of the feed, and word from the connection. */
export type Action = FeedMessage | { type: "connection"; connection: Connection } | { type: "unreadable" };

/** Time and chance enter from outside, so that tests can hold them. */
export type Clock = {
  now: () => number;
  after: (ms: number, run: () => void) => () => void;
};
