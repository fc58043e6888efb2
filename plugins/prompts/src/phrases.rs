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
    /// Whether it tells what the numbers of the match have come to, for which there
    /// is time when nothing else is said.
    #[must_use]
    pub const fn is_about_numbers(self) -> bool {
        matches!(
            self,
            Self::First
                | Self::Spells
                | Self::Third
                | Self::Speedup
                | Self::Sitter
                | Self::Gift
                | Self::Serve
        )
    }

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
        "{team} on the back foot: a ball that bounces would help.",
        "Pressure on {team}: {0} balls made to bounce so far.",
    ]

    /// 0 here and below: pressed spells that the team came out of.
    Answer BouncedAndWon [
        "{team} made the ball bounce, and won the rally.",
        "{team} got the bounce and the rally. Came out: {0}.",
    ]
    /// The bounce helped for a while.
    Answer BouncedAndLost [
        "{team} made the ball bounce, but still lost the rally.",
        "{team} got the bounce, not the rally. Came out: {0}.",
    ]
    /// Out of it otherwise, by an attack of their own or an error.
    Answer OutAndWon [
        "{team} got out of trouble and won the rally.",
        "{team} came out of it and won. That makes {0}.",
    ]
    /// Out of it for a while.
    Answer OutAndLost [
        "{team} got out of trouble, but lost the rally.",
        "{team} came out of it but lost. That makes {0}.",
    ]
    /// Won while still pressed.
    Answer PressedAndWon [
        "{team} won that rally from under pressure.",
        "Under pressure to the end, {team} won. Came out: {0}.",
    ]
    /// Lost in the spell, and every ball was taken in the air.
    Answer NeverBounced [
        "{team} never made the ball bounce, and lost the rally.",
        "{team} got neither bounce nor rally. Came out: {0}.",
    ]
    /// Lost in the spell.
    Answer NeverOut [
        "{team} never got out of trouble in that rally.",
        "{team} lost that one under pressure. Came out: {0}.",
    ]

    /// 0: the streak.
    Escape Streak [
        "Out of trouble again, {team}: {0} times in a row.",
        "{team} came out of pressure {0} times in a row now.",
        "Pressed again, {team} got out again: {0} in a row.",
    ]
    /// 0: the streak, also the best of both teams.
    Escape BestStreak [
        "{team}: out of pressure {0} times in a row, the match's longest.",
        "Out of pressure {0} times running, the longest of the match: {team}.",
    ]
    /// A streak of the opponents is over. 0: how often they came out.
    Escape Caught [
        "{team} finally made the pressure count.",
        "At last the pressure told on {other}. Came out: {0}.",
        "{other} caught at last. Came out: {0} so far.",
    ]

    /// 0: rallies in which they attacked first.
    First Attacks [
        "From the line, {team} attacked first in {0} rallies.",
        "First to attack from the line: {team}, {0} rallies.",
    ]

    /// 0: attacks.
    Spells Finishes [
        "{team} finished {0} attacks.",
        "Of their attacks, {team} finished {0}.",
    ]
    /// More often than the opponents. 0: attacks.
    Spells FinishesMany [
        "The better finishers so far, {team}: {0} attacks.",
    ]
    /// Less often than the opponents. 0: attacks.
    Spells FinishesFew [
        "{team} finished only {0} attacks.",
        "The finish is missing, {team}: {0} attacks.",
    ]
    /// Both teams, far apart. 0: the team's attacks, 1: the opponents'.
    Spells FinishesBoth [
        "Attacks finished: {team} {0}, {other} {1}.",
    ]
    /// 0: pressed spells.
    Spells GetsOut [
        "Under pressure, {team} found a way out {0} times.",
        "{team} came out of pressure {0} times.",
    ]
    /// Both teams, far apart. 0: the team's pressed spells, 1: the opponents'.
    Spells GetOutBoth [
        "Pressure survived: {team} {0}, {other} {1}.",
    ]
    /// 0: balls from defense.
    Spells MakesBounce [
        "On defense, {team} made {0} balls bounce.",
    ]
    /// More often than the opponents. 0: balls from defense.
    Spells OftenBounces [
        "Better at forcing the bounce: {team}, {0} from defense.",
    ]
    /// Less often than the opponents. 0: balls from defense.
    Spells SeldomBounces [
        "On defense, {team} made only {0} balls bounce.",
        "What costs {team}: only {0} balls from defense bounced.",
    ]
    /// 0: spells from the return on.
    Spells ComesIn [
        "After the return, {team} worked free {0} times.",
        "Held back by the return, {team} worked free {0} times.",
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
        "{team} forced the speedup and won {0} rallies.",
        "Forcing the speedup, {team} won {0} rallies.",
    ]

    /// 0: rallies with one.
    Sitter Punished [
        "Given a ball that sat up, {team} won {0} rallies.",
        "Balls that sat up brought {team} {0} rallies.",
    ]

    /// 0: lost rallies.
    Gift GivenAway [
        "Unforced errors cost {team} {0} lost rallies.",
        "Lost by {team} with nobody pressing: {0} rallies.",
    ]

    /// 0: points.
    Run InARow [
        "{0} points in a row for {team}.",
        "{0} unanswered points for {team}.",
        "{team} on a run: {0} points without reply.",
    ]

    /// 0: the chance to win the match, where it is open.
    Point MatchPoint [
        "Match point, {team}: {0} as this match has gone so far.",
        "Match point for {team}.",
    ]
    /// 0: the chance to win the game, where it is open.
    Point GamePoint [
        "Game point, {team}: {0} as this match has gone so far.",
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
        "{team}, {0} to win, as this match has gone so far.",
    ]
    /// Neither team has much the better chance to win the match.
    Chance Even [
        "Next to nothing between them, as this match has gone so far.",
        "This could go either way, as this match has gone so far.",
    ]
    /// 0: the swing.
    Chance NextRally [
        "The next rally swings it {0}, as this match has gone so far.",
        "Much at stake next: {0}, as this match has gone so far.",
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

    /// 0: spells in a row that the team came out of.
    Unusual RareStreak [
        "Rare by this match's numbers: {team} came out {0} times running.",
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
        "Careful with shot numbers: {0} rallies are charted in full.",
        "The chart has gaps: {0} rallies are complete, so mind the numbers.",
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
    share: |part, whole| match part {
        0 => format!("none of {whole}"),
        part => format!("{part} of {whole}"),
    },
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
