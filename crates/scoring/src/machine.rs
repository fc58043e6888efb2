//! The state machine: what each entry does to the score.
//!
//! A step has two halves. First the entry takes effect (points, turn, game,
//! match); then everything that follows from those (courts, receiver, call,
//! game point) is worked out anew, unless the match is over: then it stays as
//! it was. Beside the score there is little to remember: who starts which
//! game, which games have been played, whether the last one has had its change of
//! ends, whether the current rally has been served.

use std::mem;
use std::sync::Arc;

use rallytide_chart::{Flag, Header, Lineup, PairOf, Play, ScoreFix, Shot, Stroke, Team, TimeOut};

use crate::rules::Rules;
use crate::score::{Call, Score, ServiceCourt};

/// The most games a match can have.
const MOST_GAMES: usize = 5;

/// The scoring of one match: takes effective entries in order, has the score.
#[derive(Debug, Clone)]
pub struct ScoreKeeper {
    rules: Rules,
    /// Each team's starting server, game by game.
    starting_servers: [PairOf<u32>; MOST_GAMES],
    /// Whether a rally of a game has counted, game by game.
    begun: [bool; MOST_GAMES],
    /// Whether the change of ends within the last game has taken place. Kept
    /// while the referee moves to another game and back: `near` is kept too.
    ends_changed_within: bool,
    /// Whether a serve of the current rally has been seen.
    served: bool,
    score: Score,
}

/// What one entry did.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ScoreStep {
    /// Whether the score object differs from the one before.
    pub changed: bool,
    /// Whether a rally was counted.
    pub counted: bool,
    /// Whether this entry ended the match.
    pub ended_match: bool,
    /// `serve_by_receivers` or `no_time_out_left`, for the charter.
    pub flags: Vec<Flag>,
}

impl ScoreKeeper {
    /// The scoring of a match before its first entry.
    #[must_use]
    pub fn new(header: &Header) -> Self {
        let rules = Rules::new(header.format, header.first_serve);
        let time_outs = rules.time_outs();
        let score = Score {
            game: 1,
            games: PairOf::default(),
            points: PairOf::default(),
            call: None,
            serving: rules.first_serving(1),
            server: rules.first_server_number(),
            server_player: 0,
            receiver_player: 0,
            court: ServiceCourt::Right,
            finished: Arc::default(),
            change_ends: false,
            near: Team::A,
            time_outs_left: PairOf {
                a: time_outs,
                b: time_outs,
            },
            game_point: None,
            match_point: None,
            winner: None,
            rallies: 0,
        };
        let mut scoring = Self {
            rules,
            starting_servers: [PairOf::default(); MOST_GAMES],
            begun: [false; MOST_GAMES],
            ends_changed_within: false,
            served: false,
            score,
        };
        scoring.place_players();
        scoring.announce();
        scoring
    }

    /// The score after all entries so far.
    #[must_use]
    pub fn score(&self) -> &Score {
        &self.score
    }

    /// Takes the next entry of the effective chart. Once the match is over
    /// nothing has an effect.
    pub fn step(&mut self, play: &Play) -> ScoreStep {
        if self.score.is_over() {
            return ScoreStep::default();
        }
        let before = self.score.clone();
        self.score.change_ends = false;
        let flag = self.take_effect(play);
        if self.score.is_over() {
            self.close();
        } else {
            self.place_players();
            self.announce();
            self.keep_announced_change(&before);
        }
        ScoreStep {
            changed: self.score != before,
            counted: self.score.rallies != before.rallies,
            ended_match: self.score.is_over(),
            flags: flag.into_iter().collect(),
        }
    }

    fn take_effect(&mut self, play: &Play) -> Option<Flag> {
        match play {
            Play::Shot(shot) => return self.shot(shot),
            Play::RallyEnd(end) => self.rally_end(end.winner),
            Play::Replay => self.served = false,
            Play::TimeOut(time_out) => return self.time_out(*time_out),
            Play::Penalty { team } => self.penalty(*team),
            Play::ScoreFix(fix) => self.score_fix(fix),
            Play::Lineup(lineup) => self.lineup(*lineup),
            Play::Retire { team } => self.score.winner = Some(team.other()),
            Play::Cue(_) | Play::Depth(_) | Play::Note { .. } => {}
        }
        None
    }

    /// A change of ends stays announced through entries that change nothing.
    fn keep_announced_change(&mut self, before: &Score) {
        if before.change_ends && !self.score.change_ends {
            self.score.change_ends = true;
            let nothing_else_changed = self.score == *before;
            self.score.change_ends = nothing_else_changed;
        }
    }

    /// Only the first serve of a rally is looked at.
    fn shot(&mut self, shot: &Shot) -> Option<Flag> {
        if shot.stroke != Stroke::Serve || mem::replace(&mut self.served, true) {
            return None;
        }
        (shot.team != self.score.serving).then_some(Flag::ServeByReceivers)
    }

    fn rally_end(&mut self, winner: Team) {
        self.served = false;
        self.score.rallies = self.score.rallies.saturating_add(1);
        self.begun[self.game_index()] = true;
        let serving = self.score.serving;
        let scores = self.rules.scores(winner, serving, self.score.points);
        let game = self.score.game;
        if scores {
            self.give_point(winner);
        }
        let goes_on = !self.score.is_over() && self.score.game == game;
        if goes_on && winner != serving {
            self.pass_serve();
        }
    }

    /// The serving team lost the rally: its second server follows, or the other
    /// team's turn begins with the player then standing right (USA Pickleball
    /// rulebook 2026, 5.B; one server a turn in singles and rally scoring).
    fn pass_serve(&mut self) {
        if self.score.server == Some(1) {
            self.score.server = Some(2);
            self.score.server_player = self.rules.partner(self.score.server_player);
            return;
        }
        self.score.serving = self.score.serving.other();
        self.score.server = self.rules.has_two_servers().then_some(1);
        self.score.server_player = self.player_right(self.score.serving);
    }

    fn time_out(&mut self, time_out: TimeOut) -> Option<Flag> {
        if time_out.medical {
            return None;
        }
        let left = self.score.time_outs_left.of_mut(time_out.team);
        match left.checked_sub(1) {
            Some(fewer) => {
                *left = fewer;
                None
            }
            None => Some(Flag::NoTimeOutLeft),
        }
    }

    /// A technical foul: a point off the offender or, where it has none, one to
    /// the opponents (USA Pickleball rulebook 2025, 13.G.2). A point off ends
    /// nothing, even where it leaves the others far enough ahead.
    fn penalty(&mut self, offender: Team) {
        let points = self.score.points.of_mut(offender);
        match points.checked_sub(1) {
            Some(fewer) => *points = fewer,
            None => self.give_point(offender.other()),
        }
    }

    fn score_fix(&mut self, fix: &ScoreFix) {
        if let Some(games) = fix.games {
            self.score.games = games;
            self.score.game = games.a.saturating_add(games.b).saturating_add(1);
        }
        self.score.points = fix.points;
        self.set_server(fix);
        self.place_players();
        if self.half_is_reached() {
            self.ends_changed_within = true;
        }
        let won = |team: Team| {
            let PairOf { a, b } = fix.points;
            match team {
                Team::A => self.rules.wins_game(a, b),
                Team::B => self.rules.wins_game(b, a),
            }
        };
        if let Some(winner) = [Team::A, Team::B].into_iter().find(|team| won(*team)) {
            self.win_game(winner);
        }
    }

    /// Who serves by the referee's word. Points have to be set already: they
    /// say who stands right.
    fn set_server(&mut self, fix: &ScoreFix) {
        let same_team = fix.serving == self.score.serving;
        let number = if self.rules.has_two_servers() {
            let unchanged = self.score.server.filter(|_| same_team);
            fix.server.or(unchanged).or(Some(1))
        } else {
            None
        };
        if same_team && number == self.score.server {
            return;
        }
        self.score.serving = fix.serving;
        self.score.server = number;
        let right = self.player_right(fix.serving);
        self.score.server_player = match number {
            Some(2) => self.rules.partner(right),
            _ => right,
        };
    }

    /// A new starting server. In a game not begun the partners trade roles at
    /// once: whoever was due to serve is the one who now stands there.
    fn lineup(&mut self, lineup: Lineup) {
        let Lineup {
            team,
            starting_server,
        } = lineup;
        let current = self.game_index();
        let from = if !self.begun[current] && self.score.points == PairOf::default() {
            if self.starting_server(team) != starting_server && self.score.serving == team {
                self.score.server_player = self.rules.partner(self.score.server_player);
            }
            current
        } else {
            current + 1
        };
        for game in self.starting_servers.iter_mut().skip(from) {
            *game.of_mut(team) = starting_server;
        }
    }

    /// One more point for `team`, with what it ends and causes.
    fn give_point(&mut self, team: Team) {
        let points = self.score.points.of_mut(team);
        *points = points.saturating_add(1);
        let (own, other) = (*points, *self.score.points.of(team.other()));
        if self.rules.wins_game(own, other) {
            self.win_game(team);
        } else if self.half_is_reached() && !self.ends_changed_within {
            self.ends_changed_within = true;
            self.change_ends();
        }
    }

    fn win_game(&mut self, team: Team) {
        Arc::make_mut(&mut self.score.finished).push(self.score.points);
        let games = self.score.games.of_mut(team);
        *games = games.saturating_add(1);
        if self.rules.wins_match(*games) {
            self.score.winner = Some(team);
        } else {
            self.begin_next_game();
        }
    }

    fn begin_next_game(&mut self) {
        let game = self.score.game.saturating_add(1);
        let time_outs = self.rules.time_outs();
        self.score.game = game;
        self.begun[self.game_index()] = false;
        self.ends_changed_within = false;
        self.score.points = PairOf::default();
        self.score.time_outs_left = PairOf {
            a: time_outs,
            b: time_outs,
        };
        self.score.serving = self.rules.first_serving(game);
        self.score.server = self.rules.first_server_number();
        self.score.server_player = self.starting_server(self.score.serving);
        self.change_ends();
    }

    fn change_ends(&mut self) {
        self.score.near = self.score.near.other();
        self.score.change_ends = true;
    }

    fn half_is_reached(&self) -> bool {
        let PairOf { a, b } = self.score.points;
        self.rules
            .change_of_ends_within(self.score.game)
            .is_some_and(|half| a.max(b) >= half)
    }

    fn game_index(&self) -> usize {
        (self.score.game as usize).clamp(1, MOST_GAMES) - 1
    }

    fn starting_server(&self, team: Team) -> u32 {
        *self.starting_servers[self.game_index()].of(team)
    }

    /// Who of `team` stands right: its starting server on an even score, the
    /// partner on an odd one; where partners keep their courts, always the
    /// starting server.
    fn player_right(&self, team: Team) -> u32 {
        let starting = self.starting_server(team);
        if self.rules.keeps_courts() || self.is_even(team) {
            starting
        } else {
            self.rules.partner(starting)
        }
    }

    fn is_even(&self, team: Team) -> bool {
        self.score.points.of(team).is_multiple_of(2)
    }

    /// Courts and receiver as they follow from points and turn, and where
    /// partners keep their courts the server too.
    fn place_players(&mut self) {
        let serving = self.score.serving;
        let right = self.player_right(serving);
        let serves_right = if self.rules.is_singles() || self.rules.keeps_courts() {
            self.is_even(serving)
        } else {
            self.score.server_player == right
        };
        self.score.court = if serves_right {
            ServiceCourt::Right
        } else {
            ServiceCourt::Left
        };
        if self.rules.keeps_courts() {
            self.score.server_player = self.player_in(self.score.court, serving);
        }
        self.score.receiver_player = self.player_in(self.score.court, serving.other());
    }

    fn player_in(&self, court: ServiceCourt, team: Team) -> u32 {
        let right = self.player_right(team);
        match court {
            ServiceCourt::Right => right,
            ServiceCourt::Left => self.rules.partner(right),
        }
    }

    /// The call, and who is at game and match point.
    fn announce(&mut self) {
        let Score {
            points, serving, ..
        } = self.score;
        self.score.call = Some(Call {
            serving: *points.of(serving),
            receiving: *points.of(serving.other()),
            server: self.score.server,
        });
        let in_order = [serving, serving.other()];
        let wins_game = |team: &Team| self.rules.at_game_point(*team, serving, points);
        let wins_match = |team: &Team| {
            wins_game(team)
                && self
                    .rules
                    .wins_match(self.score.games.of(*team).saturating_add(1))
        };
        let game_point = in_order.into_iter().find(wins_game);
        let match_point = in_order.into_iter().find(wins_match);
        self.score.game_point = game_point;
        self.score.match_point = match_point;
    }

    /// The match is over: nothing is called any more. (Nobody changes ends
    /// either: the last point never announces it.)
    fn close(&mut self) {
        self.score.call = None;
        self.score.game_point = None;
        self.score.match_point = None;
    }
}
