//! What the host log says: which match is on which court, which matches are
//! planned and under which header, what the desk has paused or declared over, which
//! faults of plugins count (`faults.rs`), where text files go and whether other
//! machines are let in.
//!
//! [`HostLog`] is a pure fold of the log's records, so what is in memory is always
//! what a restart would find. Records of a kind that is not known are left out:
//! an older host can read a newer one's log.

use std::collections::{BTreeMap, BTreeSet};

use rallytide_chart::{Header, Team};
use serde::{Deserialize, Serialize};

use crate::live::CourtName;
use crate::places::Place;

/// One record: what the desk did, or a charter that started a match.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub(crate) enum HostRecord {
    /// A match was started on a court.
    OnCourt {
        court: CourtName,
        #[serde(rename = "match")]
        id: String,
        #[serde(default, skip_serializing_if = "StartedBy::is_charter")]
        by: StartedBy,
    },
    /// The desk removed a match from its court.
    OffCourt {
        court: CourtName,
        #[serde(rename = "off")]
        id: String,
    },
    /// A match as it is planned, or the header that is used for it from now on.
    Header { header: Box<Header> },
    /// Several matches as they are planned: one record, so that a sheet is
    /// planned as a whole or not at all, whatever happens meanwhile.
    Planned { headers: Vec<Header> },
    /// A planned match was removed.
    Unplanned {
        #[serde(rename = "planned")]
        id: String,
    },
    /// Play is paused on a court, or goes on.
    Paused { court: CourtName, paused: bool },
    /// The desk declared a match over, or took that back.
    DeclaredOver {
        #[serde(rename = "declared")]
        id: String,
        over: bool,
    },
    /// A court was removed from the list.
    Closed { court: CourtName },
    /// Where text files for streaming programs are written.
    TextFiles { folder: Option<String> },
    /// Whether other machines are let in where the host was started for this
    /// machine alone.
    Others { let_in: bool },
}

/// Who started a match.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(crate) enum StartedBy {
    #[default]
    Charter,
    Desk,
}

impl StartedBy {
    /// Serde hands the field over by reference.
    #[allow(clippy::trivially_copy_pass_by_ref)]
    fn is_charter(&self) -> bool {
        *self == Self::Charter
    }
}

/// Everything the host log says.
#[derive(Debug, Clone, Default)]
pub(crate) struct HostLog {
    pub(crate) on: BTreeMap<CourtName, String>,
    /// What the desk itself started on a court last.
    pub(crate) by_desk: BTreeMap<CourtName, String>,
    pub(crate) matches: BTreeMap<String, DeskDecisions>,
    pub(crate) paused: BTreeSet<CourtName>,
    pub(crate) text_files: Option<String>,
    pub(crate) lets_others_in: bool,
    /// How many places were given to matches so far.
    places: usize,
    /// A match just removed from the plan, with its place: planned again as the
    /// next thing the desk does with a header, it gets that place back.
    left: Option<(String, usize)>,
}

/// What the desk has decided about one match.
#[derive(Debug, Clone, Default)]
pub(crate) struct DeskDecisions {
    /// Every header the desk gave it, the one in use last.
    pub(crate) headers: Vec<Header>,
    /// The desk declared it over.
    pub(crate) over: bool,
    /// The desk removed it from its court: a charter's client that comes back
    /// does not start it again by itself.
    pub(crate) removed: bool,
    /// Its place in the order in which the desk planned its matches; none where
    /// a charter began it and the desk never gave it a header.
    pub(crate) place: Option<usize>,
}

impl HostLog {
    /// Takes the next record.
    pub(crate) fn take(&mut self, record: HostRecord) {
        match record {
            HostRecord::OnCourt { court, id, by } => {
                self.paused.remove(&court);
                self.leaves_other_courts(&court, &id);
                let decisions = self.matches.entry(id.clone()).or_default();
                decisions.removed = false;
                if by == StartedBy::Desk {
                    self.by_desk.insert(court.clone(), id.clone());
                }
                let before = self.on.insert(court, id.clone());
                if let Some(before) = before.filter(|before| by == StartedBy::Desk && *before != id)
                {
                    self.matches.entry(before).or_default().removed = true;
                }
            }
            HostRecord::OffCourt { court, id } => {
                self.paused.remove(&court);
                self.on.remove(&court);
                self.matches.entry(id).or_default().removed = true;
            }
            HostRecord::Header { header } => self.take_header(*header),
            HostRecord::Planned { headers } => {
                for header in headers {
                    self.take_header(header);
                }
            }
            HostRecord::Unplanned { id } => {
                let removed = self.matches.remove(&id);
                self.left = removed.and_then(|removed| Some((id, removed.place?)));
            }
            HostRecord::Paused { court, paused } => {
                if paused {
                    self.paused.insert(court);
                } else {
                    self.paused.remove(&court);
                }
            }
            HostRecord::DeclaredOver { id, over } => {
                self.matches.entry(id).or_default().over = over;
            }
            HostRecord::Closed { court } => {
                self.on.remove(&court);
                self.paused.remove(&court);
            }
            HostRecord::TextFiles { folder } => self.text_files = folder,
            HostRecord::Others { let_in } => self.lets_others_in = let_in,
        }
    }

    /// Takes the header that a match is under from now on; one that is new comes
    /// after those that were planned before.
    fn take_header(&mut self, header: Header) {
        let left = self.left.take().filter(|(id, _)| *id == header.id.as_str());
        let decisions = self.matches.entry(header.id.to_string()).or_default();
        if decisions.place.is_none() {
            let place = left.map_or(self.places, |(_, place)| place);
            decisions.place = Some(place);
            self.places = self.places.max(place + 1);
        }
        decisions.headers.push(header);
    }

    /// A match is on one court: where it goes onto another, it leaves this one.
    fn leaves_other_courts(&mut self, court: &CourtName, id: &str) {
        let Self { on, paused, .. } = self;
        on.retain(|other, on| {
            let stays = other == court || on != id;
            if !stays {
                paused.remove(other);
            }
            stays
        });
    }

    /// What the desk has decided about a match.
    pub(crate) fn decisions(&self, id: &str) -> Option<&DeskDecisions> {
        self.matches.get(id)
    }

    /// The header that is in use for a match, if the desk gave one.
    pub(crate) fn header(&self, id: &str) -> Option<&Header> {
        self.decisions(id)?.headers.last()
    }

    /// Whether any match waits for the end of another, or has waited for it.
    pub(crate) fn has_places(&self) -> bool {
        let headers = (self.matches.values()).filter_map(|one| one.headers.last());
        let mut teams =
            headers.flat_map(|header| Team::ALL.iter().map(move |team| (header, *team)));
        teams.any(|(header, team)| Place::of_team(header, team).is_some())
    }

    /// Whether the desk ever gave the match this header.
    pub(crate) fn knows(&self, header: &Header) -> bool {
        self.decisions(header.id.as_str())
            .is_some_and(|decisions| decisions.headers.contains(header))
    }
}

impl HostRecord {
    /// The record as the log takes it.
    pub(crate) fn to_text(&self) -> String {
        serde_json::to_string(self).expect("a record holds texts, flags and JSON objects only")
    }

    /// Reads a record; `None` where it is none of ours.
    pub(crate) fn from_text(text: &str) -> Option<Self> {
        serde_json::from_str(text).ok()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn court(name: &str) -> CourtName {
        CourtName::new(name).unwrap()
    }

    fn header(title: &str) -> Header {
        Header::from_text(&format!(
            r##"{{"kind":"match","chart":1,"id":"m1","title":"{title}",
            "teams":{{"a":{{"name":"A","color":"#0072B2"}},"b":{{"name":"B"}}}},
            "format":{{"discipline":"doubles","scoring":"rally","points":11,"win_by":2,"games":1}},
            "first_serve":"a"}}"##
        ))
        .unwrap()
    }

    /// Folds the words twice: as they are, and as the log gives them back.
    fn folded(records: &[HostRecord]) -> HostLog {
        let (mut one, mut other) = (HostLog::default(), HostLog::default());
        for record in records {
            one.take(record.clone());
            other.take(HostRecord::from_text(&record.to_text()).unwrap());
        }
        assert_eq!(format!("{one:?}"), format!("{other:?}"));
        one
    }

    #[test]
    fn every_word_comes_back_from_the_log_as_it_was() {
        let host = folded(&[
            HostRecord::Header {
                header: Box::new(header("first")),
            },
            HostRecord::Header {
                header: Box::new(header("second")),
            },
            HostRecord::OnCourt {
                court: court("1"),
                id: "m1".into(),
                by: StartedBy::Desk,
            },
            HostRecord::Paused {
                court: court("1"),
                paused: true,
            },
            HostRecord::DeclaredOver {
                id: "m1".into(),
                over: true,
            },
            HostRecord::TextFiles {
                folder: Some("/tmp/x".into()),
            },
            HostRecord::Others { let_in: true },
        ]);
        assert!(host.lets_others_in);
        assert_eq!(host.header("m1").unwrap().title, "second");
        assert!(host.knows(&header("first")) && !host.knows(&header("third")));
        assert!(host.paused.contains(&court("1")) && host.matches["m1"].over);
        assert_eq!(host.text_files.as_deref(), Some("/tmp/x"));
    }

    #[test]
    fn a_match_that_gives_way_to_the_desk_is_removed_and_one_that_gives_way_to_a_charter_is_not() {
        let on = |id: &str, by| HostRecord::OnCourt {
            court: court("1"),
            id: id.into(),
            by,
        };
        let host = folded(&[on("m1", StartedBy::Charter), on("m2", StartedBy::Charter)]);
        assert!(!host.matches["m1"].removed);
        let host = folded(&[on("m1", StartedBy::Charter), on("m2", StartedBy::Desk)]);
        assert!(host.matches["m1"].removed && !host.matches["m2"].removed);
    }

    #[test]
    fn matches_keep_the_order_they_were_planned_in_and_an_undone_removal_its_place() {
        let plan = |id: &str| {
            let mut source = header("one").to_json().clone();
            source.insert("id".into(), id.into());
            HostRecord::Header {
                header: Box::new(Header::from_json(source).unwrap()),
            }
        };
        let unplanned = |id: &str| HostRecord::Unplanned { id: id.into() };
        let places = |host: &HostLog| {
            let mut ids: Vec<_> = host.matches.keys().cloned().collect();
            ids.sort_by_key(|id| host.matches[id].place);
            ids
        };
        let host = folded(&[plan("z"), plan("m"), plan("a"), plan("m")]);
        assert_eq!(places(&host), ["z", "m", "a"]);
        let host = folded(&[plan("z"), plan("m"), unplanned("z"), plan("z")]);
        assert_eq!(places(&host), ["z", "m"]);
        let again = folded(&[
            plan("z"),
            plan("m"),
            unplanned("z"),
            unplanned("m"),
            plan("a"),
            plan("m"),
            plan("z"),
        ]);
        assert_eq!(places(&again), ["a", "m", "z"]);
    }

    #[test]
    fn a_match_that_goes_onto_another_court_leaves_the_one_it_was_on() {
        let on = |name: &str| HostRecord::OnCourt {
            court: court(name),
            id: "m1".into(),
            by: StartedBy::Desk,
        };
        let pause = HostRecord::Paused {
            court: court("1"),
            paused: true,
        };
        let host = folded(&[on("1"), pause, on("2")]);
        assert_eq!(host.on, BTreeMap::from([(court("2"), "m1".to_owned())]));
        assert!(host.paused.is_empty());
    }

    #[test]
    fn matches_planned_together_are_one_record() {
        let mut json = header("second").to_json().clone();
        json.insert("id".into(), "m2".into());
        let other = Header::from_json(json).unwrap();
        let host = folded(&[HostRecord::Planned {
            headers: vec![header("first"), other],
        }]);
        assert_eq!(host.header("m1").unwrap().title, "first");
        assert_eq!(host.header("m2").unwrap().title, "second");
    }

    #[test]
    fn a_pause_ends_with_its_match() {
        let pause = HostRecord::Paused {
            court: court("1"),
            paused: true,
        };
        let off = HostRecord::OffCourt {
            court: court("1"),
            id: "m1".into(),
        };
        assert!(folded(&[pause, off]).paused.is_empty());
    }

    #[test]
    fn a_record_of_an_unknown_kind_is_none_of_ours() {
        assert!(HostRecord::from_text(r#"{"kind":"weather","court":"1"}"#).is_none());
    }
}
