/**
 * Keeps the score of a match, entry by entry: side-out scoring in doubles and singles, rally
 * scoring with its options, change of ends, time-outs, penalties, the referee's word, retirement.
 *
 * Invariant: a team's score is even exactly when its starting server belongs on the right, except
 * with `static` positions, where the starting server is always the right player. It looks at
 * effective entries only and knows nothing about corrections, strokes or readings.
 */
import { TEAMS, opponentsOf } from "./chart.mjs";

/** Who wins the rally, by how it ended: `by` itself or the other team. */
const BY_WINS = { winner: true, ace: true, net: false, out: false, fault: false };

/**
 * @param {any} end a `rally_end`
 * @returns {'a'|'b'} who won the rally
 */
export function rallyWinner(end) {
  if (end.won_by !== undefined && end.won_by !== null) return end.won_by;
  return BY_WINS[end.how] ? end.by : opponentsOf(end.by);
}

/**
 * @typedef {object} Effect what one entry did
 * @property {boolean} counted a rally was counted
 * @property {boolean} changed the score object is another one
 * @property {'a'|'b'|null} pointFor the team that gained a point by play or penalty
 */

/** One match in progress. */
export class Match {
  /** @param {any} header the match header */
  constructor(header) {
    const { discipline, scoring, points, win_by, games } = header.format;
    this.doubles = discipline === "doubles";
    this.sideOut = scoring === "side_out";
    this.numbered = this.doubles && this.sideOut;
    this.static = header.format.positions === "static";
    this.onlyServerWins = header.format.winning_point === "server";
    this.target = points;
    this.winBy = win_by;
    this.bestOf = games;
    this.gamesToWin = (games + 1) / 2;
    this.half = Math.ceil(points / 2);
    this.firstServe = header.first_serve;

    this.game = 1;
    this.games = { a: 0, b: 0 };
    this.finished = [];
    this.near = "a";
    this.changeEnds = false;
    this.winner = null;
    this.rallies = 0;
    /** Who was named starting server from which game on, in the order named. */
    this.named = [
      { team: "a", from: 1, player: 0 },
      { team: "b", from: 1, player: 0 },
    ];
    this.frozen = null;
    this.endsChangedNow = false;
    /** Counted rallies of each game; a game that play comes to again begins anew. */
    this.ralliesOf = {};
    this.startGame();
  }

  /** Sets everything that begins anew with each game. */
  startGame() {
    this.points = { a: 0, b: 0 };
    const timeOuts = this.target < 21 ? 2 : 3;
    this.timeOutsLeft = { a: timeOuts, b: timeOuts };
    this.ralliesOf[this.game] = 0;
    this.endsChanged = false;
    this.enterGame();
    this.serving = this.game % 2 === 1 ? this.firstServe : opponentsOf(this.firstServe);
    this.server = this.numbered ? 2 : null;
    this.serverPlayer = this.rightPlayer(this.serving);
  }

  /** What is new whenever `game` is another one, also by the referee's word. */
  enterGame() {
    this.starting = { a: this.startingServer("a"), b: this.startingServer("b") };
  }

  /** The one named last of those named for this game or an earlier one. */
  startingServer(team) {
    const forThisGame = this.named.filter((one) => one.team === team && one.from <= this.game);
    return forThisGame[forThisGame.length - 1].player;
  }

  get ralliesOfGame() {
    return this.ralliesOf[this.game] ?? 0;
  }

  get deciding() {
    return this.game === this.bestOf;
  }

  /** @returns {0|1} who of the team belongs on the right */
  rightPlayer(team) {
    const even = this.points[team] % 2 === 0;
    return this.static || even ? this.starting[team] : 1 - this.starting[team];
  }

  /** Who serves to whom, from which court. */
  standing() {
    const { serving, server } = this;
    const receiving = opponentsOf(serving);
    const even = this.points[serving] % 2 === 0;
    if (!this.doubles) {
      return { serving, server, server_player: 0, receiver_player: 0, court: even ? "right" : "left" };
    }
    const right = this.rightPlayer(serving);
    const player = this.static ? (even ? right : 1 - right) : this.serverPlayer;
    const fromRight = player === right;
    const receiver = fromRight ? this.rightPlayer(receiving) : 1 - this.rightPlayer(receiving);
    return {
      serving,
      server,
      server_player: player,
      receiver_player: receiver,
      court: fromRight ? "right" : "left",
    };
  }

  /** @returns {boolean} whether these points win the game for the team */
  wins(team, points = this.points) {
    const own = points[team];
    return own >= this.target && own - points[opponentsOf(team)] >= this.winBy;
  }

  winsWithOneMore(team) {
    return this.wins(team, { ...this.points, [team]: this.points[team] + 1 });
  }

  /** @returns {boolean} whether the team scores if it wins the next rally */
  scoresNext(team) {
    if (team === this.serving) return true;
    if (this.sideOut) return false;
    return !(this.onlyServerWins && this.winsWithOneMore(team));
  }

  /** The team that `could`, the serving one first; null if neither. */
  firstToServeThat(could) {
    return [this.serving, opponentsOf(this.serving)].find(could) ?? null;
  }

  gamePoint() {
    return this.firstToServeThat((team) => this.scoresNext(team) && this.winsWithOneMore(team));
  }

  matchPoint() {
    return this.firstToServeThat(
      (team) => this.games[team] + 1 === this.gamesToWin && this.scoresNext(team) && this.winsWithOneMore(team),
    );
  }

  call() {
    const own = this.points[this.serving];
    const other = this.points[opponentsOf(this.serving)];
    return this.numbered ? `${own}-${other}-${this.server}` : `${own}-${other}`;
  }

  /** @returns {any} the score object, keys in their fixed order */
  score() {
    const over = this.winner !== null;
    const { serving, server, server_player, receiver_player, court } = this.frozen ?? this.standing();
    return {
      game: this.game,
      games: { ...this.games },
      points: { ...this.points },
      call: over ? null : this.call(),
      serving,
      server,
      server_player,
      receiver_player,
      court,
      finished: this.finished.map((game) => ({ ...game })),
      change_ends: over ? false : this.changeEnds,
      near: this.near,
      time_outs_left: { ...this.timeOutsLeft },
      game_point: over ? null : this.gamePoint(),
      match_point: over ? null : this.matchPoint(),
      winner: this.winner,
      rallies: this.rallies,
    };
  }

  /**
   * Takes the next effective entry. Nothing changes any more once the match is over.
   * @param {any} entry
   * @returns {Effect}
   */
  apply(entry) {
    const rule = RULES[entry.kind];
    if (this.winner !== null || rule === undefined) {
      return { counted: false, changed: false, pointFor: null };
    }
    const shownBefore = this.changeEnds;
    const before = JSON.stringify(this.score());
    this.standingBefore = this.standing();
    this.pointFor = null;
    rule.call(this, entry);
    const changed = before !== JSON.stringify(this.score());
    const counted = entry.kind === "rally_end";
    // A change of ends is shown until the next entry that counts a rally or changes another field.
    // While it is shown, the rule left the flag as it was unless it caused a new change.
    if (changed && shownBefore && !this.endsChangedNow) this.changeEnds = false;
    this.endsChangedNow = false;
    return { counted, changed, pointFor: this.pointFor };
  }

  rallyWon(team) {
    this.rallies += 1;
    this.ralliesOf[this.game] = this.ralliesOfGame + 1;
    if (this.scoresNext(team)) {
      const gameOver = this.gainPoint(team);
      if (gameOver) return;
    }
    if (team !== this.serving) this.passServe();
  }

  /** @returns {boolean} whether the point ended the game */
  gainPoint(team) {
    this.points[team] += 1;
    this.pointFor = team;
    if (this.wins(team)) {
      this.endGame(team, this.standingBefore);
      return true;
    }
    if (this.deciding && !this.endsChanged && this.points[team] >= this.half) {
      this.endsChanged = true;
      this.showChangeOfEnds();
    }
    return false;
  }

  showChangeOfEnds() {
    this.near = opponentsOf(this.near);
    this.changeEnds = true;
    this.endsChangedNow = true;
  }

  /** The serve goes to the second server, or else to the other team's player on the right. */
  passServe() {
    if (this.numbered && this.server === 1) {
      this.server = 2;
      this.serverPlayer = 1 - this.serverPlayer;
      return;
    }
    this.serving = opponentsOf(this.serving);
    this.server = this.numbered ? 1 : null;
    this.serverPlayer = this.rightPlayer(this.serving);
  }

  /** @param standing who stood where, kept if this ends the match */
  endGame(team, standing) {
    this.games[team] += 1;
    this.finished.push({ ...this.points });
    if (this.games[team] === this.gamesToWin) {
      this.endMatch(team, standing);
      return;
    }
    this.game = this.games.a + this.games.b + 1;
    this.startGame();
    this.showChangeOfEnds();
  }

  endMatch(team, standing) {
    this.winner = team;
    this.frozen = standing;
  }

  /** The offender loses a point; if it has none, the other team gains one. */
  punish(team) {
    if (this.points[team] > 0) this.points[team] -= 1;
    else this.gainPoint(opponentsOf(team));
  }

  fix({ points, serving, server, games }) {
    const gameBefore = this.game;
    if (games) {
      this.games = { a: games.a, b: games.b };
      this.game = games.a + games.b + 1;
    }
    if (this.game !== gameBefore) this.enterGame();
    this.points = { a: points.a, b: points.b };
    this.fixServer(serving, server);
    const reached = Math.max(points.a, points.b) >= this.half;
    if (this.deciding && reached) this.endsChanged = true;
    const winner = TEAMS.find((team) => this.wins(team));
    if (winner) this.endGame(winner, this.standing());
  }

  fixServer(serving, given) {
    const sameTeam = serving === this.serving;
    const server = this.numbered ? (given ?? (sameTeam ? this.server : 1)) : null;
    const stays = sameTeam && server === this.server;
    this.serving = serving;
    this.server = server;
    if (stays) return;
    const right = this.rightPlayer(serving);
    this.serverPlayer = server === 2 ? 1 - right : right;
  }

  /** From the next game on, or in this one if nothing has happened in it yet. */
  lineUp(team, player) {
    const untouched = this.ralliesOfGame === 0 && this.points.a === 0 && this.points.b === 0;
    this.named.push({ team, from: untouched ? this.game : this.game + 1, player });
    if (!untouched || this.starting[team] === player) return;
    this.starting[team] = player;
    // The partners have changed places, so whoever stands where the server stood serves.
    if (team === this.serving) this.serverPlayer = 1 - this.serverPlayer;
  }

  takeTimeOut({ team, medical }) {
    if (!medical && this.timeOutsLeft[team] > 0) this.timeOutsLeft[team] -= 1;
  }
}

/** What each kind does to the score; the kinds left out do nothing. */
const RULES = {
  /** @this {Match} */
  rally_end(entry) {
    this.rallyWon(rallyWinner(entry));
  },
  /** @this {Match} */
  time_out(entry) {
    this.takeTimeOut(entry);
  },
  /** @this {Match} */
  penalty(entry) {
    this.punish(entry.team);
  },
  /** @this {Match} */
  score_fix(entry) {
    this.fix(entry);
  },
  /** @this {Match} */
  lineup(entry) {
    this.lineUp(entry.team, entry.starting_server);
  },
  /** @this {Match} */
  retire(entry) {
    this.endMatch(opponentsOf(entry.team), this.standingBefore);
  },
};

/**
 * The score of each entry worth a line: every counted rally, and every other change.
 * @param {any} header
 * @param {import('./chart.mjs').EffectiveEntry[]} effective
 * @returns {{entry: string, score: any}[]}
 */
export function scoreLines(header, effective) {
  const match = new Match(header);
  const lines = [];
  for (const { id, entry } of effective) {
    const { counted, changed } = match.apply(entry);
    if (counted || changed) lines.push({ entry: id, score: match.score() });
  }
  return lines;
}

/**
 * How a retirement is written down: the retiring team keeps its points, the other is given the
 * least that wins, games not played are shut-outs. Published: rule 12.F.6.a, picklepow.com (2024).
 * @param {any} score the score object, before or after the `retire`
 * @param {any} format the header's `format`
 * @param {'a'|'b'} retiringTeam
 * @returns {{a: number, b: number}[]} all games, those finished before included
 */
export function recordedScore(score, format, retiringTeam) {
  const winner = opponentsOf(retiringTeam);
  const kept = score.points[retiringTeam];
  const least = Math.max(format.points, kept + format.win_by, score.points[winner]);
  const missing = (format.games + 1) / 2 - score.games[winner];
  const asGame = (own, other) => (winner === "a" ? { a: own, b: other } : { a: other, b: own });
  const unplayed = Array.from({ length: Math.max(missing - 1, 0) }, () => asGame(format.points, 0));
  return [...score.finished, asGame(least, kept), ...unplayed];
}
