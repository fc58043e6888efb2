//! The match header: every field, every option, allowed and refused.

use rallytide_chart::RefusalCode::{self, BadField, Malformed, MissingField, TooLong};
use rallytide_chart::{Discipline, Format, Header, Positions, Scoring, Team, WinningPoint};
use serde_json::{Value, json};

use crate::notation::{check_refused, header_json, header_of, object, set, singles_json, without};

#[track_caller]
fn check_format(json: Value, expected: Format) {
    assert_eq!(header_of(json).format, expected);
}

#[track_caller]
fn check_refused_header(json: Value, code: RefusalCode, parts: &[&str]) {
    let outcome = Header::from_json(object(json));
    check_refused(outcome.as_ref(), code, &[&["match header"], parts].concat());
}

/// Checks that the base header is refused once `pointer` has this value.
#[track_caller]
fn check_refused_with(pointer: &str, value: Value, code: RefusalCode, parts: &[&str]) {
    check_refused_header(set(header_json(), pointer, value), code, parts);
}

fn rally_json() -> Value {
    set(header_json(), "/format/scoring", json!("rally"))
}

fn side_out() -> Format {
    Format {
        discipline: Discipline::Doubles,
        scoring: Scoring::SideOut,
        points: 11,
        win_by: 2,
        games: 3,
    }
}

fn rally(winning_point: WinningPoint, positions: Positions) -> Format {
    Format {
        scoring: Scoring::Rally {
            winning_point,
            positions,
        },
        ..side_out()
    }
}

#[test]
fn a_whole_header_is_read_field_by_field() {
    let header = header_of(header_json());
    assert_eq!(header.id.as_str(), "pier-cup-final");
    assert_eq!(header.title, "Pier Cup, final");
    assert_eq!(header.court, "1");
    assert_eq!(header.teams.a.name, "Okafor / Lind");
    assert_eq!(header.teams.b.players, ["Petra Marek", "Rin Sato"]);
    assert_eq!(header.format, side_out());
    assert_eq!(header.first_serve, Team::A);
    assert_eq!(header.player_name(Team::A, 1), Some("Jonas Lind"));
}

#[test]
fn title_court_and_players_may_be_left_out() {
    let mut json = header_json();
    for pointer in ["/title", "/court", "/teams/a/players"] {
        json = without(json, pointer);
    }
    let json = set(json, "/teams/b/players", json!([]));
    let header = header_of(json);
    assert_eq!((header.title.as_str(), header.court.as_str()), ("", ""));
    assert!(header.teams.a.players.is_empty() && header.teams.b.players.is_empty());
    assert_eq!(header.player_name(Team::A, 0), None);
}

#[test]
fn a_player_without_a_name_has_none_to_show() {
    let header = header_of(set(header_json(), "/teams/a/players", json!(["", "Jonas"])));
    assert_eq!(header.player_name(Team::A, 0), None);
    assert_eq!(header.player_name(Team::A, 1), Some("Jonas"));
    assert_eq!(header.player_name(Team::A, 2), None);
}

#[test]
fn unknown_fields_are_kept_at_every_depth() {
    let mut json = header_json();
    for pointer in ["/venue", "/teams/a/seed", "/format/note", "/client", "/seq"] {
        json = set(json, pointer, json!({"any": [1, null]}));
    }
    assert_eq!(header_of(json.clone()).to_json(), &object(json));
}

#[test]
fn the_checksum_of_the_line_is_no_part_of_the_header() {
    let stored = header_of(set(header_json(), "/crc", json!("0123abcd")));
    assert_eq!(stored, header_of(header_json()));
}

#[test]
fn every_field_that_has_to_be_there_is_missed_by_name() {
    for pointer in [
        "/kind",
        "/chart",
        "/id",
        "/teams",
        "/teams/a",
        "/teams/b",
        "/teams/a/name",
        "/format",
        "/format/discipline",
        "/format/scoring",
        "/format/points",
        "/format/win_by",
        "/format/games",
        "/first_serve",
    ] {
        let path = pointer[1..].replace('/', ".");
        let parts = [&*format!("field `{path}` is missing"), "it takes"];
        check_refused_header(without(header_json(), pointer), MissingField, &parts);
        // What is `null` counts as left out.
        check_refused_with(pointer, json!(null), MissingField, &parts);
    }
}

#[test]
fn a_refusal_says_where_its_field_stands() {
    let parts = ["field `teams.b.name`", "`7`"];
    check_refused_with("/teams/b/name", json!(7), BadField, &parts);
    let source = object(set(header_json(), "/teams/b/name", json!(7)));
    let refusal = Header::from_json(source).unwrap_err();
    assert_eq!(refusal.field().unwrap().as_str(), "teams.b.name");
}

#[test]
fn another_kind_is_no_header() {
    let parts = ["`kind` is `\"shot\"`", "`match`"];
    check_refused_with("/kind", json!("shot"), BadField, &parts);
}

#[test]
fn another_version_of_the_format_is_refused() {
    for (version, found) in [
        (json!(2), "`2`"),
        (json!("1"), "`\"1\"`"),
        (json!(0), "`0`"),
    ] {
        check_refused_with("/chart", version, BadField, &["`chart`", found, "`1`"]);
    }
}

#[test]
fn the_match_id_keeps_the_rule_for_ids() {
    for id in ["a", "A_z-9", &"x".repeat(64)] {
        header_of(set(header_json(), "/id", json!(id)));
    }
    for id in ["", "a b", "../x", "é", &"x".repeat(65), &"x".repeat(60_000)] {
        let parts = ["field `id`", "1 to 64", "A-Z"];
        check_refused_with("/id", json!(id), BadField, &parts);
    }
}

#[test]
fn texts_of_the_header_hold_500_characters_at_most() {
    for pointer in ["/title", "/court", "/teams/a/name", "/teams/a/players/0"] {
        // A character is one of Unicode, not a byte.
        header_of(set_at(pointer, &"é".repeat(500)));
        let outcome = Header::from_json(object(set_at(pointer, &"é".repeat(501))));
        check_refused(outcome.as_ref(), TooLong, &["501 characters", "500"]);
    }
}

fn set_at(pointer: &str, text: &str) -> Value {
    let mut json = header_json();
    *json.pointer_mut(pointer).unwrap() = json!(text);
    json
}

#[test]
fn texts_of_the_header_have_to_be_texts() {
    for pointer in ["/title", "/court", "/teams/a/name"] {
        check_refused_with(pointer, json!(5), BadField, &["`5`", "a text"]);
    }
    for pointer in ["/teams", "/teams/a", "/format"] {
        check_refused_with(pointer, json!([]), BadField, &["`[]`", "an object"]);
    }
}

#[test]
fn a_team_has_as_many_players_as_the_discipline_says() {
    header_of(singles_json());
    for players in [
        json!(["Ada"]),
        json!(["A", "B", "C"]),
        json!("Ada"),
        json!([1, 2]),
    ] {
        let parts = ["`teams.a.players`", "2 names", "doubles"];
        check_refused_with("/teams/a/players", players, BadField, &parts);
    }
    let two = set(singles_json(), "/teams/a/players", json!(["Ada", "Bo"]));
    check_refused_header(two, BadField, &["`teams.a.players`", "1 name", "singles"]);
}

#[test]
fn disciplines_are_doubles_and_singles() {
    check_format(header_json(), side_out());
    let singles = Format {
        discipline: Discipline::Singles,
        ..side_out()
    };
    check_format(singles_json(), singles);
    for value in [json!("mixed"), json!(2)] {
        let parts = ["`format.discipline`", "`doubles` or `singles`"];
        check_refused_with("/format/discipline", value, BadField, &parts);
    }
}

#[test]
fn scorings_are_side_out_and_rally() {
    check_format(header_json(), side_out());
    check_format(rally_json(), rally(WinningPoint::Any, Positions::Swap));
    for value in [json!("sideout"), json!(true)] {
        let parts = ["`format.scoring`", "`side_out` or `rally`"];
        check_refused_with("/format/scoring", value, BadField, &parts);
    }
}

#[test]
fn numbers_of_the_format_are_kept_in_their_ranges() {
    for points in [1, 99] {
        let expected = Format {
            points,
            ..side_out()
        };
        check_format(
            set(header_json(), "/format/points", json!(points)),
            expected,
        );
    }
    for win_by in [1, 2] {
        let expected = Format {
            win_by,
            ..side_out()
        };
        check_format(
            set(header_json(), "/format/win_by", json!(win_by)),
            expected,
        );
    }
    for games in [1, 3, 5] {
        let expected = Format {
            games,
            ..side_out()
        };
        check_format(set(header_json(), "/format/games", json!(games)), expected);
        assert_eq!(expected.games_to_win(), [1, 2, 3][games as usize / 2]);
    }
    for (pointer, values, allowed) in [
        (
            "/format/points",
            [json!(0), json!(100), json!("11"), json!(-1)],
            "from 1 to 99",
        ),
        (
            "/format/win_by",
            [json!(0), json!(3), json!(1.5), json!(true)],
            "`1` or `2`",
        ),
        (
            "/format/games",
            [json!(0), json!(2), json!(4), json!(7)],
            "`1`, `3` or `5`",
        ),
    ] {
        for value in values {
            let found = format!("is `{value}`");
            check_refused_with(pointer, value, BadField, &[&found, allowed]);
        }
    }
}

#[test]
fn the_winning_point_belongs_to_rally_scoring() {
    // USA Pickleball rulebook 2026, 14.A.2 (any side), and 2025, provisional rally
    // scoring, 12.B.1 (the serving side alone), published.
    for (word, expected) in [("any", WinningPoint::Any), ("server", WinningPoint::Server)] {
        let json = set(rally_json(), "/format/winning_point", json!(word));
        check_format(json, rally(expected, Positions::Swap));
        let parts = ["`format.winning_point`", "nothing here", "rally"];
        check_refused_with("/format/winning_point", json!(word), BadField, &parts);
    }
    let wrong = set(rally_json(), "/format/winning_point", json!("b"));
    check_refused_header(
        wrong,
        BadField,
        &["`format.winning_point`", "`any` or `server`"],
    );
}

#[test]
fn a_winning_point_is_allowed_in_singles_with_rally_scoring() {
    // The USA Pickleball notice on rally scoring in singles, May 2024 (published).
    let json = set(singles_json(), "/format/scoring", json!("rally"));
    let json = set(json, "/format/winning_point", json!("server"));
    let expected = Format {
        discipline: Discipline::Singles,
        ..rally(WinningPoint::Server, Positions::Swap)
    };
    check_format(json, expected);
}

#[test]
fn positions_belong_to_rally_doubles() {
    // Partners who keep their courts: common practice of team leagues; no rulebook
    // edition has it.
    for (word, expected) in [("swap", Positions::Swap), ("static", Positions::Static)] {
        let json = set(rally_json(), "/format/positions", json!(word));
        check_format(json, rally(WinningPoint::Any, expected));
        let parts = ["`format.positions`", "nothing here", "rally"];
        check_refused_with("/format/positions", json!(word), BadField, &parts);
        let singles = set(singles_json(), "/format/scoring", json!("rally"));
        let singles = set(singles, "/format/positions", json!(word));
        check_refused_header(
            singles,
            BadField,
            &["`format.positions`", "nothing here", "doubles"],
        );
    }
    let wrong = set(rally_json(), "/format/positions", json!("fixed"));
    check_refused_header(
        wrong,
        BadField,
        &["`format.positions`", "`swap` or `static`"],
    );
}

#[test]
fn an_option_that_is_null_counts_as_left_out() {
    for pointer in ["/format/winning_point", "/format/positions"] {
        check_format(set(header_json(), pointer, json!(null)), side_out());
    }
}

#[test]
fn the_first_serve_is_a_or_b() {
    let header = header_of(set(header_json(), "/first_serve", json!("b")));
    assert_eq!(header.first_serve, Team::B);
    for value in [json!("A"), json!(0), json!("c")] {
        let parts = ["`first_serve`", "`a` `b`"];
        check_refused_with("/first_serve", value, BadField, &parts);
    }
}

#[test]
fn a_format_says_how_many_play_and_how_many_serve() {
    // USA Pickleball rulebook 2026, 5.B: both partners serve in side-out doubles;
    // 14.A.5: one server a turn in rally scoring (published).
    let sizes = |json| {
        let format = header_of(json).format;
        (format.team_size(), format.has_two_servers())
    };
    assert_eq!(sizes(header_json()), (2, true));
    assert_eq!(sizes(rally_json()), (2, false));
    assert_eq!(sizes(singles_json()), (1, false));
}

#[test]
fn text_that_is_no_json_object_is_no_header() {
    for text in ["", "{", "[]", "null", "\"match\"", "{\"kind\":\"match\"}{}"] {
        let outcome = Header::from_text(text);
        check_refused(outcome.as_ref(), Malformed, &["match header", "JSON"]);
    }
}
