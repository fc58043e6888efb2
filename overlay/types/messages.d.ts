// What travels over the feed, and what the review page gets. Written by `cargo xtask types`; do not edit.

export type Team = "a" | "b";

export type EntryId = string;

export type Seq = number;

export type Name = string;

export type Call = string;

export type Stroke = "serve" | "return" | "drive" | "drop" | "dink" | "lob" | "reset" | "volley" | "block" | "speedup" | "overhead" | "erne" | "atp" | "other";

export type Contact = "bounce" | "air" | "half_volley";

export type Cue = "off_balance" | "awkward" | "attackable" | "net_cord";

export type PairOf<T> = { 
/**
 * Team a's.
 */
a: T, 
/**
 * Team b's.
 */
b: T, };

export type ServiceCourt = "right" | "left";

export type Score = { 
/**
 * The game being played, from 1.
 */
game: number, 
/**
 * Games won.
 */
games: PairOf<number>, 
/**
 * Points of the current game.
 */
points: PairOf<number>, 
/**
 * What the server calls out before serving; `None` after the match.
 */
call: Call | null, 
/**
 * The team that serves next.
 */
serving: Team, 
/**
 * 1 or 2; `None` where a service turn has one server.
 */
server: number | null, 
/**
 * Which player of the serving team serves.
 */
server_player: number, 
/**
 * Which player of the other team receives.
 */
receiver_player: number, 
/**
 * The court the server serves from.
 */
court: ServiceCourt, 
/**
 * The games that are over, in order.
 */
finished: Array<PairOf<number>>, 
/**
 * Whether the teams change ends now.
 */
change_ends: boolean, 
/**
 * The team at the near end, after the change if there is one now.
 */
near: Team, 
/**
 * Standard time-outs left in this game.
 */
time_outs_left: PairOf<number>, 
/**
 * The team that would win the game by winning the next rally; the serving
 * team if both would.
 */
game_point: Team | null, 
/**
 * The team that would win the match by winning the next rally; the serving
 * team if both would.
 */
match_point: Team | null, 
/**
 * Who won the match.
 */
winner: Team | null, 
/**
 * Rallies of the whole match, replayed ones left out.
 */
rallies: number, };

export type Value = { "type": "lean", 
/**
 * The team it leans towards.
 */
toward: Team | null, 
/**
 * From 0 to 1.
 */
strength: number, } | { "type": "count", 
/**
 * How many.
 */
n: number, } | { "type": "share", 
/**
 * At most `whole`.
 */
part: number, 
/**
 * The sample size; may be 0.
 */
whole: number, } | { "type": "chance", 
/**
 * From 0 to 1.
 */
p: number, } | { "type": "duration", 
/**
 * Milliseconds.
 */
ms: number, } | { "type": "text", 
/**
 * One line or more, of bounded length.
 */
text: string, } | { "type": "flag", 
/**
 * Whether it is so.
 */
on: boolean, };

export type Reason = { 
/**
 * Which rule was read.
 */
code: Name, 
/**
 * The team it speaks against.
 */
team: Team | null, 
/**
 * The entry that shows it.
 */
entry: EntryId, 
/**
 * It was inferred, not seen.
 */
inferred: boolean, };

export type ReadingKey = { 
/**
 * The indicator's name.
 */
indicator: Name, 
/**
 * The team it is about; `None`: the match.
 */
team: Team | null, 
/**
 * The player it is about, 0 or 1.
 */
player: number | null, 
/**
 * A further distinction within the indicator.
 */
slot: Name | null, };

export type Reading = { 
/**
 * What it says.
 */
value: Value, 
/**
 * Why, sorted by code, then team, then entry.
 */
why: Array<Reason>, 
/**
 * Words that qualify it, such as `inferred`; sorted.
 */
flags: Array<string>, 
/**
 * The plugin that published it.
 */
plugin: Name, 
/**
 * The position of the entry at which `value` last changed; 0: it has been
 * so from the start.
 */
seq: Seq, 
/**
 * The indicator's name.
 */
indicator: Name, 
/**
 * The team it is about; `None`: the match.
 */
team: Team | null, 
/**
 * The player it is about, 0 or 1.
 */
player: number | null, 
/**
 * A further distinction within the indicator.
 */
slot: Name | null, };

export type ShotView = { 
/**
 * Its number in the rally, from 1; assumed shots count.
 */
n: number, 
/**
 * The entry that recorded it; `None` for an assumed one.
 */
entry: EntryId | null, 
/**
 * Who struck it.
 */
team: Team, 
/**
 * Which player, where known: as recorded, else as the score tells.
 */
player: number | null, 
/**
 * How; `None` for an assumed one.
 */
stroke: Stroke | null, 
/**
 * How the ball was met, where known.
 */
contact: Contact | null, 
/**
 * The cues seen about it.
 */
cues: Array<Cue>, 
/**
 * Nobody recorded it: it must have been there.
 */
assumed: boolean, 
/**
 * Who held the initiative, by the latest entry about this moment.
 */
toward: Team | null, 
/**
 * How strongly, 0 to 1.
 */
strength: number, 
/**
 * Why.
 */
why: Array<Reason>, 
/**
 * What else was said of it.
 */
flags: Array<string>, };

export type RallyEndView = { 
/**
 * The entry that recorded the end.
 */
entry: EntryId, 
/**
 * Who won it; `None` if it is replayed or cut off.
 */
won_by: Team | null, 
/**
 * How it ended: a word of `rally_end`, `replay` or `cut_off`.
 */
how: string | null, 
/**
 * Whose shot or fault ended it.
 */
by: Team | null, 
/**
 * Which player of `by`, where known: as recorded, else whoever struck the
 * last ball, if `by` did.
 */
player: number | null, };

export type EarlierRally = { 
/**
 * Counted from 1 over the match, replayed ones included.
 */
number: number, 
/**
 * Its shots so far.
 */
shots: Array<ShotView>, 
/**
 * How it ended, once it has.
 */
end: RallyEndView | null, };

export type RallyView = { 
/**
 * The ones before it, the latest first.
 */
earlier: Array<EarlierRally>, 
/**
 * Counted from 1 over the match, replayed ones included.
 */
number: number, 
/**
 * Its shots so far.
 */
shots: Array<ShotView>, 
/**
 * How it ended, once it has.
 */
end: RallyEndView | null, };

export type RallyPatch = { 
/**
 * The rally; a higher number than before begins a new one.
 */
number: number, 
/**
 * The shots that are new or different, to be put in by `n`.
 */
shots: Array<ShotView>, 
/**
 * How the rally ended, if it ended with this entry.
 */
end?: RallyEndView, };

export type Unavailable = { 
/**
 * Which plugin.
 */
plugin: string, 
/**
 * Why, in one sentence.
 */
message: string, };

export type Snapshot = { "type": "snapshot", 
/**
 * The position of the last entry, 0 without one.
 */
seq: number, 
/**
 * Raised by each correction.
 */
revision: number, 
/**
 * Why a snapshot comes in the middle of a feed: `corrected`, `match`,
 * `plugins`, `words`, `paused`, `resumed`.
 */
reason?: string, 
/**
 * The match header; `null` on a court without a match.
 */
match: MatchHeader | null, 
/**
 * The score.
 */
score: Score | null, 
/**
 * All current readings, sorted.
 */
readings: Array<Reading>, 
/**
 * The current rally and the last ones.
 */
rally: RallyView | null, 
/**
 * Plugins whose readings are not to be had, and why.
 */
unavailable?: Array<Unavailable>, 
/**
 * The latest time-out, technical foul, replay or corrected score since
 * the last shot, as its entry; what a page opened now has to say.
 */
between?: Record<string, unknown>, 
/**
 * The desk has paused play; said only while it lasts.
 */
paused?: boolean, };

export type Update = { "type": "update", 
/**
 * The position of the entry.
 */
seq: number, 
/**
 * As in the last snapshot.
 */
revision: number, 
/**
 * The entry as it is in the effective chart.
 */
entry: Record<string, unknown>, 
/**
 * The score, if it is another one.
 */
score?: Score, 
/**
 * The readings that are new or different, sorted.
 */
readings: Array<Reading>, 
/**
 * The readings that are no more.
 */
gone?: Array<ReadingKey>, 
/**
 * What changed in the rally.
 */
rally?: RallyPatch, 
/**
 * Plugins whose readings are not to be had, if that has changed.
 */
unavailable?: Array<Unavailable>, 
/**
 * As in the snapshot.
 */
paused?: boolean, };

export type Outcome = "recovered" | "turned" | "won" | "lost";

export type Spell = { 
/**
 * The team that was on defense.
 */
team: Team, 
/**
 * Whether something other than its depth spoke against it.
 */
pressed: boolean, 
/**
 * How it ended.
 */
outcome: Outcome, };

export type ReviewShot = { 
/**
 * When it happened, in milliseconds since 1970; `None` for an assumed one.
 */
at: number | null, 
/**
 * Its number in the rally, from 1; assumed shots count.
 */
n: number, 
/**
 * The entry that recorded it; `None` for an assumed one.
 */
entry: EntryId | null, 
/**
 * Who struck it.
 */
team: Team, 
/**
 * Which player, where known: as recorded, else as the score tells.
 */
player: number | null, 
/**
 * How; `None` for an assumed one.
 */
stroke: Stroke | null, 
/**
 * How the ball was met, where known.
 */
contact: Contact | null, 
/**
 * The cues seen about it.
 */
cues: Array<Cue>, 
/**
 * Nobody recorded it: it must have been there.
 */
assumed: boolean, 
/**
 * Who held the initiative, by the latest entry about this moment.
 */
toward: Team | null, 
/**
 * How strongly, 0 to 1.
 */
strength: number, 
/**
 * Why.
 */
why: Array<Reason>, 
/**
 * What else was said of it.
 */
flags: Array<string>, };

export type ReviewRally = { 
/**
 * Counted from 1 over the match, replayed ones included.
 */
number: number, 
/**
 * The score as it stood when the rally began.
 */
before: Score, 
/**
 * The score after its last entry.
 */
after: Score, 
/**
 * Whether the score counts it: not if replayed, cut off or not ended.
 */
counted: boolean, 
/**
 * When its first entry happened, in milliseconds since 1970.
 */
at: number, 
/**
 * Its shots, assumed ones included.
 */
shots: Array<ReviewShot>, 
/**
 * How it ended; `None` where the chart ends in the middle of it.
 */
end: RallyEndView | null, 
/**
 * Which fault ended it, if recorded.
 */
fault: string | null, 
/**
 * The defense spells that count, in order.
 */
spells: Array<Spell>, };

export type ReviewAside = { 
/**
 * The rally it stands behind, by number; 0: before the first.
 */
after: number, 
/**
 * The rally it fell into, which is `after` then; `None`: between two.
 */
rally: number | null, 
/**
 * The entry that recorded it.
 */
entry: EntryId, 
/**
 * When it happened, in milliseconds since 1970.
 */
at: number, 
/**
 * The kind of entry, in the chart's words.
 */
kind: string, 
/**
 * The team it is about, if it is about one.
 */
team: Team | null, 
/**
 * What happened, in words; empty for a note.
 */
what: string, 
/**
 * The text of a note.
 */
text: string | null, 
/**
 * The score after it.
 */
score: Score, };

export type Review = { 
/**
 * The match header.
 */
match: MatchHeader, 
/**
 * The score at the end of the chart.
 */
score: Score, 
/**
 * Its rallies in order.
 */
rallies: Array<ReviewRally>, 
/**
 * What happened beside them, in order: time-outs, notes, fouls, the
 * referee's word on the score, starting servers, a team that retired.
 */
asides: Array<ReviewAside>, 
/**
 * Plugins whose readings are not to be had, and why.
 */
unavailable: Array<Unavailable>, };

export type TeamSheet = { name: string, players?: Array<string>, };

export type MatchFormat = { discipline: "doubles" | "singles", scoring: "side_out" | "rally", points: number, win_by: number, games: number, winning_point?: "any" | "server", positions?: "swap" | "static", };

export type MatchHeader = { kind: "match", chart: number, id: string, title?: string, court?: string, teams: { a: TeamSheet, b: TeamSheet, }, format: MatchFormat, first_serve: Team, };

/** A sign of life, where a page has asked for one. */
export type Beat = { "type": "beat", };

export type FeedMessage = Snapshot | Update | Beat;
