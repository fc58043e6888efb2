//! What every made-up chart keeps, whatever the plan: it is the same each time,
//! a host takes it in entry by entry, and the match ends.

use std::collections::BTreeSet;

use rallytide_chart::{
    Admission, At, Body, Chart, Contact, Correction, Cue, Discipline, Effective, Entry, Flag,
    Format, Header, Kind, PairOf, Play, Positions, RallyReader, Scoring as ScoringKind, Stroke,
    Team, TeamSheet, WinningPoint, read_chart_file,
};
use rallytide_scoring::ScoreKeeper;
use rallytide_simulate::{
    Billing, Detail, Incidents, Mistakes, Plan, PlanError, Simulation, Tempo, simulate,
};

/// Every format that a header can say, with short and long games.
fn formats() -> Vec<Format> {
    let mut scorings = vec![(Discipline::Doubles, ScoringKind::SideOut)];
    scorings.push((Discipline::Singles, ScoringKind::SideOut));
    for winning_point in [WinningPoint::Any, WinningPoint::Server] {
        for positions in [Positions::Swap, Positions::Static] {
            let scoring = ScoringKind::Rally {
                winning_point,
                positions,
            };
            scorings.push((Discipline::Doubles, scoring));
            if positions == Positions::Swap {
                scorings.push((Discipline::Singles, scoring));
            }
        }
    }
    let lengths = [(1, 1, 1), (7, 2, 5), (11, 2, 3), (15, 1, 1), (21, 2, 1)];
    let mut formats = Vec::new();
    for (discipline, scoring) in scorings {
        for (points, win_by, games) in lengths {
            formats.push(Format {
                discipline,
                scoring,
                points,
                win_by,
                games,
            });
        }
    }
    formats
}

/// Plans with every format, depth of charting and kind of charter.
fn plans() -> impl Iterator<Item = Plan> {
    formats()
        .into_iter()
        .enumerate()
        .flat_map(|(place, format)| {
            let details = Detail::ALL.iter().copied();
            details.flat_map(move |detail| {
                [Mistakes::None, Mistakes::Lifelike].map(|mistakes| Plan {
                    format,
                    detail,
                    mistakes,
                    ..Plan::new(place as u64 * 31 + 5)
                })
            })
        })
}

fn lines(plan: &Plan) -> Vec<String> {
    simulate(plan).expect("the plan is valid")
}

/// The entries as one read from a file.
fn chart(lines: &[String]) -> Chart {
    let file = read_chart_file((lines.join("\n") + "\n").as_bytes());
    assert_eq!(file.problems, [], "the chart has problems");
    assert_eq!(file.notes, [], "the chart has oddities");
    file.chart.expect("a chart without problems has a header")
}

fn final_scoring(header: &Header, effective: &[Effective]) -> ScoreKeeper {
    let mut scoring = ScoreKeeper::new(header);
    for entry in effective {
        scoring.step(&entry.play);
    }
    scoring
}

/// Who won each counted rally, and everything else that touches the score.
fn story(plan: &Plan) -> Vec<String> {
    let effective = chart(&lines(plan)).effective();
    let told = effective
        .iter()
        .filter_map(|entry| match entry.play.as_ref() {
            Play::RallyEnd(end) => Some(format!("rally to {}", end.winner)),
            Play::Shot(_) | Play::Cue(_) | Play::Depth(_) => None,
            other => Some(format!("{other:?}")),
        });
    told.collect()
}

#[test]
fn the_same_plan_gives_the_same_bytes() {
    for plan in plans() {
        assert_eq!(lines(&plan), lines(&plan), "{plan:?}");
    }
}

/// A change of these numbers is a change of every demo and benchmark: intended,
/// or a platform that computes differently.
#[test]
fn a_seed_gives_the_bytes_it_always_gave() {
    // FNV-1a, 64 bits, over ten matches each.
    let fingerprint = |discipline| {
        let mut hash = 0xcbf2_9ce4_8422_2325_u64;
        for seed in 1..=10 {
            let mut plan = Plan::new(seed);
            plan.format.discipline = discipline;
            for byte in lines(&plan).join("\n").bytes() {
                hash = (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
            }
        }
        format!("{hash:016x}")
    };
    assert_eq!(
        [Discipline::Doubles, Discipline::Singles].map(fingerprint),
        ["de1814c874ab98b9", "575fb7c57a98678f"]
    );
}

#[test]
fn other_seeds_give_other_matches() {
    let matches: BTreeSet<_> = (1..=50).map(|seed| lines(&Plan::new(seed))).collect();
    assert_eq!(matches.len(), 50);
}

#[test]
fn the_lines_come_one_by_one_as_they_come_at_once() {
    let plan = Plan::new(3);
    let one_by_one: Vec<_> = Simulation::new(&plan).expect("valid").take(100).collect();
    assert_eq!(one_by_one, lines(&plan)[..100]);
}

#[test]
fn a_host_refuses_no_entry() {
    for plan in plans() {
        refuses_nothing(&plan);
    }
    for seed in 100..140 {
        refuses_nothing(&Plan::new(seed));
    }
}

/// Takes the entries in as a host does: one after the other, nothing but
/// corrections and notes once the match is over as the chart stands then.
#[track_caller]
fn refuses_nothing(plan: &Plan) {
    let lines = lines(plan);
    let header = Header::from_text(&lines[0]).expect("a valid header");
    let mut scoring = ScoreKeeper::new(&header);
    let mut chart = Chart::new(header);
    for line in &lines[1..] {
        let entry = Entry::from_text(line, &chart.header().format).expect(line);
        assert_eq!(chart.admit(&entry), Ok(Admission::New), "{line}");
        let harmless = match &entry.body {
            Body::Correction(_) => true,
            Body::Play(happened) => matches!(happened.as_ref(), Play::Note { .. }),
        };
        assert!(harmless || !scoring.score().is_over(), "match over: {line}");
        let corrects = entry.is_correction();
        chart.push(entry);
        if corrects {
            scoring = final_scoring(chart.header(), &chart.effective());
        } else if let Some(latest) = chart.latest_effective() {
            let step = scoring.step(&latest.play);
            assert!(!step.flags.contains(&Flag::NoTimeOutLeft), "{line}");
            assert!(
                !step.flags.contains(&Flag::ServeByReceivers) || plan.detail != Detail::EveryShot,
                "{line}"
            );
        }
    }
}

#[test]
fn every_match_ends_with_its_last_effective_entry() {
    for plan in plans() {
        let chart = chart(&lines(&plan));
        let effective = chart.effective();
        let plays = effective.iter().rposition(|entry| {
            matches!(entry.play.as_ref(), Play::RallyEnd(_) | Play::Retire { .. })
        });
        let last = plays.expect("a match has rallies");
        assert_eq!(last + 1, effective.len(), "{plan:?}");
        let before = final_scoring(chart.header(), &effective[..last]);
        let after = final_scoring(chart.header(), &effective);
        assert!(
            !before.score().is_over() && after.score().is_over(),
            "{plan:?}"
        );
    }
}

#[test]
fn the_match_does_not_depend_on_how_it_is_charted() {
    for seed in [4, 11, 52] {
        let plan = Plan::new(seed);
        let told = story(&plan);
        for detail in Detail::ALL {
            for mistakes in [Mistakes::None, Mistakes::Lifelike] {
                let other = Plan {
                    detail: *detail,
                    mistakes,
                    tempo: Tempo::new(10, 10).expect("within the range"),
                    ..plan.clone()
                };
                assert_eq!(told, story(&other), "seed {seed}, {detail:?}, {mistakes:?}");
            }
        }
    }
}

#[test]
fn times_go_forward_only() {
    for plan in plans() {
        let chart = chart(&lines(&plan));
        let times: Vec<At> = chart.entries().iter().map(|(_, entry)| entry.at).collect();
        assert!(times.windows(2).all(|pair| pair[0] < pair[1]), "{plan:?}");
        assert!(times.first().is_some_and(|first| *first > plan.start));
    }
}

#[test]
fn a_charter_who_never_errs_corrects_nothing_and_misses_nothing() {
    for seed in 1..=20 {
        let plan = Plan {
            mistakes: Mistakes::None,
            ..Plan::new(seed)
        };
        let chart = chart(&lines(&plan));
        assert_eq!(chart.revision(), 0);
        let mut reader = RallyReader::default();
        for entry in chart.effective() {
            assert_eq!(reader.step(&entry).flags, [], "seed {seed}, {}", entry.id);
        }
    }
}

#[test]
fn a_charter_who_errs_leaves_every_kind_of_correction() {
    let mut seen = BTreeSet::new();
    for seed in 1..=40 {
        let chart = chart(&lines(&Plan::new(seed)));
        for (_, entry) in chart.entries() {
            let what = match &entry.body {
                Body::Correction(Correction::Amend { with, .. }) => {
                    format!("amended {}", with.kind().word())
                }
                Body::Correction(Correction::Insert { play, .. }) => {
                    format!("inserted {}", play.kind().word())
                }
                Body::Correction(Correction::Retract { target }) => {
                    let target = chart.entry(target.as_str()).expect("it is checked");
                    match &target.body {
                        Body::Correction(_) => "retracted a correction".to_owned(),
                        Body::Play(play) => format!("retracted {}", play.kind().word()),
                    }
                }
                Body::Play(play) => match play.as_ref() {
                    Play::Cue(mark) if mark.shot.is_some() => "cue about an older shot".to_owned(),
                    _ => continue,
                },
            };
            seen.insert(what);
        }
    }
    let expected = [
        "amended rally_end",
        "amended shot",
        "cue about an older shot",
        "inserted shot",
        "retracted a correction",
        "retracted cue",
        "retracted rally_end",
        "retracted shot",
    ];
    assert_eq!(
        seen.iter().map(String::as_str).collect::<Vec<_>>(),
        expected
    );
}

/// The charter mends the slip but not what was seen: every rally the mended chart
/// tells is the rally that was played, but for shots missed for good and contacts
/// not noticed.
#[test]
fn mended_shots_are_the_shots_that_were_played() {
    for seed in 1..=20 {
        let erring = Plan::new(seed);
        let exact = Plan {
            mistakes: Mistakes::None,
            ..erring.clone()
        };
        let strokes = |plan: &Plan| {
            let mut rallies = vec![Vec::new()];
            for entry in chart(&lines(plan)).effective() {
                match entry.play.as_ref() {
                    Play::Shot(shot) => {
                        let rally: &mut Vec<_> = rallies.last_mut().expect("never empty");
                        rally.push((shot.team, shot.stroke));
                    }
                    Play::RallyEnd(_) | Play::Replay => rallies.push(Vec::new()),
                    _ => {}
                }
            }
            rallies
        };
        for (erring, exact) in strokes(&erring).iter().zip(strokes(&exact)) {
            let missed_for_good = erring.len() + 1 == exact.len();
            assert!(
                *erring == exact || (missed_for_good && is_within(erring, &exact)),
                "seed {seed}: {erring:?}, but {exact:?} was played"
            );
        }
    }
}

/// Whether `part` is `whole` with some left out.
fn is_within<T: PartialEq>(part: &[T], whole: &[T]) -> bool {
    let mut rest = whole.iter();
    part.iter().all(|one| rest.any(|other| other == one))
}

#[test]
fn every_kind_of_entry_stroke_and_cue_occurs() {
    let mut kinds = BTreeSet::new();
    let mut strokes = BTreeSet::new();
    let mut cues = BTreeSet::new();
    for seed in 1..=150 {
        for (_, entry) in chart(&lines(&Plan::new(seed))).entries() {
            let kind = entry.to_json()["kind"].as_str().expect("a word");
            kinds.insert(kind.to_owned());
            let Body::Play(play) = &entry.body else {
                continue;
            };
            match play.as_ref() {
                Play::Shot(shot) => {
                    strokes.insert(shot.stroke);
                    cues.extend(shot.cues.iter().map(Cue::word));
                }
                Play::Cue(mark) => {
                    cues.insert(mark.cue.word());
                }
                _ => {}
            }
        }
    }
    for kind in Kind::ALL {
        assert!(kinds.contains(kind.word()), "no `{kind}`");
    }
    assert!(Stroke::ALL.iter().all(|stroke| strokes.contains(stroke)));
    assert!(Cue::ALL.iter().all(|cue| cues.contains(cue.word())));
}

/// Serve and return must each bounce before they are struck (USA Pickleball
/// rulebook 2026, 10.A).
#[test]
fn serve_and_return_bounce() {
    for seed in 1..=30 {
        let plan = Plan {
            mistakes: Mistakes::None,
            ..Plan::new(seed)
        };
        let mut reader = RallyReader::default();
        for entry in chart(&lines(&plan)).effective() {
            let shot = reader
                .step(&entry)
                .shot
                .filter(|shot| shot.entry == entry.id);
            if let Some(shot) = shot.filter(|shot| matches!(shot.number, 2 | 3)) {
                assert_eq!(shot.contact, Some(Contact::Bounce), "{}", entry.id);
            }
        }
    }
}

#[test]
fn a_ruling_turned_over_gives_the_rally_to_the_other_team() {
    let mut rulings = 0;
    for seed in 1..=60 {
        let chart = chart(&lines(&Plan::new(seed)));
        let mut scoring = ScoreKeeper::new(chart.header());
        let mut before_rally = scoring.clone();
        let mut won_by = Team::A;
        for entry in chart.effective() {
            match entry.play.as_ref() {
                Play::RallyEnd(end) => {
                    before_rally = scoring.clone();
                    won_by = end.winner;
                }
                Play::ScoreFix(fix) => {
                    let other = format!(
                        r#"{{"id":"x","at":"2026-05-09T10:00:00.000Z","kind":"rally_end","won_by":"{}"}}"#,
                        won_by.other()
                    );
                    let other = Entry::from_text(&other, &chart.header().format).expect("valid");
                    let Body::Play(other) = other.body else {
                        unreachable!()
                    };
                    before_rally.step(&other);
                    let expected = before_rally.score();
                    assert_eq!(
                        (fix.points, fix.serving, fix.server),
                        (expected.points, expected.serving, expected.server)
                    );
                    rulings += 1;
                }
                _ => {}
            }
            scoring.step(&entry.play);
        }
    }
    assert!(rulings > 5, "only {rulings} rulings in 60 matches");
}

#[test]
fn without_incidents_there_are_rallies_only() {
    for seed in 1..=10 {
        let plan = Plan {
            incidents: Incidents::None,
            detail: Detail::ScoreOnly,
            ..Plan::new(seed)
        };
        for entry in chart(&lines(&plan)).effective() {
            assert_eq!(entry.play.kind(), Kind::RallyEnd);
        }
    }
}

#[test]
fn tempo_stretches_times_and_nothing_else() {
    let plan = Plan {
        mistakes: Mistakes::None,
        incidents: Incidents::None,
        ..Plan::new(9)
    };
    let slow = Plan {
        tempo: Tempo::new(300, 300).expect("within the range"),
        ..plan.clone()
    };
    let span = |plan: &Plan| {
        let chart = chart(&lines(plan));
        let last = chart.entries().last().expect("entries").1.at;
        last.milliseconds() - plan.start.milliseconds()
    };
    let stretched = span(&slow) as f64 / span(&plan) as f64;
    assert!((2.99..3.01).contains(&stretched), "{stretched}");
    assert_eq!(Tempo::new(9, 100), None);
    assert_eq!(Tempo::new(100, 1001), None);
}

#[test]
fn what_the_caller_announces_is_kept_and_changes_no_rally() {
    let sheet = |name: &str, players: [&str; 2]| TeamSheet {
        name: name.into(),
        players: players.map(str::to_owned).into(),
    };
    let plan = Plan {
        billing: Billing {
            id: Some("pond-cup-1".into()),
            title: Some("Pond Cup, round 1".into()),
            court: Some("centre".into()),
            teams: Some(PairOf {
                a: sheet("Reeds", ["Ada Reed", "Bo Reed"]),
                b: sheet("Ducks", ["Cy Duck", "Di Duck"]),
            }),
        },
        ..Plan::new(21)
    };
    let header = chart(&lines(&plan)).header().clone();
    assert_eq!(header.id.as_str(), "pond-cup-1");
    assert_eq!(header.title, "Pond Cup, round 1");
    assert_eq!(header.court, "centre");
    assert_eq!(header.player_name(Team::B, 1), Some("Di Duck"));
    assert_eq!(story(&plan), story(&Plan::new(21)));
}

#[test]
fn no_name_stands_twice_in_a_match() {
    for seed in 1..=300 {
        let header = Simulation::new(&Plan::new(seed)).expect("valid").next();
        let header = Header::from_text(&header.expect("a header")).expect("valid");
        let names: Vec<_> = Team::ALL
            .iter()
            .flat_map(|team| header.teams.of(*team).players.clone())
            .filter_map(|name| {
                name.split_once(' ')
                    .map(|(a, b)| [a.to_owned(), b.to_owned()])
            })
            .flatten()
            .collect();
        assert_eq!(names.len(), 8);
        assert_eq!(names.iter().collect::<BTreeSet<_>>().len(), 8, "{names:?}");
    }
}

#[test]
fn a_plan_that_makes_no_match_is_refused_with_the_reason() {
    let mut plan = Plan::new(1);
    plan.format.games = 4;
    let PlanError::Header(refusal) = simulate(&plan).expect_err("four games");
    assert!(refusal.to_string().contains("`format.games`"), "{refusal}");
    plan.format.games = 3;
    plan.format.points = 0;
    let PlanError::Header(refusal) = simulate(&plan).expect_err("no points");
    assert!(refusal.to_string().contains("`format.points`"), "{refusal}");
    plan.format.points = 11;
    plan.billing.id = Some("no spaces, please".into());
    let PlanError::Header(refusal) = simulate(&plan).expect_err("bad id");
    assert!(refusal.to_string().contains("`id`"), "{refusal}");
}
