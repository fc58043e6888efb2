//! Prints the types of the feed's messages for the pages:
//! `cargo xtask types` writes them to `overlay/types/messages.d.ts`.

use rallytide_chart::{Contact, Cue, EntryId, PairOf, Seq, Stroke, Team};
use rallytide_court::{
    Outcome, RallyPatch, Review, ReviewIncident, ReviewRally, ReviewShot, ShownRally,
    ShownRallyBook, Snapshot, Spell, Update,
};
use rallytide_match_record::{ShownRallyEnd, ShownShot};
use rallytide_readings::{Name, Reading, ReadingKey, Reason, Unavailable, Value};
use rallytide_scoring::{Call, Score, ServiceCourt};
use ts_rs::{Config, TS};

/// The chart's header as it is written (see `crates/chart/README.md`). It is
/// passed on as it came, so there is no Rust type to write it from.
const HEADER: &str = "\
export type TeamSheet = { name: string, players?: Array<string>, };

export type MatchFormat = { discipline: \"doubles\" | \"singles\", \
scoring: \"side_out\" | \"rally\", points: number, win_by: number, games: number, \
winning_point?: \"any\" | \"server\", positions?: \"swap\" | \"static\", };

export type MatchHeader = { kind: \"match\", chart: number, id: string, title?: string, \
court?: string, teams: { a: TeamSheet, b: TeamSheet, }, format: MatchFormat, \
first_serve: Team, };
";

fn main() {
    let numbers = Config::default().with_large_int("number");
    println!(
        "// What travels over the feed, and what the review page gets. Written by `cargo xtask types`; do not edit.\n"
    );
    for declaration in [
        Team::decl(&numbers),
        EntryId::decl(&numbers),
        Seq::decl(&numbers),
        Name::decl(&numbers),
        Call::decl(&numbers),
        Stroke::decl(&numbers),
        Contact::decl(&numbers),
        Cue::decl(&numbers),
        PairOf::<u32>::decl(&numbers),
        ServiceCourt::decl(&numbers),
        Score::decl(&numbers),
        Value::decl(&numbers),
        Reason::decl(&numbers),
        ReadingKey::decl(&numbers),
        Reading::decl(&numbers),
        ShownShot::decl(&numbers),
        ShownRallyEnd::decl(&numbers),
        ShownRally::decl(&numbers),
        ShownRallyBook::decl(&numbers),
        RallyPatch::decl(&numbers),
        Unavailable::decl(&numbers),
        // A message's tag is its name on the wire; types are written large.
        Snapshot::decl(&numbers).replacen("type snapshot", "type Snapshot", 1),
        Update::decl(&numbers).replacen("type update", "type Update", 1),
        Outcome::decl(&numbers),
        Spell::decl(&numbers),
        ReviewShot::decl(&numbers),
        ReviewRally::decl(&numbers),
        ReviewIncident::decl(&numbers),
        Review::decl(&numbers),
    ] {
        println!("export {declaration}\n");
    }
    println!("{HEADER}");
    println!("/** A sign of life, where a page has asked for one. */");
    println!("export type Beat = {{ \"type\": \"beat\", }};\n");
    println!("export type FeedMessage = Snapshot | Update | Beat;");
}
