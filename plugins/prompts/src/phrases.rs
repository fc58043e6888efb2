//! What can be said, whatever the language: each phrase with its kind.
//!
//! The words themselves are a language's, [`crate::english`].

/// What can be said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Phrase {
    /// Game point; `{server}` is a player of the team or of the other one.
    GamePoint,
    /// Game point, and nobody's name is needed to say who serves.
    GamePointOnServe,
    /// Game point, not for the first time in this game.
    GamePointAgain,
    /// The same, and nobody's name is needed to say who serves.
    GamePointAgainOnServe,
    /// Match point, as game point.
    MatchPoint,
    /// Match point, and nobody's name is needed to say who serves.
    MatchPointOnServe,
    /// Match point, not for the first time in this game.
    MatchPointAgain,
    /// The same, and nobody's name is needed to say who serves.
    MatchPointAgainOnServe,
    /// The opponents had game point and lost the rally.
    GamePointSaved,
    /// Not for the first time in this game.
    GamePointsSaved,
    /// The opponents had match point and lost the rally.
    MatchPointSaved,
    /// Not for the first time in this game.
    MatchPointsSaved,
    /// A first ace of a player.
    Ace,
    /// A further ace of a player.
    AceAgain,
    /// An erne won the rally.
    Erne,
    /// The same, and nobody knows whose of the team.
    ErneOfTeam,
    /// A ball around the post won the rally.
    Atp,
    /// The same, and nobody knows whose of the team.
    AtpOfTeam,
    /// All points of the game so far.
    RunOpens,
    /// Points in a row of a team that was ahead before.
    RunExtends,
    /// Points in a row that put the team ahead.
    RunLeads,
    /// Points in a row that brought the team level.
    RunLevels,
    /// Points in a row of a team that is still behind.
    RunTrails,
    /// This rally set the record.
    Longest,
    /// A streak of recovered pressure, rare by chance.
    Streak,
    /// Rallies won under pressure, both teams.
    Pressed,
    /// Rallies won on serve, both teams.
    Serving,
    /// Rallies with a high ball from the opponents, both teams.
    HighBalls,
    /// Lost rallies that ended by an unforced error, both teams.
    Unforced,
    /// Rallies with a drop as third shot, both teams.
    Drops,
    /// Drops and drives as third shots, one team.
    DropsAndDrives,
    /// Who attacked first from the kitchen line.
    FirstAttack,
    /// A time-out against a run.
    TimeOut,
    /// Who won the game.
    Game,
    /// The same, of a match in which the games are level by it.
    GameLevels,
    /// The same, of a team that is still behind in games.
    GameTrails,
    /// Who won the match of one game.
    MatchOfOne,
    /// Who won the match, with the scores of its games.
    Match,
    /// Who won the match, where not every game's score is known.
    MatchInGames,
    /// The other team gave up.
    Retired,
    /// The winner of the game was behind.
    Comeback,
    /// The winner of the game won it by points in a row, from behind.
    LastPointsFromBehind,
    /// The winner of the game had let a lead slip.
    Slipped,
    /// The other team won no point of the game.
    EveryPoint,
    /// The winner of the game was always ahead.
    LedThroughout,
    /// Where the winner of the game went ahead.
    LastLevel,
    /// The winner of the game had saved one game point.
    SavedOne,
    /// The winner of the game had saved several.
    SavedSome,
    /// The winner of the match had saved one match point.
    SavedMatchPoint,
    /// The winner of the match had saved several.
    SavedMatchPoints,
    /// The winner of the game scored the last points in a row.
    LastPoints,
    /// Points of all games.
    Total,
    /// The deciding game begins.
    Decider,
}

impl Phrase {
    /// All of them.
    pub const ALL: &[Self] = &[
        Self::GamePoint,
        Self::GamePointOnServe,
        Self::GamePointAgain,
        Self::GamePointAgainOnServe,
        Self::MatchPoint,
        Self::MatchPointOnServe,
        Self::MatchPointAgain,
        Self::MatchPointAgainOnServe,
        Self::GamePointSaved,
        Self::GamePointsSaved,
        Self::MatchPointSaved,
        Self::MatchPointsSaved,
        Self::Ace,
        Self::AceAgain,
        Self::Erne,
        Self::ErneOfTeam,
        Self::Atp,
        Self::AtpOfTeam,
        Self::RunOpens,
        Self::RunExtends,
        Self::RunLeads,
        Self::RunLevels,
        Self::RunTrails,
        Self::Longest,
        Self::Streak,
        Self::Pressed,
        Self::Serving,
        Self::HighBalls,
        Self::Unforced,
        Self::Drops,
        Self::DropsAndDrives,
        Self::FirstAttack,
        Self::TimeOut,
        Self::Game,
        Self::GameLevels,
        Self::GameTrails,
        Self::MatchOfOne,
        Self::Match,
        Self::MatchInGames,
        Self::Retired,
        Self::Comeback,
        Self::LastPointsFromBehind,
        Self::Slipped,
        Self::EveryPoint,
        Self::LedThroughout,
        Self::LastLevel,
        Self::SavedOne,
        Self::SavedSome,
        Self::SavedMatchPoint,
        Self::SavedMatchPoints,
        Self::LastPoints,
        Self::Total,
        Self::Decider,
    ];

    /// What it is about, in keys and reasons.
    #[must_use]
    pub const fn kind(self) -> &'static str {
        match self {
            Self::GamePoint
            | Self::GamePointOnServe
            | Self::GamePointAgain
            | Self::GamePointAgainOnServe
            | Self::MatchPoint
            | Self::MatchPointOnServe
            | Self::MatchPointAgain
            | Self::MatchPointAgainOnServe => "point",
            Self::GamePointSaved
            | Self::GamePointsSaved
            | Self::MatchPointSaved
            | Self::MatchPointsSaved
            | Self::SavedOne
            | Self::SavedSome
            | Self::SavedMatchPoint
            | Self::SavedMatchPoints => "saved",
            Self::Ace | Self::AceAgain => "ace",
            Self::Erne | Self::ErneOfTeam => "erne",
            Self::Atp | Self::AtpOfTeam => "atp",
            Self::RunOpens
            | Self::RunExtends
            | Self::RunLeads
            | Self::RunLevels
            | Self::RunTrails
            | Self::LastPoints => "run",
            Self::TimeOut => "time_out",
            Self::Longest => "long",
            Self::Streak => "escape",
            Self::Pressed
            | Self::Serving
            | Self::HighBalls
            | Self::Unforced
            | Self::Drops
            | Self::DropsAndDrives
            | Self::FirstAttack => "compare",
            Self::Game | Self::GameLevels | Self::GameTrails => "game",
            Self::MatchOfOne | Self::Match | Self::MatchInGames | Self::Retired => "match",
            Self::Comeback
            | Self::LastPointsFromBehind
            | Self::Slipped
            | Self::EveryPoint
            | Self::LedThroughout
            | Self::LastLevel => "course",
            Self::Total => "total",
            Self::Decider => "decider",
        }
    }
}
