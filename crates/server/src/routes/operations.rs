//! For whoever watches over the host: is it there, and how is it doing.

use std::fmt::{Display, Write};

use axum::extract::State;
use axum::http::header;
use axum::response::{IntoResponse, Json, Response};
use rallytide_court::Seat;

use crate::answers::operations::{Health, HealthStatus};
use crate::blocking::run_blocking;
use crate::rejection::Rejection;
use crate::state::AppState;

/// The version of the text format: the one that every collector reads.
const TEXT_FORMAT: &str = "text/plain; version=0.0.4; charset=utf-8";

/// Tells nothing about a match, so it asks for no key.
pub(crate) async fn health() -> Json<Health> {
    Json(Health {
        status: HealthStatus::Ok,
        version: env!("CARGO_PKG_VERSION"),
    })
}

pub(crate) async fn metrics(State(state): State<AppState>) -> Result<Response, Rejection> {
    // The plugins' health is read under each court's lock.
    let text = run_blocking(move || Ok::<_, Rejection>(written(&state))).await?;
    Ok(([(header::CONTENT_TYPE, TEXT_FORMAT)], text).into_response())
}

fn written(state: &AppState) -> String {
    let mut text = Metrics::default();
    let version = env!("CARGO_PKG_VERSION");
    text.about("rallytide_build_info", "gauge", "The version that runs.");
    text.value("rallytide_build_info", &[("version", version)], 1);
    text.about(
        "rallytide_connections",
        "gauge",
        "Connections that are open.",
    );
    text.value("rallytide_connections", &[], state.limits.open());
    let help = "Connections that may be open at once.";
    text.about("rallytide_connections_limit", "gauge", help);
    text.value("rallytide_connections_limit", &[], state.limits.most());
    if let Some(files) = open_files() {
        text.about("rallytide_open_files", "gauge", "Files that are open.");
        text.value("rallytide_open_files", &[], files);
    }
    let help = "Entries and messages refused since the start, by code.";
    text.about("rallytide_refused_total", "counter", help);
    for (code, count) in state.refusals.all() {
        text.value("rallytide_refused_total", &[("code", code)], count);
    }
    let courts = state.courts.all();
    text.about("rallytide_courts", "gauge", "Courts there are.");
    text.value("rallytide_courts", &[], courts.len());
    text.about(
        "rallytide_viewers",
        "gauge",
        "Who looks at a court, by role.",
    );
    for court in &courts {
        let (name, viewers) = (court.name().as_str(), court.viewers());
        for (role, count) in [("viewer", viewers.viewer), ("booth", viewers.booth)] {
            let labels = [("court", name), ("role", role)];
            text.value("rallytide_viewers", &labels, count);
        }
    }
    text.about(
        "rallytide_charters",
        "gauge",
        "Charters that are connected.",
    );
    for court in &courts {
        let count = court.charters().connected().len();
        let labels = [("court", court.name().as_str())];
        text.value("rallytide_charters", &labels, count);
    }
    let help = "Charters that are connected on a seat.";
    text.about("rallytide_charters_on_seat", "gauge", help);
    for court in &courts {
        for seat in Seat::ALL {
            let count = court.charters().count_on(seat);
            let labels = [("court", court.name().as_str()), ("seat", seat.word())];
            text.value("rallytide_charters_on_seat", &labels, count);
        }
    }
    text.about(
        "rallytide_entries",
        "gauge",
        "Entries of the match that is on.",
    );
    for court in &courts {
        let labels = [("court", court.name().as_str())];
        if let Some(on) = court.on_court() {
            text.value("rallytide_entries", &labels, on.entries);
        }
    }
    plugin_metrics(&mut text, &courts);
    text.0
}

fn plugin_metrics(text: &mut Metrics, courts: &[std::sync::Arc<rallytide_court::LiveCourt>]) {
    let on_courts: Vec<_> = courts
        .iter()
        .map(|court| (court.name().as_str(), court.plugins()))
        .collect();
    let mut family = |name, help, value: fn(&rallytide_court::PluginOnCourt) -> f64| {
        text.about(name, "gauge", help);
        for (court, plugins) in &on_courts {
            for plugin in plugins {
                let labels = [("court", *court), ("plugin", &*plugin.health.plugin)];
                text.value(name, &labels, value(plugin));
            }
        }
    };
    let help = "Calls of a plugin in the run of the match that is on.";
    family("rallytide_plugin_calls", help, |one| {
        one.health.calls as f64
    });
    let help = "Seconds these calls took together.";
    family("rallytide_plugin_seconds", help, |one| {
        one.health.time_us as f64 / 1e6
    });
    let help = "Seconds the longest of them took.";
    family("rallytide_plugin_longest_seconds", help, |one| {
        one.health.most_time_us as f64 / 1e6
    });
    let help = "Faults that count in the match.";
    family("rallytide_plugin_faults", help, |one| one.faults as f64);
}

/// How many files the program has open, where the system says so.
fn open_files() -> Option<usize> {
    Some(std::fs::read_dir("/proc/self/fd").ok()?.count())
}

/// Metrics in the text format of Prometheus, version 0.0.4.
#[derive(Default)]
struct Metrics(String);

impl Metrics {
    fn about(&mut self, name: &str, kind: &str, help: &str) {
        self.line(format_args!("# HELP {name} {help}"));
        self.line(format_args!("# TYPE {name} {kind}"));
    }

    /// One value. Labels hold names of courts and plugins, codes and roles: none
    /// has a character that would have to be escaped.
    fn value(&mut self, name: &str, labels: &[(&str, &str)], value: impl Display) {
        let labels: Vec<String> = labels
            .iter()
            .map(|(name, value)| format!("{name}=\"{value}\""))
            .collect();
        if labels.is_empty() {
            self.line(format_args!("{name} {value}"));
        } else {
            self.line(format_args!("{name}{{{}}} {value}", labels.join(",")));
        }
    }

    fn line(&mut self, line: std::fmt::Arguments<'_>) {
        writeln!(self.0, "{line}").expect("a string takes every text");
    }
}
