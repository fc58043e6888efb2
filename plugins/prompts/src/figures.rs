//! Lines about what the numbers of the match say by now.

use rallytide_plugin_kit::Team;

use crate::language::LEAST_TOLD;
use crate::lines::{Line, Scene};
use crate::phrases::Phrase;
use crate::rally::Rally;
use crate::sources::{
    APPROACH, BOUNCED, COVERAGE, Cite, DRIVE, DROP, ESCAPES, FINISHED, FIRST, GIFT, Indicator,
    LONGEST, OTHER, SAT_UP, SERVE, SITTER, SPEEDUP, Slot, THIRD,
};

/// What a number weighs on its own: not enough, unless nothing has been said for a
/// while.
const PLAIN: i32 = 24;
/// What it weighs less with few cases.
const FEW: i32 = 10;
/// What it weighs less about serves, which every rally changes: alike they are not
/// worth a word.
const EVERY_RALLY: i32 = 12;
/// What it weighs more, at most, by being unlike what it is compared with.
const UNLIKE: i32 = 30;
/// The lost rallies of which one is given away that are worth a word.
const MANY_GIFTS: u32 = 3;
/// How unlike two teams are, weighed like that, to say "only" of the one.
const APART: i32 = 4;
/// The same to set them side by side.
const FAR_APART: i32 = 10;

/// What the numbers say, those first that belong to the rally's shots. A chart with
/// gaps counts too few shots and spells to speak of them.
#[must_use]
pub fn of_match(scene: &Scene, rally: &Rally) -> Vec<Line> {
    let has_gaps = scene.has_gaps();
    let mut lines = Vec::new();
    if has_gaps {
        lines.extend(caution(scene));
    }
    for team in Team::BOTH {
        if !has_gaps {
            lines.extend(third(scene, team, rally));
            lines.extend(speedups(scene, team, rally));
            lines.extend(spells(scene, team));
            lines.extend(gift(scene, team));
            lines.extend(first(scene, team));
        }
        lines.extend(sitter(scene, team, rally));
        lines.extend(serve(scene, team));
    }
    lines
}

/// Where no shots are charted at all, nothing that is said rests on them.
fn caution(scene: &Scene) -> Option<Line> {
    let has_shots = scene.sources.count(Cite::of_match(LONGEST)) > 0;
    has_shots.then(|| {
        let line = Line::new(Phrase::Gaps, Team::A, 52).figure(Cite::of_match(COVERAGE));
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
    if !scene.is_fresh(cite) {
        return None;
    }
    let (part, whole) = scene.sources.share(cite);
    if whole < LEAST_TOLD {
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
/// statistic for two proportions, of which 4 and more are seldom chance, scaled.
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
    ((apart * apart / spread * 3.5) as i32).min(UNLIKE)
}

fn third(scene: &Scene, team: Team, rally: &Rally) -> Vec<Line> {
    let of = |slot| Cite::team(THIRD, team).slot(slot);
    let serve = Some(Cite::team(SERVE, team));
    let shown = rally.shot(3).map(|shot| shot.entry);
    let mut lines = Vec::new();
    for slot in Slot::all().filter(|slot| *slot != OTHER) {
        let line = share(scene, Phrase::ThirdShot, team, of(slot), serve);
        lines.extend(line.map(|line| Line {
            stroke: slot.name(),
            ..line.shown_by(shown)
        }));
    }
    let (drops, drives) = (of(DROP), of(DRIVE));
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
    let shown = rally.speedup(team).map(|shot| shot.entry);
    let ways = [(Phrase::OffSitters, SAT_UP), (Phrase::Forced, OTHER)];
    let lines = ways.into_iter().filter_map(|(phrase, slot)| {
        let cite = Cite::team(SPEEDUP, team).slot(slot);
        Some(share(scene, phrase, team, cite, None)?.shown_by(shown))
    });
    lines.collect()
}

fn sitter(scene: &Scene, team: Team, rally: &Rally) -> Option<Line> {
    let left = rally.sat_up(team.other());
    let shown = left.map(|shot| shot.entry);
    let cite = Cite::team(SITTER, team);
    Some(share(scene, Phrase::Punished, team, cite, None)?.shown_by(shown))
}

/// What wins or loses spells.
fn spells(scene: &Scene, team: Team) -> Vec<Line> {
    let attacks = Compared {
        plain: Phrase::Finishes,
        many: Phrase::FinishesMany,
        few: Phrase::FinishesFew,
        both: Some(Phrase::FinishesBoth),
    };
    let bounces = Compared {
        plain: Phrase::MakesBounce,
        many: Phrase::OftenBounces,
        few: Phrase::SeldomBounces,
        both: None,
    };
    let escapes = Compared {
        plain: Phrase::GetsOut,
        many: Phrase::GetsOut,
        few: Phrase::GetsOut,
        both: Some(Phrase::GetOutBoth),
    };
    let comes_in = Cite::team(APPROACH, team);
    [
        attacks.line(scene, team, FINISHED),
        bounces.line(scene, team, BOUNCED),
        escapes.line(scene, team, ESCAPES),
        share(scene, Phrase::ComesIn, team, comes_in, None),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// How a share is told, by how it compares with the opponents', once both have
/// enough cases.
struct Compared {
    plain: Phrase,
    many: Phrase,
    few: Phrase,
    /// Where they are far apart.
    both: Option<Phrase>,
}

impl Compared {
    fn line(&self, scene: &Scene, team: Team, indicator: Indicator) -> Option<Line> {
        let (own, others) = (
            Cite::team(indicator, team),
            Cite::team(indicator, team.other()),
        );
        let line = |phrase| share(scene, phrase, team, own, None);
        if !(scene.is_sample(own) && scene.is_sample(others)) {
            return line(self.plain);
        }
        let apart = unlike(scene, scene.sources.share(own), others);
        match self.both {
            Some(both) if apart >= FAR_APART => Some(line(both)?.figure(others)),
            // "Only none" would be too much of it.
            _ if apart < APART || scene.sources.share(own).0 == 0 => line(self.plain),
            _ if is_more(scene, own, others) => Some(line(self.many)?.rests_on(others)),
            _ => Some(line(self.few)?.rests_on(others)),
        }
    }
}

/// Whether the one happens more often than the other.
fn is_more(scene: &Scene, one: Cite, other: Cite) -> bool {
    let ((part, whole), (other_part, other_whole)) =
        (scene.sources.share(one), scene.sources.share(other));
    let product = |part, whole| u64::from(part) * u64::from(whole);
    product(part, other_whole) > product(other_part, whole)
}

/// Points given away, where they are many enough to matter.
fn gift(scene: &Scene, team: Team) -> Option<Line> {
    let cite = Cite::team(GIFT, team);
    let (part, whole) = scene.sources.share(cite);
    (MANY_GIFTS * part >= whole).then(|| share(scene, Phrase::GivenAway, team, cite, None))?
}

/// Who attacks first, said of the team that does so clearly more often: by more
/// than the spread that even chances would have.
fn first(scene: &Scene, team: Team) -> Option<Line> {
    let cite = Cite::team(FIRST, team);
    let (part, whole) = scene.sources.share(cite);
    let more = (2 * part).saturating_sub(whole);
    if more == 0 || more * more < whole {
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
