//! The types of the desk page: what it hears over HTTP.

use ts_rs::{Config, TS};

use rallytide_chart::Kind;
use rallytide_court::{CountedFault, EntryFate, MatchPhase, PluginOnCourt, Seat};
use rallytide_plugin_host::{
    HostFault, LogLine, MissingSource, PluginFault, PluginFaultKind, SettingOffer, SettingValue,
    Severity,
};
use rallytide_plugin_registry::{LoadAttempt, Objection, RegisteredPlugin};

use crate::access::Permit;
use crate::answers::{courts, desk, entries, event, links, matches, operations, plugins, readings};
use crate::plugin_desk::PluginReport;

/// What is passed on as it came, so that there is no Rust type to write it from:
/// headers and entries of the chart file.
const PASSED_ON: &str = include_str!("passed_on.d.ts");

/// Writes the file.
#[must_use]
pub fn page_types() -> String {
    let numbers = Config::default().with_large_int("number");
    let mut text = String::from(
        "// What goes over HTTP as JSON. Written by `cargo xtask types`; do not edit.\n\
         import type { MatchFormat, MatchHeader, Name, Reading, Score, Seq, EntryId, Team, TeamSheet } \
         from \"./messages.js\";\n\n",
    );
    for declaration in [
        Permit::decl(&numbers),
        Kind::decl(&numbers),
        rallytide_chart::Flag::decl(&numbers),
        courts::CourtList::decl(&numbers),
        courts::ListedCourt::decl(&numbers),
        courts::ListedMatch::decl(&numbers),
        courts::PutMatch::decl(&numbers),
        courts::Pause::decl(&numbers),
        courts::Finish::decl(&numbers),
        desk::HostState::decl(&numbers),
        desk::CourtState::decl(&numbers),
        desk::CourtPhase::decl(&numbers),
        desk::LastEntry::decl(&numbers),
        Seat::decl(&numbers),
        desk::Charter::decl(&numbers),
        desk::ViewerCount::decl(&numbers),
        desk::MatchState::decl(&numbers),
        desk::PlaceState::decl(&numbers),
        desk::PlaceTeam::decl(&numbers),
        MatchPhase::decl(&numbers),
        desk::TextFilesState::decl(&numbers),
        desk::TextFilesChoice::decl(&numbers),
        entries::EntryList::decl(&numbers),
        entries::ListedEntry::decl(&numbers),
        EntryFate::decl(&numbers),
        entries::EntriesOfDesk::decl(&numbers),
        entries::Preview::decl(&numbers),
        entries::ScoreChange::decl(&numbers),
        entries::RallyChange::decl(&numbers),
        entries::ReadingChange::decl(&numbers),
        entries::Taken::decl(&numbers),
        entries::AcceptedEntry::decl(&numbers),
        entries::Refusal::decl(&numbers),
        event::EventDay::decl(&numbers),
        event::EventCourt::decl(&numbers),
        event::EventMatch::decl(&numbers),
        event::EventFormat::decl(&numbers),
        event::EventTeams::decl(&numbers),
        event::EventTeam::decl(&numbers),
        links::Links::decl(&numbers),
        links::NewKey::decl(&numbers),
        links::OtherMachines::decl(&numbers),
        matches::PlannedMatch::decl(&numbers),
        matches::BegunMatches::decl(&numbers),
        matches::BegunMatch::decl(&numbers),
        matches::ImportAnswer::decl(&numbers),
        matches::LeftOutRow::decl(&numbers),
        matches::ReadSheet::decl(&numbers),
        matches::SheetTab::decl(&numbers),
        matches::SheetRow::decl(&numbers),
        matches::SheetColumn::decl(&numbers),
        matches::ImportProblem::decl(&numbers),
        readings::IndicatorReadings::decl(&numbers),
        operations::Health::decl(&numbers),
        operations::HealthStatus::decl(&numbers),
        plugins::Switch::decl(&numbers),
        PluginReport::decl(&numbers),
        RegisteredPlugin::decl(&numbers),
        SettingOffer::decl(&numbers),
        SettingValue::decl(&numbers),
        PluginOnCourt::decl(&numbers),
        PluginFault::decl(&numbers),
        PluginFaultKind::decl(&numbers),
        HostFault::decl(&numbers),
        CountedFault::decl(&numbers),
        MissingSource::decl(&numbers),
        LogLine::decl(&numbers),
        Severity::decl(&numbers),
        LoadAttempt::decl(&numbers),
        Objection::decl(&numbers),
    ] {
        text.push_str("export ");
        text.push_str(&declaration);
        text.push_str("\n\n");
    }
    text.push_str(PASSED_ON);
    text
}
