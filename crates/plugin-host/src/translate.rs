//! From the chart's words to the interface's and back.
//!
//! Pure and total: whatever the chart and the score can say has a form in the
//! interface. Checks of what plugins answer are in [`answer`](crate::answer).

use rallytide_chart::{
    Contact, Cue, Depth, Discipline, Effective, FaultKind, Format, Header, How, Kind, PairOf, Play,
    Positions, RallyStep, Scoring, Shot, Stroke, Team, TeamSheet, WinningPoint,
};
use rallytide_scoring::{Score, ServiceCourt};

use crate::handed_entries::EntriesSoFar;
use crate::interface::wit;
use crate::settings::SettingValue;
use rallytide_readings::{Reading, ReadingKey, Reason, Value};

pub(crate) fn opening(
    header: &Header,
    settings: &[(String, SettingValue)],
    score: &Score,
    readings: Vec<wit::Reading>,
) -> wit::Opening {
    wit::Opening {
        header: match_header(header),
        settings: settings.iter().map(setting).collect(),
        score: self::score(score),
        readings,
    }
}

/// The latest of the entries that were handed over.
pub(crate) fn entry(entry: &Effective, rally: &RallyStep, handed: EntriesSoFar<'_>) -> wit::Entry {
    wit::Entry {
        place: handed.latest(),
        at_ms: entry.at.milliseconds() as f64,
        inserted: entry.inserted,
        play: play(&entry.play, rally, handed),
    }
}

fn match_header(header: &Header) -> wit::MatchHeader {
    let Format {
        discipline,
        scoring,
        points,
        win_by,
        games,
    } = header.format;
    let (scoring, winning_point, positions) = match scoring {
        Scoring::SideOut => (wit::Scoring::SideOut, WinningPoint::Any, Positions::Swap),
        Scoring::Rally {
            winning_point,
            positions,
        } => (wit::Scoring::Rally, winning_point, positions),
    };
    wit::MatchHeader {
        id: header.id.as_str().into(),
        title: header.title.clone(),
        team_a: team_sheet(&header.teams.a),
        team_b: team_sheet(&header.teams.b),
        discipline: match discipline {
            Discipline::Doubles => wit::Discipline::Doubles,
            Discipline::Singles => wit::Discipline::Singles,
        },
        scoring,
        points,
        win_by,
        games,
        winning_point: match winning_point {
            WinningPoint::Any => wit::WinningPoint::Any,
            WinningPoint::Server => wit::WinningPoint::Server,
        },
        positions: match positions {
            Positions::Swap => wit::Positions::Swap,
            Positions::Static => wit::Positions::Static,
        },
        first_serve: team(header.first_serve),
    }
}

fn team_sheet(sheet: &TeamSheet) -> wit::TeamSheet {
    wit::TeamSheet {
        name: sheet.name.clone(),
        players: sheet.players.clone(),
    }
}

fn setting((name, value): &(String, SettingValue)) -> wit::Setting {
    wit::Setting {
        name: name.clone(),
        value: match value {
            SettingValue::Truth(value) => wit::SettingValue::Truth(*value),
            SettingValue::Whole(value) => wit::SettingValue::Whole(*value),
            SettingValue::Number(value) => wit::SettingValue::Number(*value),
            SettingValue::Text(value) => wit::SettingValue::Text(value.clone()),
        },
    }
}

pub(crate) fn score(score: &Score) -> wit::Score {
    wit::Score {
        game: score.game,
        games: pair(score.games),
        points: pair(score.points),
        call: score.call.map(|call| call.to_string()),
        serving: team(score.serving),
        server: score.server,
        server_player: score.server_player,
        receiver_player: score.receiver_player,
        court: match score.court {
            ServiceCourt::Right => wit::Court::Right,
            ServiceCourt::Left => wit::Court::Left,
        },
        finished: score.finished.iter().copied().map(pair).collect(),
        change_ends: score.change_ends,
        near: team(score.near),
        time_outs_left: pair(score.time_outs_left),
        game_point: score.game_point.map(team),
        match_point: score.match_point.map(team),
        winner: score.winner.map(team),
        rallies: score.rallies,
    }
}

fn play(play: &Play, rally: &RallyStep, handed: EntriesSoFar<'_>) -> wit::Play {
    match play {
        Play::Shot(shot) => wit::Play::Shot(self::shot(shot, rally)),
        Play::Cue(mark) => wit::Play::Cue(wit::CueMark {
            cue: cue(mark.cue),
            shot: rally.shot.as_ref().map(|shot| {
                let place = handed.place(&shot.entry);
                place.expect("the rally reader speaks of shots that were handed over")
            }),
        }),
        Play::Depth(mark) => wit::Play::Depth(wit::DepthMark {
            team: team(mark.team),
            depth: match mark.depth {
                Depth::Line => wit::Depth::Line,
                Depth::Transition => wit::Depth::Transition,
                Depth::Back => wit::Depth::Back,
            },
            player: mark.player,
        }),
        Play::RallyEnd(end) => wit::Play::RallyEnd(wit::RallyEnd {
            winner: team(end.winner),
            how: end.how.map(ending),
            by: end.by.map(team),
            player: rally.erred.or(end.player),
            fault: end.fault.map(fault),
        }),
        Play::Replay => wit::Play::Replay,
        Play::TimeOut(time_out) => wit::Play::TimeOut(wit::TimeOut {
            team: team(time_out.team),
            medical: time_out.medical,
        }),
        Play::Penalty { team } => wit::Play::Penalty(self::team(*team)),
        Play::ScoreFix(fix) => wit::Play::ScoreFix(wit::ScoreFix {
            points: pair(fix.points),
            serving: team(fix.serving),
            server: fix.server,
            games: fix.games.map(pair),
        }),
        Play::Lineup(lineup) => wit::Play::Lineup(wit::Lineup {
            team: team(lineup.team),
            starting_server: lineup.starting_server,
        }),
        Play::Retire { team } => wit::Play::Retire(self::team(*team)),
        Play::Note { text } => wit::Play::Note(text.clone()),
    }
}

fn shot(shot: &Shot, rally: &RallyStep) -> wit::Shot {
    let in_rally = rally
        .shot
        .as_ref()
        .expect("the rally reader's word on a shot holds that shot");
    wit::Shot {
        team: team(shot.team),
        stroke: stroke(shot.stroke),
        number: in_rally.number,
        contact: in_rally.contact.map(contact),
        player: in_rally.player,
        cues: shot
            .cues
            .iter()
            .map(any_cue)
            .fold(wit::Cues::empty(), |all, cue| all | cue),
        missed_before: in_rally.missed_before,
    }
}

pub(crate) fn reading(reading: &Reading) -> wit::Reading {
    wit::Reading {
        key: key(&reading.key),
        value: value(&reading.value),
        remarks: remarks(reading),
    }
}

fn remarks(reading: &Reading) -> Option<wit::Remarks> {
    let Reading { why, flags, .. } = reading;
    if why.is_empty() && flags.is_empty() {
        return None;
    }
    let reason = |reason: &Reason| wit::Reason {
        code: reason.code.as_str().into(),
        team: reason.team.map(team),
        entry: reason.place,
        inferred: reason.inferred,
    };
    Some(wit::Remarks {
        why: why.iter().map(reason).collect(),
        flags: flags.clone(),
    })
}

pub(crate) fn key(key: &ReadingKey) -> wit::Key {
    wit::Key {
        indicator: key.indicator.as_str().into(),
        team: key.team.map(team),
        player: key.player,
        slot: key.slot.as_ref().map(|slot| slot.as_str().into()),
    }
}

fn value(value: &Value) -> wit::Value {
    match value {
        Value::Lean { toward, strength } => wit::Value::Lean(wit::Lean {
            toward: toward.map(team),
            strength: *strength,
        }),
        Value::Count { n } => wit::Value::Count(*n),
        Value::Share { part, whole } => wit::Value::Share(wit::Share {
            part: *part,
            whole: *whole,
        }),
        Value::Chance { p } => wit::Value::Chance(*p),
        Value::Duration { ms } => wit::Value::Duration(*ms),
        Value::Text { text } => wit::Value::Text(text.clone()),
        Value::Flag { on } => wit::Value::Flag(*on),
    }
}

fn pair(pair: PairOf<u32>) -> wit::Pair {
    wit::Pair {
        a: pair.a,
        b: pair.b,
    }
}

fn team(team: Team) -> wit::Team {
    match team {
        Team::A => wit::Team::A,
        Team::B => wit::Team::B,
    }
}

pub(crate) fn kind_back(kind: wit::PlayKind) -> Kind {
    match kind {
        wit::PlayKind::Shot => Kind::Shot,
        wit::PlayKind::Cue => Kind::Cue,
        wit::PlayKind::Depth => Kind::Depth,
        wit::PlayKind::RallyEnd => Kind::RallyEnd,
        wit::PlayKind::Replay => Kind::Replay,
        wit::PlayKind::TimeOut => Kind::TimeOut,
        wit::PlayKind::Penalty => Kind::Penalty,
        wit::PlayKind::ScoreFix => Kind::ScoreFix,
        wit::PlayKind::Lineup => Kind::Lineup,
        wit::PlayKind::Retire => Kind::Retire,
        wit::PlayKind::Note => Kind::Note,
    }
}

pub(crate) fn team_back(team: wit::Team) -> Team {
    match team {
        wit::Team::A => Team::A,
        wit::Team::B => Team::B,
    }
}

fn stroke(stroke: Stroke) -> wit::Stroke {
    match stroke {
        Stroke::Serve => wit::Stroke::Serve,
        Stroke::Return => wit::Stroke::Return,
        Stroke::Drive => wit::Stroke::Drive,
        Stroke::Drop => wit::Stroke::Drop,
        Stroke::Dink => wit::Stroke::Dink,
        Stroke::Lob => wit::Stroke::Lob,
        Stroke::Reset => wit::Stroke::Reset,
        Stroke::Volley => wit::Stroke::Volley,
        Stroke::Block => wit::Stroke::Block,
        Stroke::Speedup => wit::Stroke::Speedup,
        Stroke::Overhead => wit::Stroke::Overhead,
        Stroke::Erne => wit::Stroke::Erne,
        Stroke::Atp => wit::Stroke::Atp,
        Stroke::Other => wit::Stroke::Other,
    }
}

fn contact(contact: Contact) -> wit::Contact {
    match contact {
        Contact::Bounce => wit::Contact::Bounce,
        Contact::Air => wit::Contact::Air,
        Contact::HalfVolley => wit::Contact::HalfVolley,
    }
}

fn cue(cue: Cue) -> wit::Cue {
    match cue {
        Cue::OffBalance => wit::Cue::OffBalance,
        Cue::Awkward => wit::Cue::Awkward,
        Cue::Attackable => wit::Cue::Attackable,
        Cue::NetCord => wit::Cue::NetCord,
    }
}

fn any_cue(cue: Cue) -> wit::Cues {
    match cue {
        Cue::OffBalance => wit::Cues::OFF_BALANCE,
        Cue::Awkward => wit::Cues::AWKWARD,
        Cue::Attackable => wit::Cues::ATTACKABLE,
        Cue::NetCord => wit::Cues::NET_CORD,
    }
}

fn ending(how: How) -> wit::Ending {
    match how {
        How::Winner => wit::Ending::Winner,
        How::Ace => wit::Ending::Ace,
        How::Net => wit::Ending::Net,
        How::Out => wit::Ending::Out,
        How::Fault => wit::Ending::Fault,
        How::Unknown => wit::Ending::Unknown,
    }
}

fn fault(fault: FaultKind) -> wit::Fault {
    match fault {
        FaultKind::Serve => wit::Fault::Serve,
        FaultKind::Kitchen => wit::Fault::Kitchen,
        FaultKind::EarlyVolley => wit::Fault::EarlyVolley,
        FaultKind::SecondBounce => wit::Fault::SecondBounce,
        FaultKind::NetTouch => wit::Fault::NetTouch,
        FaultKind::Body => wit::Fault::Body,
        FaultKind::Other => wit::Fault::Other,
    }
}
