//! The kinds that say what was seen of a rally: `shot`, `cue`, `depth`, `replay`,
//! `note`. The end of a rally has a file of its own.

use rallytide_chart::RefusalCode::{BadField, MissingField, TooLong, UnknownCue, UnknownStroke};
use rallytide_chart::{
    Contact, Cue, CueMark, CueSet, Depth, DepthMark, EntryId, Play, Shot, Stroke, Team,
};
use serde_json::{Value, json};

use crate::notation::{
    check_play, check_play_in, check_refused_play, check_refused_play_in, entry, singles, without,
};

fn driven() -> Shot {
    Shot {
        team: Team::A,
        stroke: Stroke::Drive,
        contact: None,
        player: None,
        cues: CueSet::default(),
    }
}

fn drive() -> Value {
    json!({"kind": "shot", "team": "a", "stroke": "drive"})
}

fn drive_with(name: &str, value: Value) -> Value {
    let mut fields = drive();
    fields[name] = value;
    fields
}

#[test]
fn a_shot_needs_team_and_stroke_only() {
    check_play(drive(), &Play::Shot(driven()));
    for name in ["team", "stroke"] {
        let missing = format!("field `{name}` is missing; it takes one of");
        check_refused_play(
            without(drive(), &format!("/{name}")),
            MissingField,
            &[&missing],
        );
    }
}

#[test]
fn every_stroke_is_known_by_its_word() {
    let words =
        "serve return drive drop dink lob reset volley block speedup overhead erne atp other";
    let listed: Vec<&str> = Stroke::ALL.iter().map(|stroke| stroke.word()).collect();
    assert_eq!(listed.join(" "), words);
    for stroke in Stroke::ALL.iter().copied() {
        let expected = Play::Shot(Shot { stroke, ..driven() });
        check_play(drive_with("stroke", json!(stroke.word())), &expected);
    }
}

#[test]
fn an_unknown_stroke_is_refused_with_all_known_ones() {
    let known: Vec<String> = Stroke::ALL
        .iter()
        .map(|stroke| format!("`{stroke}`"))
        .collect();
    let mut parts: Vec<&str> = known.iter().map(String::as_str).collect();
    parts.push("`stroke` is `\"tweener\"`");
    check_refused_play(
        drive_with("stroke", json!("tweener")),
        UnknownStroke,
        &parts,
    );
    check_refused_play(
        drive_with("stroke", json!(1)),
        BadField,
        &["`1`", "`serve`"],
    );
}

#[test]
fn a_contact_is_bounce_air_or_half_volley() {
    for (word, contact) in [
        ("bounce", Contact::Bounce),
        ("air", Contact::Air),
        ("half_volley", Contact::HalfVolley),
    ] {
        let contact = Some(contact);
        check_play(
            drive_with("contact", json!(word)),
            &Play::Shot(Shot {
                contact,
                ..driven()
            }),
        );
    }
    let parts = ["`contact` is `\"floor\"`", "`bounce` `air` `half_volley`"];
    check_refused_play(drive_with("contact", json!("floor")), BadField, &parts);
}

#[test]
fn a_player_is_0_or_1_and_in_singles_0() {
    for player in [0, 1] {
        let shot = Shot {
            player: Some(player),
            ..driven()
        };
        check_play(drive_with("player", json!(player)), &Play::Shot(shot));
    }
    for player in [json!(2), json!(-1), json!("0"), json!(0.5), json!(true)] {
        let found = format!("`player` is `{player}`");
        check_refused_play(
            drive_with("player", player),
            BadField,
            &[&found, "`0` or `1`"],
        );
    }
    let shot = Shot {
        player: Some(0),
        ..driven()
    };
    check_play_in(
        &singles(),
        drive_with("player", json!(0)),
        &Play::Shot(shot),
    );
    let parts = ["`player` is `1`", "singles"];
    check_refused_play_in(&singles(), drive_with("player", json!(1)), BadField, &parts);
}

#[test]
fn cues_of_a_shot_are_a_set() {
    let all = CueSet::from_iter(Cue::ALL.iter().copied());
    for (cues, expected) in [
        (json!([]), CueSet::default()),
        (json!(null), CueSet::default()),
        (json!(["awkward"]), CueSet::default().with(Cue::Awkward)),
        (
            json!(["awkward", "awkward"]),
            CueSet::default().with(Cue::Awkward),
        ),
        (
            json!(["net_cord", "attackable", "awkward", "off_balance"]),
            all,
        ),
    ] {
        let shot = Shot {
            cues: expected,
            ..driven()
        };
        check_play(drive_with("cues", cues), &Play::Shot(shot));
    }
    assert!(all.iter().eq(Cue::ALL.iter().copied()));
}

#[test]
fn an_unknown_cue_in_a_list_is_the_one_shown() {
    let cues = json!(["off_balance", "awkward", "attackable", "net_cord", "sleepy"]);
    let parts = [
        "`cues`",
        "`\"sleepy\"`",
        "`off_balance` `awkward` `attackable` `net_cord`",
    ];
    check_refused_play(drive_with("cues", cues), UnknownCue, &parts);
    for cues in [json!("awkward"), json!([1]), json!({"awkward": true})] {
        check_refused_play(drive_with("cues", cues), BadField, &["`cues`", "a list of"]);
    }
}

#[test]
fn a_cue_is_about_a_shot_or_about_the_latest_one() {
    let latest = CueMark {
        cue: Cue::Attackable,
        shot: None,
    };
    check_play(
        json!({"kind": "cue", "cue": "attackable"}),
        &Play::Cue(latest.clone()),
    );
    let named = CueMark {
        shot: EntryId::new("r1s2"),
        ..latest
    };
    let fields = json!({"kind": "cue", "cue": "attackable", "shot": "r1s2"});
    check_play(fields, &Play::Cue(named));
}

#[test]
fn a_cue_that_is_missing_unknown_or_about_no_id_is_refused() {
    let parts = ["`cue` is missing", "`off_balance`"];
    check_refused_play(json!({"kind": "cue"}), MissingField, &parts);
    let parts = ["`cue` is `\"tired\"`", "`net_cord`"];
    check_refused_play(json!({"kind": "cue", "cue": "tired"}), UnknownCue, &parts);
    for shot in [json!(4), json!(""), json!("a b")] {
        let fields = json!({"kind": "cue", "cue": "awkward", "shot": shot});
        check_refused_play(fields, BadField, &["`shot`", "an entry's id"]);
    }
}

#[test]
fn a_depth_is_of_a_team_or_of_one_player() {
    let mark = DepthMark {
        team: Team::B,
        depth: Depth::Back,
        player: None,
    };
    for (word, depth) in [
        ("back", Depth::Back),
        ("transition", Depth::Transition),
        ("line", Depth::Line),
    ] {
        let fields = json!({"kind": "depth", "team": "b", "depth": word});
        check_play(fields, &Play::Depth(DepthMark { depth, ..mark }));
    }
    let fields = json!({"kind": "depth", "team": "b", "depth": "back", "player": 1});
    let expected = Play::Depth(DepthMark {
        player: Some(1),
        ..mark
    });
    check_play(fields.clone(), &expected);
    check_refused_play_in(&singles(), fields, BadField, &["`player`", "singles"]);
}

#[test]
fn a_depth_without_team_or_depth_or_with_another_word_is_refused() {
    let whole = json!({"kind": "depth", "team": "b", "depth": "back"});
    for name in ["team", "depth"] {
        let missing = format!("`{name}` is missing");
        check_refused_play(
            without(whole.clone(), &format!("/{name}")),
            MissingField,
            &[&missing],
        );
    }
    let fields = json!({"kind": "depth", "team": "b", "depth": "middle"});
    let parts = ["`\"middle\"`", "`line` `transition` `back`"];
    check_refused_play(fields, BadField, &parts);
    let fields = json!({"kind": "depth", "team": "c", "depth": "back"});
    check_refused_play(fields, BadField, &["`team` is `\"c\"`", "`a` `b`"]);
}

#[test]
fn the_deeper_depth_is_the_greater_one() {
    assert!(Depth::Back > Depth::Transition && Depth::Transition > Depth::Line);
}

#[test]
fn a_replay_may_give_its_reason() {
    check_play(json!({"kind": "replay"}), &Play::Replay);
    check_play(
        json!({"kind": "replay", "reason": "ball on court"}),
        &Play::Replay,
    );
    let fields = json!({"kind": "replay", "reason": "x".repeat(501)});
    check_refused_play(fields, TooLong, &["`reason`", "501", "500"]);
    check_refused_play(
        json!({"kind": "replay", "reason": 3}),
        BadField,
        &["`reason`", "a text"],
    );
}

#[test]
fn a_note_holds_500_characters_at_most() {
    for text in [String::new(), "x".repeat(500), "球".repeat(500)] {
        check_play(json!({"kind": "note", "text": text}), &Play::Note { text });
    }
    let fields = json!({"kind": "note", "text": "球".repeat(501)});
    check_refused_play(
        fields,
        TooLong,
        &["`text`", "501 characters", "at most 500"],
    );
    check_refused_play(json!({"kind": "note"}), MissingField, &["`text`", "500"]);
    check_refused_play(
        json!({"kind": "note", "text": []}),
        BadField,
        &["`text`", "a text"],
    );
}

#[test]
fn every_play_says_its_kind() {
    for (fields, word) in [
        (drive(), "shot"),
        (json!({"kind": "cue", "cue": "awkward"}), "cue"),
        (
            json!({"kind": "depth", "team": "a", "depth": "line"}),
            "depth",
        ),
        (json!({"kind": "rally_end", "won_by": "a"}), "rally_end"),
        (json!({"kind": "replay"}), "replay"),
        (json!({"kind": "time_out", "team": "a"}), "time_out"),
        (json!({"kind": "penalty", "team": "a"}), "penalty"),
        (
            json!({"kind": "score_fix", "points": {"a": 0, "b": 0}, "serving": "a"}),
            "score_fix",
        ),
        (
            json!({"kind": "lineup", "team": "a", "starting_server": 1}),
            "lineup",
        ),
        (json!({"kind": "retire", "team": "a"}), "retire"),
        (json!({"kind": "note", "text": ""}), "note"),
    ] {
        match entry(fields).body {
            rallytide_chart::Body::Play(play) => assert_eq!(play.kind().word(), word),
            correction @ rallytide_chart::Body::Correction(_) => panic!("{correction:?}"),
        }
    }
}
