//! The document for the messages of the WebSockets (AsyncAPI 3).

use rallytide_court::{Snapshot, Update};
use serde_json::{Map, Value, json};

use super::{Way, generator};
use crate::protocol::{ClientMessage, ToClient};

/// Writes the document.
#[must_use]
pub fn asyncapi() -> Value {
    let mut sent = generator(Way::Sent);
    let mut taken = generator(Way::Taken);
    let from_client = variants(taken.root_schema_for::<ClientMessage>().as_value());
    let from_host = variants(sent.root_schema_for::<ToClient<'_>>().as_value());
    let snapshot = sent.subschema_for::<Snapshot<'_>>();
    let update = sent.subschema_for::<Update<'_>>();
    let mut messages = Map::new();
    for (name, payload) in from_client.iter().chain(&from_host) {
        messages.insert(name.clone(), message(name, payload));
    }
    messages.insert("snapshot".into(), message("snapshot", snapshot.as_value()));
    messages.insert("update".into(), message("update", update.as_value()));
    let names = |part: &[(String, Value)]| -> Vec<String> {
        part.iter().map(|(name, _)| name.clone()).collect()
    };
    let (said, answered) = (names(&from_client), names(&from_host));
    let shown = ["snapshot", "update", "beat"].map(str::to_owned);
    let mut of_intake = said.clone();
    of_intake.extend(answered.iter().filter(|one| !said.contains(one)).cloned());
    let mut schemas = sent.take_definitions(true);
    schemas.extend(taken.take_definitions(true));
    json!({
        "asyncapi": "3.0.0",
        "info": {
            "title": "Rallytide intake and feed",
            "version": "1",
            "description": "WebSocket, JSON text messages, at most 64 KiB each. Seen from the \
                host: it receives what clients send.",
        },
        "channels": {
            "intake": channel("/courts/{court}/intake", &of_intake),
            "feed": channel("/courts/{court}/feed", &shown),
        },
        "operations": {
            "takeEntries": operation("receive", "intake", "A charter's client charts a match", &said),
            "answerCharter": operation("send", "intake", "The host answers", &answered),
            "showMatch": operation("send", "feed", "The host shows the match", &shown),
            "hearViewer": operation("receive", "feed", "A viewer asks for a sign of life",
                &["beat".to_owned()]),
        },
        "components": {"messages": messages, "schemas": schemas},
    })
}

/// The messages of a type that is tagged with their name.
fn variants(schema: &Value) -> Vec<(String, Value)> {
    let all = schema["oneOf"].as_array().into_iter().flatten();
    all.map(|one| {
        let tag = &one["properties"]["type"];
        (
            tag["const"].as_str().unwrap_or_default().to_owned(),
            one.clone(),
        )
    })
    .collect()
}

fn message(name: &str, payload: &Value) -> Value {
    json!({"name": name, "contentType": "application/json", "payload": payload})
}

fn channel(address: &str, messages: &[String]) -> Value {
    let messages: Map<String, Value> = messages
        .iter()
        .map(|name| {
            let reference = format!("#/components/messages/{name}");
            (name.clone(), json!({"$ref": reference}))
        })
        .collect();
    json!({"address": address, "parameters": {"court": {}}, "messages": messages})
}

fn operation(action: &str, channel: &str, summary: &str, messages: &[String]) -> Value {
    let messages: Vec<Value> = messages
        .iter()
        .map(|name| json!({"$ref": format!("#/channels/{channel}/messages/{name}")}))
        .collect();
    json!({"action": action, "summary": summary,
        "channel": {"$ref": format!("#/channels/{channel}")}, "messages": messages})
}
