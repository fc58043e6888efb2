//! The second seat of a court: what it may send, what is kept of it, and what a
//! burst of corrections does.

use rallytide_chart::MatchId;
use rallytide_court::{CannotDo, CourtName, LiveCourt, Recorder, Role, Seat, ViewerStart};
use serde_json::{Map, Value, json};

use crate::support::{charter, court_with, header, host};

fn line(id: &str, fields: Value) -> Map<String, Value> {
    let mut line = Map::new();
    line.insert("id".into(), id.into());
    line.insert("at".into(), "2026-05-02T10:00:00.000Z".into());
    let Value::Object(fields) = fields else {
        panic!("the fields of an entry are an object")
    };
    line.extend(fields);
    line
}

fn cue(shot: &str) -> Value {
    json!({"kind": "cue", "cue": "awkward", "shot": shot})
}

fn phone() -> Recorder {
    Recorder::on(Seat::Cues, "phone")
}

fn seq_or_code(court: &LiveCourt, by: &Recorder, entry: Map<String, Value>) -> String {
    let id = MatchId::new("seats").unwrap();
    match court.submit(by, &id, entry) {
        Ok(receipt) => receipt.accepted.seq.to_string(),
        Err(CannotDo::Refused(refusal)) => refusal.code().word().into(),
        Err(CannotDo::NotThisSeat { .. }) => "not_this_seat".into(),
        Err(other) => panic!("{other}"),
    }
}

/// Two shots of the first seat, and a cue of the second about the first of them.
fn begun(court: &LiveCourt) {
    let laptop = charter("laptop");
    for (id, team, stroke) in [("s1", "a", "serve"), ("s2", "b", "return")] {
        let shot = json!({"kind": "shot", "team": team, "stroke": stroke});
        seq_or_code(court, &laptop, line(id, shot));
    }
    assert_eq!(seq_or_code(court, &phone(), line("c1", cue("s1"))), "3");
}

#[test]
fn an_id_that_is_known_is_judged_before_the_seat_and_the_seat_before_the_rest() {
    let folder = tempfile::tempdir().unwrap();
    let courts = host(folder.path());
    let court = court_with(&courts, "1", &header("seats"));
    begun(&court);
    let check = |id, fields, expected| {
        assert_eq!(seq_or_code(&court, &phone(), line(id, fields)), expected);
    };
    let serve = json!({"kind": "shot", "team": "a", "stroke": "serve"});
    check("s1", serve.clone(), "1");
    check("s1", cue("s2"), "id_conflict");
    check("x", serve, "not_this_seat");
    check(
        "x",
        json!({"kind": "retract", "target": "s1"}),
        "not_this_seat",
    );
    check(
        "x",
        json!({"kind": "retract", "target": "no"}),
        "bad_correction",
    );
    check("x", cue("no"), "unknown_shot");
    check("x", json!({"kind": "cue", "shot": "s1"}), "missing_field");
    check("x", json!({"kind": "smash"}), "unknown_kind");
}

#[test]
fn what_a_seat_recorded_is_known_as_its_own_after_a_restart() {
    let folder = tempfile::tempdir().unwrap();
    {
        let courts = host(folder.path());
        begun(&court_with(&courts, "1", &header("seats")));
    }
    let log = std::fs::read_to_string(folder.path().join("seats.jsonl")).unwrap();
    let seats: Vec<&str> = log
        .lines()
        .skip(1)
        .map(|line| {
            if line.contains(r#","client":"phone","seat":"cues","seq":3,"#) {
                "cues"
            } else if line.contains(r#","client":"laptop","seat":"chart","seq":"#) {
                "chart"
            } else {
                line
            }
        })
        .collect();
    assert_eq!(seats, ["chart", "chart", "cues"]);
    let courts = host(folder.path());
    let court = courts.court(&CourtName::new("1").unwrap()).unwrap();
    let retract = |id, target| {
        let fields = json!({"kind": "retract", "target": target});
        seq_or_code(&court, &phone(), line(id, fields))
    };
    assert_eq!(retract("r1", "s2"), "not_this_seat");
    assert_eq!(retract("r1", "c1"), "4");
}

#[test]
fn corrections_that_come_together_are_one_snapshot_and_have_an_answer_each() {
    let folder = tempfile::tempdir().unwrap();
    let courts = host(folder.path());
    let court = court_with(&courts, "1", &header("seats"));
    begun(&court);
    let laptop = charter("laptop");
    let end = line("e1", json!({"kind": "rally_end", "won_by": "a"}));
    assert_eq!(seq_or_code(&court, &laptop, end), "4");
    let (start, mut viewer) = court.watch(Role::Viewer, Some(4), Some("seats"));
    assert!(matches!(start, ViewerStart::Resumed));
    let insert = |id, after, entry: Value| {
        line(
            id,
            json!({"kind": "insert", "after": after, "entry": entry}),
        )
    };
    let burst = vec![
        insert("i1", "s1", cue("s1")),
        insert("i2", "s2", cue("s2")),
        insert("i3", "no", cue("s2")),
        insert("i4", "e1", cue("s2")),
        line("r1", json!({"kind": "retract", "target": "i1"})),
    ];
    let id = MatchId::new("seats").unwrap();
    let outcomes: Vec<String> = court
        .submit_all(&phone(), &id, burst)
        .into_iter()
        .map(|outcome| match outcome {
            Ok(receipt) => {
                let accepted = receipt.accepted;
                let flags: Vec<_> = accepted.flags.iter().map(|flag| flag.word()).collect();
                format!("{} {}", accepted.seq, flags.join(" "))
            }
            Err(CannotDo::Refused(refusal)) => refusal.code().word().into(),
            Err(CannotDo::NotThisSeat { .. }) => "not_this_seat".into(),
            Err(other) => panic!("{other}"),
        })
        .collect();
    assert_eq!(outcomes, ["5 ", "6 ", "bad_correction", "7 no_shot", "8 "]);
    let runtime = tokio::runtime::Builder::new_current_thread()
        .build()
        .unwrap();
    let told: Value =
        serde_json::from_str(&runtime.block_on(viewer.next(&court)).unwrap()).unwrap();
    assert_eq!(
        (&told["type"], &told["reason"]),
        (&json!("snapshot"), &json!("corrected"))
    );
    assert_eq!((&told["seq"], &told["revision"]), (&json!(8), &json!(4)));
    assert_eq!(told["rally"]["earlier"].as_array().map(Vec::len), Some(0));
    let shots = &told["rally"]["shots"];
    assert_eq!(
        shots[0]["cues"],
        json!(["awkward"]),
        "the direct one stands"
    );
    assert_eq!(
        shots[1]["cues"],
        json!(["awkward"]),
        "the inserted one, too"
    );
}
