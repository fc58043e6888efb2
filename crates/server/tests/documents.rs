//! What the routes really answer, against the document that describes them.
#![allow(
    clippy::unwrap_used,
    clippy::needless_pass_by_value,
    reason = "helpers of tests: what fails is the test, and `json!` is handed over as it is made"
)]

use std::net::SocketAddr;
use std::sync::Arc;

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::extract::ConnectInfo;
use axum::http::{Request, StatusCode};
use rallytide_bus::{EmbeddedBus, system_clock};
use rallytide_chart::{EntryId, Kind, Seq};
use rallytide_court::{CountedFault, Courts, PluginOnCourt};
use rallytide_plugin_host::{
    HostFault, LogLine, Manifest, MissingSource, PluginFault, PluginFaultKind, PluginHealth,
    PluginSet, PluginState, SettingForm, SettingOffer, SettingValue, Settings, Severity,
};
use rallytide_plugin_registry::{LoadAttempt, LoadOutcome, Objection, RegisteredPlugin};
use rallytide_server::{
    Access, AppState, ConnectionLimits, Extras, Keys, PluginDesk, PluginRefusal, PluginReport,
    router,
};
use serde_json::{Map, Value, json};
use tokio::sync::watch;
use tower::ServiceExt;

const OPENAPI: &str = include_str!("../api/openapi.json");

struct NoPlugins;

impl PluginDesk for NoPlugins {
    fn report(&self) -> PluginReport {
        report_with_everything()
    }

    fn switch(&self, plugin: &str, _on: bool) -> Result<(), PluginRefusal> {
        Err(PluginRefusal::Unknown(format!("there is no `{plugin}`")))
    }

    fn set(&self, plugin: &str, _chosen: Map<String, Value>) -> Result<(), PluginRefusal> {
        Err(PluginRefusal::Unknown(format!("there is no `{plugin}`")))
    }
}

/// A report in which every state, outcome and form of a setting occurs.
fn report_with_everything() -> PluginReport {
    let fault = PluginFault {
        plugin: "tilt".into(),
        kind: PluginFaultKind::OutOfFuel,
        message: "it used up its fuel".into(),
        entry: EntryId::new("r1s2"),
        seq: Seq(7),
    };
    let missing = vec![MissingSource {
        indicator: "depth".into(),
        suspended: Some("initiative".into()),
    }];
    let states = [
        PluginState::Running,
        PluginState::Stopped {
            fault: fault.clone(),
        },
        PluginState::Failed {
            fault: HostFault {
                doing: "start it".into(),
                message: "no memory".into(),
            },
        },
        PluginState::SwitchedOff { why: "3".into() },
        PluginState::Suspended { missing },
    ];
    let on_court = states.map(|state| PluginOnCourt {
        health: health(state),
        faults: 1,
        last_fault: Some(CountedFault {
            entry: None,
            revision: 2,
            kind: fault.kind.word().into(),
            message: fault.to_string(),
        }),
        switched_off_by_faults: false,
    });
    let objection = Objection {
        message: "it needs a clock".into(),
        hint: Some("leave the clock out".into()),
    };
    let outcomes = [
        LoadOutcome::Taken,
        LoadOutcome::Refused(objection.clone()),
        LoadOutcome::TurnedDown(objection),
        LoadOutcome::Removed,
    ];
    let attempts = outcomes.map(|outcome| LoadAttempt {
        at: jiff::Timestamp::UNIX_EPOCH,
        file: "tilt.wasm".into(),
        plugin: Some("tilt".into()),
        version: None,
        outcome,
    });
    PluginReport {
        plugins: vec![registered()],
        courts: [("1".to_owned(), on_court.into())].into(),
        attempts: attempts.into(),
    }
}

fn registered() -> RegisteredPlugin {
    let forms = [
        SettingForm::Number {
            from: 0.0,
            to: 1.0,
            default: 0.5,
        },
        SettingForm::Whole {
            from: 1,
            to: 9,
            default: 6,
        },
        SettingForm::Truth { default: true },
        SettingForm::Choice {
            choices: vec!["one".into()],
        },
        SettingForm::Text {
            longest: 20,
            default: String::new(),
        },
    ];
    let settings = forms.map(|form| SettingOffer {
        name: "a_setting".into(),
        about: "What it is for.".into(),
        form,
    });
    RegisteredPlugin {
        manifest: Manifest {
            id: "tilt".into(),
            version: "1".into(),
            about: "Who tilts.".into(),
            provides: vec!["tilt".into()],
            reads: vec!["depth".into()],
            called_for: Some([Kind::Shot].into()),
            settings: settings.into(),
        },
        file: "tilt.wasm".into(),
        built_in: false,
        sha256: "00".into(),
        size: 4,
        on: true,
        chosen: Some([("a_setting".to_owned(), SettingValue::Number(0.25))].into()),
    }
}

fn health(state: PluginState) -> PluginHealth {
    PluginHealth {
        plugin: "tilt".into(),
        version: "1".into(),
        file: "tilt.wasm".into(),
        sha256: "00".into(),
        state,
        calls: 3,
        fuel: 4,
        most_fuel: 2,
        time_us: 9,
        most_time_us: 5,
        memory_bytes: 65_536,
        readings: 1,
        log: vec![LogLine {
            seq: Seq(7),
            severity: Severity::Warn,
            text: "odd".into(),
        }],
        log_dropped: 0,
    }
}

/// The routes of a host, without a socket.
struct Host {
    routes: Router,
    document: Value,
    _stop: watch::Sender<bool>,
    _folder: tempfile::TempDir,
}

impl Host {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let bus = EmbeddedBus::start(folder.path(), system_clock()).unwrap();
        let plugins = PluginSet::assemble(Vec::new(), &Settings::new()).unwrap();
        let courts = Courts::open(Arc::new(bus), Arc::new(plugins)).unwrap();
        let access = Access {
            keys: Arc::new(Keys::open(folder.path()).unwrap()),
            names: Arc::new([]),
            is_local_only: true,
            addresses: Arc::new(|| None),
        };
        let extras = Extras {
            chart_wasm: b"",
            made_up: |_| Ok(Vec::new()),
        };
        let (stop, stopped) = watch::channel(false);
        let state = AppState::new(
            Arc::new(courts),
            Arc::new(NoPlugins),
            None,
            extras,
            access,
            ConnectionLimits::for_files(1024),
            stopped,
        );
        Self {
            routes: router(state),
            document: serde_json::from_str(OPENAPI).unwrap(),
            _stop: stop,
            _folder: folder,
        }
    }

    /// Asks for `path` of the operation `described`, and checks status and body
    /// against the document.
    async fn check(&self, method: &str, described: &str, path: &str, body: Value) -> Value {
        let request = Request::builder()
            .method(method)
            .uri(path)
            .extension(ConnectInfo(SocketAddr::from(([127, 0, 0, 1], 9))))
            .body(match body {
                Value::Null => Body::empty(),
                Value::String(text) => Body::from(text),
                other => Body::from(other.to_string()),
            })
            .unwrap();
        let answer = self.routes.clone().oneshot(request).await.unwrap();
        let status = answer.status();
        let kind = answer.headers().get("content-type").cloned();
        let bytes = to_bytes(answer.into_body(), usize::MAX).await.unwrap();
        let what = format!(
            "{method} {path}: {status}, {}",
            String::from_utf8_lossy(&bytes)
        );
        let answers = &self.document["paths"][described][method.to_lowercase()]["responses"];
        let described = &answers[status.as_str()];
        assert!(
            described.is_object(),
            "{what}: the document has no such answer"
        );
        if bytes.is_empty() {
            return Value::Null;
        }
        let kind = kind.unwrap().to_str().unwrap().to_owned();
        let kind = kind.split(';').next().unwrap();
        let schema = &described["content"][kind]["schema"];
        assert!(schema.is_object(), "{what}: the document has no `{kind}`");
        if kind != "application/json" {
            return Value::Null;
        }
        let value: Value = serde_json::from_slice(&bytes).unwrap();
        let mut schema = schema.clone();
        schema["components"] = self.document["components"].clone();
        let validator = jsonschema::validator_for(&schema).unwrap();
        let problems: Vec<String> = validator
            .iter_errors(&value)
            .map(|error| format!("{} at {}", error, error.instance_path()))
            .collect();
        assert!(problems.is_empty(), "{what}\n{problems:#?}");
        value
    }
}

fn header() -> Value {
    json!({"title": "Final", "teams": {"a": {"name": "A"}, "b": {"name": "B"}},
        "format": {"discipline": "doubles", "scoring": "rally", "points": 11, "win_by": 2,
                   "games": 1}, "first_serve": "a"})
}

fn entry(id: &str, content: Value) -> Value {
    let mut entry = json!({"id": id, "at": "2026-05-03T10:00:00.000Z"});
    let fields = entry.as_object_mut().unwrap();
    fields.extend(content.as_object().unwrap().clone());
    entry
}

#[tokio::test(flavor = "multi_thread")]
async fn what_is_answered_is_what_the_document_says() {
    let host = Host::new();
    let none = || Value::Null;
    host.check("GET", "/desk/state", "/desk/state", none())
        .await;
    let planned = host.check("POST", "/matches", "/matches", header()).await;
    assert_eq!(planned["id"], "final");
    host.check("POST", "/matches", "/matches", json!({})).await;
    let put = json!({"match": "final"});
    let path = "/courts/{court}/match";
    host.check("PUT", path, "/courts/1/match", put.clone())
        .await;
    host.check("PUT", path, "/courts/1/match", json!({"match": "none"}))
        .await;
    let entries = json!({"entries": [
        entry("s1", json!({"kind": "shot", "team": "a", "stroke": "serve"})),
        entry("s2", json!({"kind": "shot", "team": "b", "stroke": "return"})),
        entry("s3", json!({"kind": "rally_end", "won_by": "a"})),
        entry("s4", json!({"kind": "time_out", "team": "b"})),
        entry("s5", json!({"kind": "retract", "target": "s3"})),
        entry("s6", json!({"kind": "nothing"})),
    ]});
    let path = "/courts/{court}/preview";
    host.check("POST", path, "/courts/1/preview", entries.clone())
        .await;
    let path = "/courts/{court}/entries";
    let taken = host.check("POST", path, "/courts/1/entries", entries).await;
    assert_eq!(taken["accepted"].as_array().unwrap().len(), 5);
    host.check("GET", path, "/courts/1/entries", none()).await;
    for (described, path) in [
        ("/courts", "/courts"),
        ("/courts/{court}/now", "/courts/1/now"),
        ("/courts/{court}/now", "/courts/2/now"),
        ("/courts/{court}/now/score.txt", "/courts/1/now/score.txt"),
        (
            "/courts/{court}/now/reading/{indicator}",
            "/courts/1/now/reading/none",
        ),
        ("/courts/{court}/chart.jsonl", "/courts/1/chart.jsonl"),
        ("/desk/state", "/desk/state"),
        ("/desk/links", "/desk/links"),
        ("/matches.json", "/matches.json"),
        ("/matches/{id}/review.json", "/matches/final/review.json"),
        (
            "/matches/{id}/readings.jsonl",
            "/matches/final/readings.jsonl",
        ),
        (
            "/matches/{id}/export/{file}",
            "/matches/final/export/shots.csv",
        ),
        ("/plugins", "/plugins"),
        ("/health", "/health"),
        ("/metrics", "/metrics"),
    ] {
        host.check("GET", described, path, none()).await;
    }
    let path = "/courts/{court}/pause";
    host.check("PUT", path, "/courts/1/pause", json!({"paused": true}))
        .await;
    let path = "/courts/{court}/finish";
    let finish = json!({"finished": true, "retired": "a"});
    host.check("PUT", path, "/courts/1/finish", finish).await;
    host.check("GET", "/desk/state", "/desk/state", none())
        .await;
    host.check("DELETE", "/courts/{court}/match", "/courts/1/match", none())
        .await;
    let role = json!({"role": "booth"});
    host.check("POST", "/desk/keys", "/desk/keys", role).await;
    let sheet = |text: &str| Value::String(text.into());
    for text in ["team_a,team_b\nC,D\n", "team_a,team_b,points\nC,D,x\n"] {
        host.check("POST", "/matches/import", "/matches/import", sheet(text))
            .await;
    }
    let switch = json!({"on": true});
    let path = "/plugins/{plugin}/switch";
    host.check("PUT", path, "/plugins/none/switch", switch)
        .await;
}

#[tokio::test]
async fn a_route_that_is_not_there_is_a_sentence() {
    let host = Host::new();
    let request = Request::builder().uri("/nothing").body(Body::empty());
    let answer = host.routes.oneshot(request.unwrap()).await.unwrap();
    assert_eq!(answer.status(), StatusCode::NOT_FOUND);
}
