//! Everything that is ever said, by kind, in English.
//!
//! Another language is another function like `english` and another
//! [`Language`]. The places are explained there; ways to say one phrase stand
//! plainest first and are taken in turns. Each has to fit a breath with the
//! longest names, which a test sees to. Numbers stand in places only, never in
//! the words: they come from readings.

use rallytide_plugin_kit::Team;

use crate::language::Language;

/// What a prompt is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// What the pressed team needs now.
    Need,
    /// What came of a long pressed spell.
    Answer,
    /// A streak of recovered pressure.
    Escape,
    /// Who attacks first out of a neutral exchange.
    First,
    /// What wins or loses spells for a team.
    Spells,
    /// What third shots have brought.
    Third,
    /// What speedups have brought.
    Speedup,
    /// What balls that sat up have brought.
    Sitter,
    /// Points given away.
    Gift,
    /// Points in a row.
    Run,
    /// Game and match point.
    Point,
    /// The chance to win, and what the next rally means for it.
    Chance,
    /// A long rally.
    Long,
    /// A fast exchange.
    Fast,
    /// What is rare by the match's own numbers.
    Unusual,
    /// Rallies won on serve.
    Serve,
    /// The chart has gaps.
    Caution,
}

impl Kind {
    /// Its name in keys and reasons.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Need => "need",
            Self::Answer => "answer",
            Self::Escape => "escape",
            Self::First => "first",
            Self::Spells => "spells",
            Self::Third => "third",
            Self::Speedup => "speedup",
            Self::Sitter => "sitter",
            Self::Gift => "gift",
            Self::Run => "run",
            Self::Point => "point",
            Self::Chance => "chance",
            Self::Long => "long",
            Self::Fast => "fast",
            Self::Unusual => "unusual",
            Self::Serve => "serve",
            Self::Caution => "caution",
        }
    }
}

macro_rules! phrases {
    ($($(#[doc = $doc:literal])* $kind:ident $name:ident [$($way:literal),+ $(,)?])+) => {
        /// What can be said, whatever the language.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Phrase {
            $($(#[doc = $doc])* $name,)+
        }

        impl Phrase {
            /// All of them.
            pub const ALL: &[Self] = &[$(Self::$name,)+];

            /// What it is about.
            #[must_use]
            pub const fn kind(self) -> Kind {
                match self {
                    $(Self::$name => Kind::$kind,)+
                }
            }
        }

        fn english(phrase: Phrase) -> &'static [&'static str] {
            match phrase {
                $(Phrase::$name => &[$($way),+],)+
            }
        }
    };
}

phrases! {
    /// Pressed, and the next ball is theirs. 0: balls from defense that bounced.
    Need NextBall [
        "{team} under pressure: make the next ball bounce.",
        "{team} pressed: the next has to bounce. So far {0}.",
        "Make the next one bounce, {team}: {0} so far.",
    ]

    /// 0 here and below: escapes.
    Answer BouncedAndWon [
        "{team} made the ball bounce, and won the rally.",
        "{team} got the bounce and the rally. Escapes: {0}.",
    ]
    /// The bounce helped for a while.
    Answer BouncedAndLost [
        "{team} made the ball bounce, but still lost the rally.",
        "{team} got the bounce but not the rally. Escapes: {0}.",
    ]
    /// Out of it otherwise, by an attack of their own or an error.
    Answer OutAndWon [
        "{team} got out of trouble and won the rally.",
        "{team} came out of it and won. Escapes: {0}.",
    ]
    /// Out of it for a while.
    Answer OutAndLost [
        "{team} got out of trouble, but lost the rally.",
        "{team} came out of it but lost. Escapes: {0}.",
    ]
    /// Won while still pressed.
    Answer PressedAndWon [
        "{team} won that rally from under pressure.",
        "Under pressure to the end, {team} won. Escapes: {0}.",
    ]
    /// Lost in the spell, and every ball was taken in the air.
    Answer NeverBounced [
        "{team} never made the ball bounce, and lost the rally.",
        "{team} never got the bounce, nor the rally. Escapes: {0}.",
    ]
    /// Lost in the spell.
    Answer NeverOut [
        "{team} never got out of trouble in that rally.",
        "{team} lost that one under pressure. Escapes: {0}.",
    ]

    /// 0: the streak.
    Escape Streak [
        "{team} out of trouble again: {0} pressed spells in a row.",
        "{0} escapes in a row now for {team}.",
        "Pressed again, {team} got out again: {0} in a row.",
    ]
    /// 0: the streak, also the best of both teams.
    Escape BestStreak [
        "{team}: {0} escapes in a row, the longest of the match.",
        "The longest streak of the match: {0} escapes by {team}.",
    ]
    /// A streak of the opponents is over. 0: their escapes.
    Escape Caught [
        "{team} finally caught {other} under pressure.",
        "{other} caught under pressure at last. Escapes: {0}.",
    ]

    /// 0: rallies in which they attacked first.
    First Attacks [
        "From the line, {team} attacked first in {0} rallies.",
        "First to attack from the line: {team}, {0} rallies.",
    ]

    /// 0: attacks.
    Spells FinishesMany [
        "{team} finished {0} attacks.",
        "What works for {team}: {0} attacks finished.",
    ]
    /// 0: attacks.
    Spells FinishesFew [
        "{team} finished only {0} attacks.",
        "The finish is missing, {team}: {0} attacks.",
    ]
    /// 0: pressed spells.
    Spells GetsOut [
        "{team} got out of {0} pressed spells.",
        "Under pressure, {team} found a way out {0} times.",
    ]
    /// 0: balls from defense.
    Spells MakesBounce [
        "On defense, {team} made {0} balls bounce.",
        "What saves {team}: {0} balls from defense had to bounce.",
    ]
    /// 0: balls from defense.
    Spells SeldomBounces [
        "On defense, {team} made only {0} balls bounce.",
        "What costs {team}: only {0} balls from defense bounced.",
    ]
    /// 0: spells from the return on.
    Spells ComesIn [
        "{team} got out from behind the return {0} times.",
        "Held back by the return, {team} recovered {0} times.",
    ]

    /// 0: rallies with this third shot.
    Third ThirdShot [
        "{team} won {0} rallies with third shot {stroke}.",
        "Third shot {stroke} by {team}: won {0}.",
    ]
    /// 0: with drops, 1: with drives.
    Third DropsAndDrives [
        "Third shots, {team}: drops won {0}, drives {1}.",
    ]

    /// 0: rallies with one.
    Speedup OffSitters [
        "Speeding up balls that sat up, {team} won {0}.",
        "Speedups off balls that sat up: {team} won {0}.",
    ]
    /// 0: rallies with one.
    Speedup Forced [
        "Forced speedups by {team} won {0} rallies.",
        "Speeding up uninvited, {team} won {0}.",
    ]

    /// 0: rallies with one.
    Sitter Punished [
        "When a ball sat up, {team} won {0} rallies.",
        "Balls that sat up: {team} won {0} rallies with one.",
    ]

    /// 0: lost rallies.
    Gift GivenAway [
        "{team} gave away {0} lost rallies without being pressed.",
        "Lost rallies {team} gave away, nobody pressing: {0}.",
    ]

    /// 0: points.
    Run InARow [
        "{0} points in a row for {team}.",
        "{0} unanswered points by {team}.",
        "{team} on a run: {0} points without reply.",
    ]

    /// 0: the chance to win the match.
    Point MatchPoint [
        "Match point {team}: {0}, as this match has gone so far.",
        "Match point for {team}.",
    ]
    /// 0: the chance to win the game.
    Point GamePoint [
        "Game point {team}: {0}, as this match has gone so far.",
        "Game point for {team}.",
    ]
    /// The opponents had one.
    Point MatchPointSaved [
        "{team} saved a match point.",
        "Match point gone for {other}.",
    ]
    /// The opponents had one.
    Point GamePointSaved [
        "{team} saved a game point.",
        "Game point gone for {other}.",
    ]

    /// 0: the chance to win the match.
    Chance ToWin [
        "As this match has gone so far: {team} to win, {0}.",
    ]
    /// 0: the swing.
    Chance NextRally [
        "{0} swing on the next rally, as this match has gone so far.",
    ]

    /// 0: shots.
    Long Longest [
        "{0} shots: the longest rally of the match so far.",
        "The longest rally of the match so far: {0} shots.",
    ]
    /// 0: shots.
    Long LongRally [
        "{0} shots in that rally, won by {team}.",
        "{team} won it after {0} shots.",
    ]

    /// The team won it.
    Fast Exchange [
        "A fast exchange in the air, and {team} won it.",
        "Ball after ball in the air, and {team} came out on top.",
        "Quick hands at the net: {team} won that exchange.",
    ]

    /// 0: escapes.
    Unusual RareStreak [
        "Rare by this match's numbers: {team}, {0} escapes in a row.",
    ]

    /// 0: rallies served.
    Serve OnServe [
        "{team} won {0} rallies on serve.",
        "On serve, {team} won {0}.",
    ]
    /// 0: the team's, 1: the opponents'.
    Serve BothOnServe [
        "On serve: {team} {0}, {other} {1}.",
    ]

    /// 0: rallies.
    Caution Gaps [
        "Careful with numbers: {0} rallies were charted without a gap.",
        "Take shot numbers with care: {0} rallies charted without a gap.",
    ]
}

/// English.
pub const ENGLISH: Language = Language {
    and: "and",
    nameless: |team| match team {
        Team::A => "Team A",
        Team::B => "Team B",
    },
    ways: english,
    share: |part, whole| format!("{part} of {whole}"),
    percent: |percent| format!("{percent} percent"),
    strokes: |stroke| match stroke {
        "drive" => "drives",
        "drop" => "drops",
        "dink" => "dinks",
        "lob" => "lobs",
        "reset" => "resets",
        "volley" => "volleys",
        "block" => "blocks",
        "speedup" => "speedups",
        "overhead" => "overheads",
        "erne" => "ernes",
        "atp" => "around-the-posts",
        _ => "others",
    },
};
