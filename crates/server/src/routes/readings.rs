//! `GET /courts/{court}/now/reading/{indicator}`: one indicator, as JSON or, where
//! the request prefers that, as plain text to show as it is.

use axum::extract::{Path, Query, State};
use axum::http::{HeaderMap, header};
use axum::response::Response;
use rallytide_court::Role;
use serde_json::Value;

use crate::answers::readings::{IndicatorReadings, ReadingQuery};
use crate::etag::tagged;
use crate::json_body::{from_json, to_json};
use crate::rejection::Rejection;
use crate::state::AppState;

pub(crate) async fn show(
    State(state): State<AppState>,
    Path((name, indicator)): Path<(String, String)>,
    Query(query): Query<ReadingQuery>,
    headers: HeaderMap,
) -> Result<Response, Rejection> {
    let court = state.known_court(&name)?;
    // The snapshot for viewers, so that what is for the booth alone is not here.
    let mut now: IndicatorReadings = from_json(court.now(Role::Viewer).as_bytes())?;
    let all = std::mem::take(&mut now.readings);
    let known = known_indicators(&all);
    if !known.contains(&indicator) {
        return Err(Rejection::not_found(format!(
            "there is no indicator `{indicator}` on court `{name}` now; there are {}",
            listed(&known)
        )));
    }
    let fits = |reading: &Value| reading["indicator"] == *indicator && is_asked(reading, &query);
    now.readings = all.into_iter().filter(fits).collect();
    if prefers_text(&headers) {
        let text: String = now.readings.iter().map(line).collect();
        return Ok(tagged(text, "text/plain; charset=utf-8", &headers));
    }
    Ok(tagged(to_json(&now)?, "application/json", &headers))
}

fn known_indicators(readings: &[Value]) -> Vec<String> {
    let names = readings.iter().filter_map(|one| one["indicator"].as_str());
    let mut names: Vec<String> = names.map(str::to_owned).collect();
    // They are sorted.
    names.dedup();
    names
}

fn listed(names: &[String]) -> String {
    if names.is_empty() {
        return "none, as there is no match".into();
    }
    let names: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    names.join(", ")
}

fn is_asked(reading: &Value, query: &ReadingQuery) -> bool {
    let is = |field: &str, wanted: Option<Value>| wanted.is_none_or(|one| reading[field] == one);
    is("team", query.team.clone().map(Value::from))
        && is("player", query.player.map(Value::from))
        && is("slot", query.slot.clone().map(Value::from))
}

/// Whether the first of the types that a request names is plain text.
fn prefers_text(headers: &HeaderMap) -> bool {
    let accept = headers.get(header::ACCEPT);
    let accept = accept.and_then(|value| value.to_str().ok()).unwrap_or("");
    accept.trim_start().starts_with("text/plain")
}

/// One reading in a line: whose it is, as far as it is somebody's, and its value.
fn line(reading: &Value) -> String {
    let mut parts = Vec::new();
    for field in ["team", "player", "slot"] {
        match &reading[field] {
            Value::Null => {}
            Value::String(text) => parts.push(text.clone()),
            other => parts.push(other.to_string()),
        }
    }
    parts.push(value_text(&reading["value"]));
    format!("{}\n", parts.join(" "))
}

fn value_text(value: &Value) -> String {
    let text = |field: &str| value[field].as_str().unwrap_or("").to_owned();
    let number = |field: &str| value[field].to_string();
    match value["type"].as_str().unwrap_or("") {
        "lean" => value["toward"].as_str().unwrap_or("neutral").to_owned(),
        "count" => number("n"),
        "share" => format!("{}/{}", number("part"), number("whole")),
        "chance" => format!("{:.0}%", value["p"].as_f64().unwrap_or(0.0) * 100.0),
        "duration" => format!("{} ms", number("ms")),
        "text" => text("text"),
        "flag" if value["on"] == true => "yes".into(),
        "flag" => "no".into(),
        _ => value.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    #[test]
    fn every_type_of_value_can_be_shown_as_it_is() {
        for (value, shown) in [
            (
                json!({"type": "lean", "toward": null, "strength": 0.0}),
                "neutral",
            ),
            (json!({"type": "lean", "toward": "b", "strength": 1.0}), "b"),
            (json!({"type": "count", "n": 4}), "4"),
            (json!({"type": "share", "part": 3, "whole": 5}), "3/5"),
            (json!({"type": "chance", "p": 0.625}), "62%"),
            (json!({"type": "duration", "ms": 850}), "850 ms"),
            (json!({"type": "text", "text": "line"}), "line"),
            (json!({"type": "flag", "on": true}), "yes"),
        ] {
            assert_eq!(value_text(&value), shown);
        }
    }

    #[test]
    fn a_line_says_first_whose_the_value_is() {
        let reading = json!({"indicator": "third.won", "team": "a", "player": null,
            "slot": "drop", "value": {"type": "share", "part": 1, "whole": 2}});
        assert_eq!(line(&reading), "a drop 1/2\n");
    }
}
