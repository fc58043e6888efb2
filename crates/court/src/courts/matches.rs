//! Every match a host knows: planned, on a court, finished, interrupted.

use rallytide_bus::TopicName;
use rallytide_chart::Chart;

use super::known_match::{KnownMatch, MatchPhase};
use super::off_court::OffCourtMatch;
use super::places::look_at_places;
use super::{Courts, HOST_LOG, topic_of};
use crate::cannot_do::CannotDo;
use crate::live::{CourtName, OnCourt};

impl Courts {
    /// Every match there is, in the order in which the desk planned them; those it
    /// did not plan follow, by id. Blocks for the disk where a match that is on
    /// no court was not asked for before. One whose log cannot be read is left
    /// out; it was reported.
    ///
    /// # Errors
    /// Where the logs cannot be listed.
    pub fn matches(&self) -> Result<Vec<KnownMatch>, CannotDo> {
        let mut known = Vec::new();
        let mut on = std::collections::BTreeSet::new();
        for court in self.all() {
            if let Some(match_on) = court.on_court() {
                on.insert(match_on.header.id.to_string());
                known.push(self.on(match_on, court.name()));
            }
        }
        let topics = self.topics()?;
        let mut begun = on;
        for topic in topics {
            let id = topic.as_str();
            if id == HOST_LOG || !begun.insert(id.to_owned()) {
                continue;
            }
            if let Some(off_court) = self.off_court_match(&topic) {
                known.push(self.known_off_court(&off_court));
            }
        }
        let host_log = self.host_log();
        let planned = host_log
            .matches
            .iter()
            .filter(|(id, _)| !begun.contains(*id));
        known.extend(planned.filter_map(|(_, decisions)| {
            Some(KnownMatch {
                header: decisions.headers.last()?.clone(),
                state: MatchPhase::Planned,
                court: None,
                entries: 0,
                winner: None,
                score: None,
                places: Vec::new(),
            })
        }));
        known.sort_by_cached_key(|one| {
            let id = one.header.id.to_string();
            let place = host_log
                .decisions(&id)
                .and_then(|decisions| decisions.place);
            (place.is_none(), place, id)
        });
        drop(host_log);
        look_at_places(&mut known);
        Ok(known)
    }

    /// The chart of a match, wherever it is, under the words in use; a planned
    /// one has no entries. Blocks for the disk.
    ///
    /// # Errors
    /// Where there is no such match, or its log cannot be read.
    pub fn chart_of(&self, id: &str) -> Result<Chart, CannotDo> {
        let unknown = || CannotDo::UnknownMatch { id: id.to_owned() };
        let topic = topic_of(id).map_err(|_| unknown())?;
        let _one_at_a_time = self.one_at_a_time();
        if let Some(court) = self.court_with(id, None)
            && let Some(chart) = court.with_match(|charted| charted.chart().clone())
        {
            return Ok(chart);
        }
        let header = self.header_in_use(id);
        if !self.has_log(&topic)? {
            return header.map(Chart::new).ok_or_else(unknown);
        }
        let chart = self.read_off_court(&topic)?;
        Ok(match header {
            Some(header) => chart.with_header(header),
            None => chart,
        })
    }

    /// Reads a match that is on no court, and lets go of its file again. The
    /// caller holds `changing`, so that nobody has put it on meanwhile.
    pub(super) fn read_off_court(&self, topic: &TopicName) -> Result<Chart, CannotDo> {
        let logged = self.read(topic);
        if let Err(error) = self.bus.close(topic) {
            tracing::warn!(%topic, %error, "the log of a match was not let go of in good order");
        }
        Ok(logged?.chart)
    }

    /// What is known of a match that is on no court.
    fn off_court_match(&self, topic: &TopicName) -> Option<OffCourtMatch> {
        if let Some(off_court) = self.off_court().get(topic.as_str()) {
            return Some(off_court.clone());
        }
        let _one_at_a_time = self.one_at_a_time();
        if self.court_with(topic.as_str(), None).is_some() {
            return None;
        }
        let chart = match self.read_off_court(topic) {
            Ok(chart) => chart,
            Err(error) => {
                tracing::warn!(%topic, "a match is left out: {}", error.sentence());
                return None;
            }
        };
        let known = OffCourtMatch::of(&chart);
        self.off_court()
            .insert(topic.as_str().to_owned(), known.clone());
        Some(known)
    }

    fn on(&self, match_on: OnCourt, court: &CourtName) -> KnownMatch {
        let id = match_on.header.id.as_str();
        let declared_over = self
            .host_log()
            .decisions(id)
            .is_some_and(|decisions| decisions.over);
        KnownMatch {
            state: if match_on.is_over || declared_over {
                MatchPhase::Finished
            } else {
                MatchPhase::On
            },
            court: Some(court.clone()),
            entries: match_on.entries,
            winner: match_on.winner,
            score: Some(match_on.score),
            places: Vec::new(),
            header: match_on.header,
        }
    }

    fn known_off_court(&self, off_court: &OffCourtMatch) -> KnownMatch {
        let id = off_court.original.id.as_str();
        let header = self.header_in_use(id);
        let declared_over = self
            .host_log()
            .decisions(id)
            .is_some_and(|decisions| decisions.over);
        KnownMatch {
            state: if off_court.winner.is_some() || declared_over {
                MatchPhase::Finished
            } else {
                MatchPhase::PutAside
            },
            court: None,
            entries: off_court.entries,
            winner: off_court.winner,
            score: Some(off_court.score.clone()),
            places: Vec::new(),
            header: header.unwrap_or_else(|| off_court.original.clone()),
        }
    }
}
