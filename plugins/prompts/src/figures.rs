//! Lines about what the numbers of the match say by now.

use rallytide_plugin_kit::Team;

use crate::language::LEAST_TOLD;
use crate::lines::{Line, Scene};
use crate::phrases::Phrase;
use crate::rally::Rally;
use crate::sources::{
    APPROACH, BOUNCED, COVERAGE, Cite, ESCAPES, FINISHED, FIRST, FORCED, GIFT, READY, SERVE,
    SITTER, SLOTS, SPEEDUP, THIRD,
};

/// What a number weighs on its own.
const PLAIN: i32 = 34;
/// What it weighs less with few cases.
const FEW: i32 = 10;
/// What it weighs less about serves, which every rally changes: alike they are not
/// worth a word.
const EVERY_RALLY: i32 = 14;
/// What it weighs more, at most, by being unlike what it is compared with.
const UNLIKE: i32 = 30;
/// Rallies charted without a gap, of 100, below which numbers are to be doubted.
const COVERED: u32 = 80;

/// What the numbers say, those first that belong to the rally's shots.
#[must_use]
pub fn of_match(scene: &Scene, rally: &Rally) -> Vec<Line> {
    let mut lines: Vec<Line> = caution(scene).into_iter().collect();
    for team in Team::BOTH {
        lines.extend(third(scene, team, rally));
        lines.extend(speedups(scene, team, rally));
        lines.extend(sitter(scene, team, rally));
        lines.extend(spells(scene, team));
        lines.extend(gift(scene, team));
        lines.extend(first(scene, team));
        lines.extend(serve(scene, team));
    }
    lines
}

fn caution(scene: &Scene) -> Option<Line> {
    let coverage = Cite::of_match(COVERAGE);
    let (part, whole) = scene.sources.share(coverage);
    (scene.is_sample(coverage) && 100 * part < COVERED * whole).then(|| {
        let line = Line::new(Phrase::Gaps, Team::A, 52).figure(coverage);
        line.of_match()
    })
}

/// A share as a line, weighed by how unlike it is to `beside`, which is the
/// opponents' share unless given.
fn share(
    scene: &Scene,
    phrase: Phrase,
    team: Team,
    cite: Cite,
    beside: Option<Cite>,
) -> Option<Line> {
    let (part, whole) = scene.sources.share(cite);
    if whole < LEAST_TOLD || !scene.is_fresh(cite) {
        return None;
    }
    let beside = beside.unwrap_or(Cite {
        team: Some(team.other()),
        ..cite
    });
    let few = if scene.is_sample(cite) { 0 } else { FEW };
    let weight = PLAIN - few + unlike(scene, (part, whole), beside);
    Some(Line::new(phrase, team, weight).figure(cite))
}

/// How unlike two shares are: with enough cases of both, the square of the usual
/// statistic for two proportions, 4 of which are seldom chance, scaled.
fn unlike(scene: &Scene, (part, whole): (u32, u32), beside: Cite) -> i32 {
    let (other_part, other_whole) = scene.sources.share(beside);
    if whole.min(other_whole) < scene.least_sample {
        return 0;
    }
    let (n, m) = (f64::from(whole), f64::from(other_whole));
    let together = f64::from(part + other_part) / (n + m);
    let spread = together * (1.0 - together) * (1.0 / n + 1.0 / m);
    if spread <= 0.0 {
        return 0;
    }
    let apart = f64::from(part) / n - f64::from(other_part) / m;
    ((apart * apart / spread * 5.0) as i32).min(UNLIKE)
}

fn third(scene: &Scene, team: Team, rally: &Rally) -> Vec<Line> {
    let of = |slot| Cite::team(THIRD, team).slot(slot);
    let serve = Some(Cite::team(SERVE, team));
    let shown = rally.shot(3).map_or("", |shot| shot.entry.as_str());
    let mut lines = Vec::new();
    for slot in SLOTS {
        let line = share(scene, Phrase::ThirdShot, team, of(slot), serve);
        lines.extend(line.map(|line| Line {
            stroke: slot,
            ..line.shown_by(shown)
        }));
    }
    let (drops, drives) = (of("drop"), of("drive"));
    if scene.is_sample(drops)
        && scene.is_sample(drives)
        && (scene.is_fresh(drops) || scene.is_fresh(drives))
    {
        let weight = PLAIN + 6 + unlike(scene, scene.sources.share(drops), drives);
        let line = Line::new(Phrase::DropsAndDrives, team, weight);
        lines.push(line.figure(drops).figure(drives).shown_by(shown));
    }
    lines
}

fn speedups(scene: &Scene, team: Team, rally: &Rally) -> Vec<Line> {
    let shown = rally.speedup(team).map_or("", |shot| shot.entry.as_str());
    let ways = [(Phrase::OffSitters, READY), (Phrase::Forced, FORCED)];
    let lines = ways.into_iter().filter_map(|(phrase, slot)| {
        let cite = Cite::team(SPEEDUP, team).slot(slot);
        Some(share(scene, phrase, team, cite, None)?.shown_by(shown))
    });
    lines.collect()
}

fn sitter(scene: &Scene, team: Team, rally: &Rally) -> Option<Line> {
    let left = rally.sat_up(team.other());
    let shown = left.map_or("", |shot| shot.entry.as_str());
    let cite = Cite::team(SITTER, team);
    Some(share(scene, Phrase::Punished, team, cite, None)?.shown_by(shown))
}

/// What wins or loses spells. Few is less often than the opponents, once both
/// have enough cases.
fn spells(scene: &Scene, team: Team) -> Vec<Line> {
    let of = |phrase, indicator| share(scene, phrase, team, Cite::team(indicator, team), None);
    let or_few = |many, few, indicator| {
        let others = Cite::team(indicator, team.other());
        if is_fewer(scene, Cite::team(indicator, team), others) {
            Some(of(few, indicator)?.rests_on(others))
        } else {
            of(many, indicator)
        }
    };
    [
        or_few(Phrase::FinishesMany, Phrase::FinishesFew, FINISHED),
        or_few(Phrase::MakesBounce, Phrase::SeldomBounces, BOUNCED),
        of(Phrase::GetsOut, ESCAPES),
        of(Phrase::ComesIn, APPROACH),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn is_fewer(scene: &Scene, own: Cite, others: Cite) -> bool {
    let ((part, whole), (other_part, other_whole)) =
        (scene.sources.share(own), scene.sources.share(others));
    let product = |part, whole| u64::from(part) * u64::from(whole);
    scene.is_sample(own)
        && scene.is_sample(others)
        && product(part, other_whole) < product(other_part, whole)
}

/// Points given away. None may only mean that nobody recorded how rallies ended.
fn gift(scene: &Scene, team: Team) -> Option<Line> {
    let cite = Cite::team(GIFT, team);
    let (part, _) = scene.sources.share(cite);
    (part > 0).then(|| share(scene, Phrase::GivenAway, team, cite, None))?
}

/// Who attacks first, said of the team that does so more often.
fn first(scene: &Scene, team: Team) -> Option<Line> {
    let cite = Cite::team(FIRST, team);
    let (part, whole) = scene.sources.share(cite);
    if 2 * part <= whole {
        return None;
    }
    share(scene, Phrase::Attacks, team, cite, None)
}

fn serve(scene: &Scene, team: Team) -> Vec<Line> {
    let (own, others) = (Cite::team(SERVE, team), Cite::team(SERVE, team.other()));
    let mut lines: Vec<Line> = share(scene, Phrase::OnServe, team, own, None)
        .into_iter()
        .map(|line| Line {
            weight: line.weight - EVERY_RALLY,
            ..line
        })
        .collect();
    if scene.is_sample(own) && scene.is_sample(others) && scene.is_fresh(own) {
        let weight = PLAIN - EVERY_RALLY + 4 + unlike(scene, scene.sources.share(own), others);
        let line = Line::new(Phrase::BothOnServe, team, weight);
        lines.push(line.figure(own).figure(others));
    }
    lines
}
