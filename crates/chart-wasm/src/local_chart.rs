//! One match as a charter's page sees it.

use std::sync::Arc;

use rallytide_chart::{
    Admission, Chart, Contact, Effective, Entry, EntryId, Flag, Header, Play, Refusal, Team,
    chart_lines,
};
use rallytide_scoring::{PlayByPlay, Score, what_happened};
use serde::Serialize;
use serde_json::{Map, Value};

/// How many of the latest entries an answer shows: more than a page lists.
const RECENT: usize = 60;

/// A match being charted: the chart and its score, without plugins.
pub struct LocalChart {
    chart: Chart,
    play: PlayByPlay,
    seen: Vec<EntryOnPage>,
}

/// An entry of the effective chart, with what it turned out to be.
#[derive(Debug, Clone, Serialize)]
struct EntryOnPage {
    entry: Map<String, Value>,
    #[serde(skip_serializing_if = "Option::is_none")]
    shot: Option<ShotOnPage>,
    flags: Vec<Flag>,
    /// What it did to the score, in words.
    #[serde(skip_serializing_if = "Option::is_none")]
    what: Option<String>,
    #[serde(skip)]
    play: Arc<Play>,
}

#[derive(Debug, Clone, Serialize)]
struct ShotOnPage {
    id: EntryId,
    number: u32,
    team: Team,
    /// As charted, else as the score says.
    player: Option<u32>,
    contact: Option<Contact>,
    missed_before: bool,
}

/// What the page is answered.
#[derive(Debug, Serialize)]
struct PageAnswer<'a> {
    /// Why the entry was not taken; nothing has changed then.
    #[serde(skip_serializing_if = "Option::is_none")]
    refused: Option<Refused<'a>>,
    /// What the charter should be told about the entry.
    flags: &'a [Flag],
    score: &'a Score,
    over: bool,
    /// Entries recorded, corrections included.
    entries: usize,
    /// The shots of the rally being played, the latest last.
    rally: Vec<&'a ShotOnPage>,
    /// The latest entries of the effective chart, the latest last.
    recent: &'a [EntryOnPage],
}

#[derive(Debug, Serialize)]
struct Refused<'a> {
    code: &'a str,
    message: String,
}

impl LocalChart {
    /// Begins a match with the text of its header.
    ///
    /// # Errors
    /// A refusal, where the header is not one.
    pub fn open(header: &str) -> Result<Self, Refusal> {
        let header = Header::from_text(header)?;
        Ok(Self {
            play: PlayByPlay::new(&header),
            chart: Chart::new(header),
            seen: Vec::new(),
        })
    }

    /// Takes the text of an entry, as the host would.
    ///
    /// # Errors
    /// A refusal; nothing has changed then.
    pub fn take(&mut self, entry: &str) -> Result<Vec<Flag>, Refusal> {
        let entry = Entry::from_text(entry, &self.chart.header().format)?;
        if let Admission::Repeat(_) = self.chart.admit(&entry)? {
            return Ok(Vec::new());
        }
        self.play.admit(&entry)?;
        self.chart.push(entry);
        match self.chart.latest_effective() {
            Some(effective) => {
                self.see(&effective);
                Ok(self
                    .seen
                    .last()
                    .map_or_else(Vec::new, |seen| seen.flags.clone()))
            }
            None => {
                self.see_anew();
                Ok(Vec::new())
            }
        }
    }

    /// The state as JSON.
    #[must_use]
    pub fn answer(&self, outcome: &Result<Vec<Flag>, Refusal>) -> String {
        let (refused, flags) = match outcome {
            Ok(flags) => (None, flags.as_slice()),
            Err(refusal) => {
                let refused = Refused {
                    code: refusal.code().word(),
                    message: refusal.to_string(),
                };
                (Some(refused), [].as_slice())
            }
        };
        let answer = PageAnswer {
            refused,
            flags,
            score: self.play.score(),
            over: self.play.score().is_over(),
            entries: self.chart.entries().len(),
            rally: self.rally(),
            recent: &self.seen[self.seen.len().saturating_sub(RECENT)..],
        };
        json_text(&answer)
    }

    /// Every end of a rally of the effective chart as JSON, the oldest first: what
    /// an answer leaves out of it would be too much to send with every key.
    #[must_use]
    pub fn ends(&self) -> String {
        let ends: Vec<&EntryOnPage> = self
            .seen
            .iter()
            .filter(|seen| matches!(*seen.play, Play::RallyEnd(_) | Play::Replay))
            .collect();
        json_text(&ends)
    }

    /// The chart as the text of a file, the header first.
    #[must_use]
    pub fn file(&self) -> String {
        chart_lines(&self.chart).map(|line| line + "\n").collect()
    }

    fn see_anew(&mut self) {
        self.play = PlayByPlay::new(self.chart.header());
        self.seen.clear();
        for effective in self.chart.effective() {
            self.see(&effective);
        }
    }

    fn see(&mut self, effective: &Effective) {
        let before = self.play.score().clone();
        let turn = self.play.step(effective);
        let what = (turn.counted || turn.score_changed).then(|| {
            let after = self.play.score();
            what_happened(self.chart.header(), &before, &effective.play, after)
        });
        let shot = turn.rally.shot.as_ref().map(|shot| ShotOnPage {
            id: shot.entry.clone(),
            number: shot.number,
            team: shot.team,
            player: shot.player,
            contact: shot.contact,
            missed_before: shot.missed_before,
        });
        self.seen.push(EntryOnPage {
            entry: effective.to_json(),
            shot,
            flags: turn.flags,
            what,
            play: Arc::clone(&effective.play),
        });
    }

    /// The shots since the last end of a rally.
    fn rally(&self) -> Vec<&ShotOnPage> {
        let running = self.seen.iter().rev();
        let mut shots: Vec<&ShotOnPage> = running
            .take_while(|seen| !matches!(*seen.play, Play::RallyEnd(_) | Play::Replay))
            .filter(|seen| matches!(*seen.play, Play::Shot(_)))
            .filter_map(|seen| seen.shot.as_ref())
            .collect();
        shots.reverse();
        shots
    }
}

/// A refusal as JSON, for where there is no match yet.
#[must_use]
pub fn refused(code: &str, message: &str) -> String {
    #[derive(Serialize)]
    struct Only<'a> {
        refused: Refused<'a>,
    }
    json_text(&Only {
        refused: Refused {
            code,
            message: message.to_owned(),
        },
    })
}

fn json_text(answer: &impl Serialize) -> String {
    serde_json::to_string(answer).expect("an answer holds text, numbers and text-keyed maps")
}
