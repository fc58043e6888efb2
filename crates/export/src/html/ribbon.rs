//! The rally ribbon as inline SVG: one mark a shot, shaped by who struck it,
//! lifted towards team a (up) or b (down) by who holds the initiative after it.
//! Long rallies go on in a second row, so that marks keep their size on paper.

use maud::{Markup, html};
use rallytide_chart::Team;
use rallytide_match_record::{MatchRecord, RecordedRally, RecordedShot};

use crate::words::{counted, end_words, shot_words, striker, team_name};

/// Shots in a row.
const ROW: usize = 22;
/// Lengths in units of the drawing.
const HEIGHT: f64 = 88.0;
const STEP: f64 = 28.0;
/// Where the marks begin, beside the shapes that say which way is whose.
const LEFT: f64 = 34.0;
/// Room for the mark of the end.
const TAIL: f64 = 44.0;
/// The line nobody's marks stand on; below it is room for the numbers.
const MIDDLE: f64 = 36.0;
/// How far a mark can be lifted.
const REACH: f64 = 25.0;

struct RibbonShot<'a> {
    shot: &'a RecordedShot,
    x: f64,
    y: f64,
}

/// The ribbon, in as many rows as it needs; the first one speaks for all to those
/// who hear the page.
pub(super) fn rows(record: &MatchRecord, rally: &RecordedRally) -> Markup {
    let rows: Vec<&[RecordedShot]> = rally.shots.chunks(ROW).collect();
    let last = rows.len().saturating_sub(1);
    html! {
        @for (place, shots) in rows.iter().enumerate() {
            (row(record, rally, shots, RibbonRow { is_first: place == 0, is_last: place == last }))
        }
    }
}

#[derive(Clone, Copy)]
struct RibbonRow {
    is_first: bool,
    is_last: bool,
}

fn row(
    record: &MatchRecord,
    rally: &RecordedRally,
    shots: &[RecordedShot],
    place: RibbonRow,
) -> Markup {
    let marks: Vec<RibbonShot<'_>> = shots
        .iter()
        .enumerate()
        .map(|(at, shot)| RibbonShot {
            shot,
            x: LEFT + STEP * (at as f64 + 0.5),
            y: MIDDLE - REACH * lift(shot),
        })
        .collect();
    let after = LEFT + STEP * shots.len() as f64;
    let ends = place.is_last && rally.end.is_some();
    let width = after + if ends { TAIL } else { 8.0 };
    let words = ribbon_words(record, rally);
    html! {
        svg.ribbon viewBox={ "0 0 " (width) " " (HEIGHT) } width=(width) height=(HEIGHT)
            role=[place.is_first.then_some("img")]
            aria-label=[place.is_first.then_some(words)]
            aria-hidden=[(!place.is_first).then_some("true")] {
            (team_mark(Team::A, 12.0, MIDDLE - 17.0, 5.0, "key"))
            (team_mark(Team::B, 12.0, MIDDLE + 17.0, 5.0, "key"))
            line.axis x1=(LEFT - 8.0) y1=(MIDDLE) x2=(after) y2=(MIDDLE) {}
            (water(&marks))
            @for mark in &marks { (shot_mark(record, mark)) }
            @if ends { (end_mark(rally, after)) }
        }
    }
}

/// +1 fully a's, −1 fully b's. An offense that is only carried on has strength 0
/// and still shows.
fn lift(shot: &RecordedShot) -> f64 {
    let side = match shot.shown.toward {
        None => return 0.0,
        Some(Team::A) => 1.0,
        Some(Team::B) => -1.0,
    };
    side * (0.42 + 0.58 * shot.shown.strength)
}

/// The area between the marks and the middle: a's above, b's below.
fn water(marks: &[RibbonShot<'_>]) -> Markup {
    let (Some(first), Some(last)) = (marks.first(), marks.last()) else {
        return html! {};
    };
    let curves = marks.windows(2).map(|pair| {
        let (from, to) = (&pair[0], &pair[1]);
        let half = f64::midpoint(from.x, to.x);
        format!(
            "C{half:.1} {:.1} {half:.1} {:.1} {:.1} {:.1}",
            from.y, to.y, to.x, to.y
        )
    });
    let curve = curves.collect::<Vec<_>>().concat();
    let line = format!("M{:.1} {:.1}{curve}", first.x, first.y);
    let area = format!("{line}L{:.1} {MIDDLE}L{:.1} {MIDDLE}Z", last.x, first.x);
    let width = last.x + STEP;
    let below = HEIGHT - MIDDLE;
    html! {
        // A nested drawing cuts at its edges: the same shape once above, once below.
        svg x="0" y="0" width=(width) height=(MIDDLE) { path.area data-team="a" d=(area) {} }
        svg x="0" y=(MIDDLE) width=(width) height=(below)
            viewBox={ "0 " (MIDDLE) " " (width) " " (below) } {
            path.area data-team="b" d=(area) {}
        }
        path.thread d=(line) {}
    }
}

fn shot_mark(record: &MatchRecord, mark: &RibbonShot<'_>) -> Markup {
    let shown = &mark.shot.shown;
    let kind = if shown.assumed {
        "mark assumed"
    } else {
        "mark"
    };
    let told = format!(
        "{}. {}: {}",
        shown.n,
        striker(&record.header, mark.shot),
        shot_words(shown)
    );
    html! {
        g {
            title { (told) }
            (team_mark(shown.team, mark.x, mark.y, 6.5, kind))
            text.number x=(mark.x) y=(HEIGHT - 6.0) text-anchor="middle" { (shown.n) }
        }
    }
}

fn team_mark(team: Team, x: f64, y: f64, size: f64, kind: &str) -> Markup {
    let word = team.word();
    let (x, y) = (round(x), round(y));
    match team {
        Team::A => html! { circle class=(kind) data-team=(word) cx=(x) cy=(y) r=(size) {} },
        Team::B => {
            let wide = round(size * 1.28);
            let points = format!(
                "{x},{} {},{y} {x},{} {},{y}",
                round(y - wide),
                round(x + wide),
                round(y + wide),
                round(x - wide)
            );
            html! { polygon class=(kind) data-team=(word) points=(points) {} }
        }
    }
}

fn end_mark(rally: &RecordedRally, x: f64) -> Markup {
    let winner = rally.end.as_ref().and_then(|end| end.shown.won_by);
    html! {
        line.end x1=(x) y1="4" x2=(x) y2=(MIDDLE * 2.0 - 4.0) {}
        @if let Some(team) = winner {
            @let y = if team == Team::A { MIDDLE - 20.0 } else { MIDDLE + 20.0 };
            (team_mark(team, x + 18.0, y, 7.0, "key"))
        }
    }
}

fn ribbon_words(record: &MatchRecord, rally: &RecordedRally) -> String {
    let header = &record.header;
    let state = match (&rally.end, rally.shots.last()) {
        (Some(end), _) => end_words(header, end),
        (None, Some(last)) => match last.shown.toward {
            Some(team) => format!("{} on offense", team_name(header, team)),
            None => "neutral".into(),
        },
        (None, None) => "not started".into(),
    };
    format!(
        "Ribbon of rally {}, {}, {state}",
        rally.number,
        counted(rally.shots.len(), "shot")
    )
}

/// To a tenth of a unit: nobody sees more.
fn round(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}
