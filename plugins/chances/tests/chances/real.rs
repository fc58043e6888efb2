//! The bridge to the real scoring: one format, as the chart has it and as a
//! plugin is handed it; the real score as a plugin is handed it.

use rallytide_chances::course::{Chances, MatchFormat, MatchStanding};
use rallytide_chances::format::{GameFormat, GameState, Lead, Service};
use rallytide_chances::game::GameChances;
use rallytide_chart as chart;
use rallytide_plugin_kit as kit;
use rallytide_plugin_kit::{PerTeam, Team};

/// A match's format.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Spec {
    pub(crate) service: Service,
    pub(crate) points: u32,
    pub(crate) lead: Lead,
    pub(crate) games: u32,
    pub(crate) first_serve: Team,
}

/// All ways to serve and score.
pub(crate) const SERVICES: [Service; 4] = [
    Service::TwoServers,
    Service::OneServer,
    Service::EveryRally,
    Service::ServedOut,
];

impl Spec {
    /// A single game that a serves first.
    pub(crate) fn game(service: Service, points: u32, lead: Lead) -> Self {
        Self {
            service,
            points,
            lead,
            games: 1,
            first_serve: Team::A,
        }
    }

    pub(crate) fn format(&self) -> GameFormat {
        GameFormat {
            points: self.points,
            lead: self.lead,
            service: self.service,
        }
    }

    /// The header as a plugin is handed it.
    pub(crate) fn header(&self) -> kit::MatchHeader {
        let (discipline, scoring, winning_point) = match self.service {
            Service::TwoServers => (
                kit::Discipline::Doubles,
                kit::Scoring::SideOut,
                kit::WinningPoint::Any,
            ),
            Service::OneServer => (
                kit::Discipline::Singles,
                kit::Scoring::SideOut,
                kit::WinningPoint::Any,
            ),
            Service::EveryRally => (
                kit::Discipline::Doubles,
                kit::Scoring::Rally,
                kit::WinningPoint::Any,
            ),
            Service::ServedOut => (
                kit::Discipline::Singles,
                kit::Scoring::Rally,
                kit::WinningPoint::Server,
            ),
        };
        kit::MatchHeader {
            discipline,
            scoring,
            winning_point,
            points: self.points,
            win_by: self.win_by(),
            games: self.games,
            first_serve: self.first_serve,
            ..kit::testing::header()
        }
    }

    /// The real scoring of the same format, before the first rally.
    pub(crate) fn scoring(&self) -> rallytide_scoring::ScoreKeeper {
        let format = match self.service {
            Service::TwoServers => r#""discipline":"doubles","scoring":"side_out""#,
            Service::OneServer => r#""discipline":"singles","scoring":"side_out""#,
            Service::EveryRally => r#""discipline":"doubles","scoring":"rally""#,
            Service::ServedOut => {
                r#""discipline":"singles","scoring":"rally","winning_point":"server""#
            }
        };
        let first_serve = match self.first_serve {
            Team::A => "a",
            Team::B => "b",
        };
        let (points, win_by, games) = (self.points, self.win_by(), self.games);
        let text = format!(
            r#"{{"kind":"match","chart":1,"id":"m","teams":{{"a":{{"name":"Harbour"}},"b":{{"name":"Dunes"}}}},"format":{{{format},"points":{points},"win_by":{win_by},"games":{games}}},"first_serve":"{first_serve}"}}"#
        );
        let header = chart::Header::from_text(&text).expect("the header is well formed");
        rallytide_scoring::ScoreKeeper::new(&header)
    }

    fn win_by(&self) -> u32 {
        match self.lead {
            Lead::One => 1,
            Lead::Two => 2,
        }
    }
}

/// A solved match: asked for its chances at a real score.
pub(crate) struct Solved {
    pub(crate) format: MatchFormat,
    pub(crate) game: GameChances,
    pub(crate) serve: PerTeam<f64>,
}

impl Solved {
    pub(crate) fn new(spec: &Spec, serve: (f64, f64)) -> Self {
        let serve = PerTeam {
            a: serve.0,
            b: serve.1,
        };
        let format = MatchFormat::of(&spec.header());
        assert_eq!(format.game(), spec.format(), "the header says {spec:?}");
        Self {
            format,
            game: GameChances::solve(spec.format(), serve),
            serve,
        }
    }

    pub(crate) fn at(&self, score: &rallytide_scoring::Score) -> Chances {
        let standing = self.format.standing(&handed_over(score));
        self.format.chances(standing, &self.game)
    }

    /// The chances at a state of game 1.
    pub(crate) fn in_game(&self, state: GameState, need: u32) -> Chances {
        let standing = MatchStanding::Running {
            state,
            game: 1,
            need: PerTeam { a: need, b: need },
        };
        self.format.chances(standing, &self.game)
    }

    /// The probability that `team` wins the next rally at a real score.
    pub(crate) fn rally(&self, score: &rallytide_scoring::Score, team: Team) -> f64 {
        let serving = team_of(score.serving);
        let wins = self.serve[serving];
        if serving == team { wins } else { 1.0 - wins }
    }
}

/// The real score as the host hands it to a plugin.
pub(crate) fn handed_over(score: &rallytide_scoring::Score) -> kit::Score {
    let pair = |pair: &chart::PairOf<u32>| kit::Pair {
        a: pair.a,
        b: pair.b,
    };
    kit::Score {
        game: score.game,
        games: pair(&score.games),
        points: pair(&score.points),
        call: score.call.map(|call| call.to_string()),
        serving: team_of(score.serving),
        server: score.server,
        server_player: score.server_player,
        receiver_player: score.receiver_player,
        court: match score.court {
            rallytide_scoring::ServiceCourt::Right => kit::Court::Right,
            rallytide_scoring::ServiceCourt::Left => kit::Court::Left,
        },
        finished: score.finished.iter().map(pair).collect(),
        change_ends: score.change_ends,
        near: team_of(score.near),
        time_outs_left: pair(&score.time_outs_left),
        game_point: score.game_point.map(team_of),
        match_point: score.match_point.map(team_of),
        winner: score.winner.map(team_of),
        rallies: score.rallies,
    }
}

pub(crate) fn team_of(team: chart::Team) -> Team {
    match team {
        chart::Team::A => Team::A,
        chart::Team::B => Team::B,
    }
}

pub(crate) fn chart_team(team: Team) -> chart::Team {
    match team {
        Team::A => chart::Team::A,
        Team::B => chart::Team::B,
    }
}

/// A rally won by `winner`, for the real scoring.
pub(crate) fn rally_won_by(winner: Team) -> chart::Play {
    chart::Play::RallyEnd(chart::RallyEnd {
        winner: chart_team(winner),
        how: None,
        by: None,
        player: None,
        fault: None,
    })
}

/// The real scoring after one more rally.
pub(crate) fn after(
    scoring: &rallytide_scoring::ScoreKeeper,
    winner: Team,
) -> rallytide_scoring::ScoreKeeper {
    let mut scoring = scoring.clone();
    scoring.step(&rally_won_by(winner));
    scoring
}

/// `9,10,A,1` as a state.
pub(crate) fn state(a: u32, b: u32, serving: Team, server: u32) -> GameState {
    GameState {
        a,
        b,
        serving,
        second: server == 2,
    }
}
