//! Comparisons: what the numbers of the match have come to, both samples said.
//!
//! Two shares are told side by side where they are further apart than chance
//! usually brings. How far is told by the usual statistic for two proportions,
//! squared: above 3.84 in one case of twenty, above 2.71 in one of ten, if nothing
//! were different (chi-squared with one degree of freedom).

use rallytide_plugin_kit::Team;

use crate::lines::{Life, Line, Scene};
use crate::phrases::Phrase;
use crate::sources::{Cite, DRIVE, DROP, FIRST, GIFT, Indicator, PRESSED, SERVE, SITTER, THIRD};

/// Apart enough for a line in the middle of a game.
pub const FAR: f64 = 3.84;
/// Apart enough for a recap, which looks for what there is.
pub const APART: f64 = 2.71;

/// Apart as much as in every third case by chance: what a recap makes do with.
const SOMEWHAT_APART: f64 = 1.0;

/// A comparison that could be told.
#[derive(Debug)]
pub struct Comparison {
    /// The line.
    pub line: Line,
    /// Whom it speaks for.
    pub ahead: Team,
    /// How far apart the shares are.
    pub apart: f64,
}

/// Everything that is at least so far apart, the furthest first.
#[must_use]
pub fn all(scene: &Scene, least: f64) -> Vec<Comparison> {
    let mut found: Vec<Comparison> = serves(scene).into_iter().collect();
    if scene.has_shots() {
        found.extend(between_teams(scene, Phrase::Pressed, PRESSED));
        found.extend(between_teams(scene, Phrase::HighBalls, SITTER));
        found.extend(between(scene, Phrase::Drops, drops));
        found.extend(unforced(scene));
        for team in Team::BOTH {
            found.extend(drops_and_drives(scene, team));
            found.extend(first_attack(scene, team));
        }
    }
    found.retain(|comparison| comparison.apart >= least);
    found.sort_by(|one, other| other.apart.total_cmp(&one.apart));
    found
}

/// What a recap makes do with: rallies under pressure and on serve.
#[must_use]
pub fn plain(scene: &Scene) -> Vec<Comparison> {
    let pressed = between_teams(scene, Phrase::Pressed, PRESSED).filter(|_| scene.has_shots());
    let found = pressed.into_iter().chain(serves(scene));
    found.filter(|one| one.apart >= SOMEWHAT_APART).collect()
}

/// Rallies won on serve. In side-out scoring these are the points: where some were
/// given or taken off, the score would say otherwise.
fn serves(scene: &Scene) -> Option<Comparison> {
    (!scene.is_altered)
        .then(|| between_teams(scene, Phrase::Serving, SERVE))
        .flatten()
}

fn line(phrase: Phrase, team: Team) -> Line {
    Line::new(phrase, team, Life::ThreeRallies)
}

fn drops(team: Team) -> Cite {
    Cite::team(THIRD, team).slot(DROP)
}

fn between_teams(scene: &Scene, phrase: Phrase, indicator: Indicator) -> Option<Comparison> {
    between(scene, phrase, |team| Cite::team(indicator, team))
}

/// The team with the greater share first.
fn between(scene: &Scene, phrase: Phrase, cite: impl Fn(Team) -> Cite) -> Option<Comparison> {
    let (a, b) = (cite(Team::A), cite(Team::B));
    if !is_sample(scene, a) || !is_sample(scene, b) {
        return None;
    }
    let (of_a, of_b) = (scene.sources.share(a), scene.sources.share(b));
    let ahead = if is_greater(of_a, of_b) {
        Team::A
    } else {
        Team::B
    };
    Some(Comparison {
        line: line(phrase, ahead)
            .figure(cite(ahead))
            .figure(cite(ahead.other())),
        ahead,
        apart: apart(of_a, of_b),
    })
}

/// Told only where of every rally that the teams lost it is known how it ended. The
/// team that gave away more comes first.
fn unforced(scene: &Scene) -> Option<Comparison> {
    let is_whole = |team| scene.sources.share(Cite::team(GIFT, team)).1 == lost(scene, team);
    if !is_whole(Team::A) || !is_whole(Team::B) {
        return None;
    }
    let found = between_teams(scene, Phrase::Unforced, GIFT)?;
    Some(Comparison {
        ahead: found.ahead.other(),
        ..found
    })
}

/// The rallies a team has lost: those it served and did not win, and those that the
/// others served and won.
fn lost(scene: &Scene, team: Team) -> u32 {
    let served = scene.sources.share(Cite::team(SERVE, team));
    let received = scene.sources.share(Cite::team(SERVE, team.other()));
    served.1 - served.0 + received.0
}

fn drops_and_drives(scene: &Scene, team: Team) -> Option<Comparison> {
    let (drop, drive) = (drops(team), Cite::team(THIRD, team).slot(DRIVE));
    if !is_sample(scene, drop) || !is_sample(scene, drive) {
        return None;
    }
    Some(Comparison {
        line: line(Phrase::DropsAndDrives, team)
            .figure(drop)
            .figure(drive),
        ahead: team,
        apart: apart(scene.sources.share(drop), scene.sources.share(drive)),
    })
}

/// Against even chances.
fn first_attack(scene: &Scene, team: Team) -> Option<Comparison> {
    let cite = Cite::team(FIRST, team);
    let (part, whole) = scene.sources.share(cite);
    if !is_sample(scene, cite) || 2 * part <= whole {
        return None;
    }
    let lead = f64::from(2 * part - whole);
    Some(Comparison {
        line: line(Phrase::FirstAttack, team).figure(cite),
        ahead: team,
        apart: lead * lead / f64::from(whole),
    })
}

fn is_sample(scene: &Scene, cite: Cite) -> bool {
    scene.sources.share(cite).1 >= scene.least_sample
}

fn is_greater(one: (u32, u32), other: (u32, u32)) -> bool {
    one.0 * other.1 > other.0 * one.1
}

/// The square of the usual statistic for two proportions; 0 where both are none or
/// all.
fn apart((part, whole): (u32, u32), (other_part, other_whole): (u32, u32)) -> f64 {
    let (n, m) = (f64::from(whole), f64::from(other_whole));
    let together = f64::from(part + other_part) / (n + m);
    let spread = together * (1.0 - together) * (1.0 / n + 1.0 / m);
    if spread <= 0.0 {
        return 0.0;
    }
    let difference = f64::from(part) / n - f64::from(other_part) / m;
    difference * difference / spread
}
