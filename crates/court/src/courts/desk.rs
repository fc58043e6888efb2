//! What the desk does with matches and courts. Each act goes into the host log
//! and is durable before it counts; one at a time.

use rallytide_chart::{Header, Refusal, RefusalCode};

use super::{Courts, Replace, not_stored, topic_of};
use crate::host_log::{HostRecord, StartedBy};
use crate::live::{CourtName, LiveCourt};

/// Why the desk cannot do something: a sentence, by what kind of no it is.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CannotDo {
    /// There is no such thing.
    #[error("{0}")]
    Unknown(String),
    /// It does not go with how things are.
    #[error("{0}")]
    Conflict(String),
    /// What was sent does not fit.
    #[error("{0}")]
    Unfit(String),
    /// The disk did not take it.
    #[error("{0}")]
    NotStored(String),
}

impl From<Refusal> for CannotDo {
    fn from(refusal: Refusal) -> Self {
        match refusal.code {
            RefusalCode::CourtBusy | RefusalCode::IdConflict | RefusalCode::OtherMatch => {
                Self::Conflict(refusal.message)
            }
            RefusalCode::NoMatch => Self::Unknown(refusal.message),
            RefusalCode::NotStored | RefusalCode::TooManyCourts => Self::NotStored(refusal.message),
            _ => Self::Unfit(refusal.message),
        }
    }
}

impl Courts {
    /// Plans matches: all of them, or none where one has an id that is taken.
    ///
    /// # Errors
    /// [`CannotDo::Conflict`] for a taken id, else as the disk says.
    pub fn plan(&self, headers: Vec<Header>) -> Result<(), CannotDo> {
        let _one_at_a_time = self.one_at_a_time();
        let mut ids = std::collections::BTreeSet::new();
        for header in &headers {
            let id = header.id.as_str();
            if !ids.insert(id) || self.is_taken(id)? {
                return Err(CannotDo::Conflict(format!(
                    "there is a match `{id}` already; give this one an id of its own, or leave \
                     the id out"
                )));
            }
        }
        for header in headers {
            self.log(HostRecord::Header {
                header: Box::new(header),
            })?;
        }
        Ok(())
    }

    /// Whether a match has this id, or none may.
    ///
    /// # Errors
    /// Where the logs cannot be listed.
    pub fn is_taken(&self, id: &str) -> Result<bool, CannotDo> {
        let Ok(topic) = topic_of(id) else {
            return Ok(true);
        };
        // A file system may take `Final` and `final` for one name.
        let same = |other: &str| other.eq_ignore_ascii_case(id);
        let host_log = self.host_log();
        let planned = host_log
            .matches
            .iter()
            .any(|(other, decisions)| same(other) && !decisions.headers.is_empty());
        drop(host_log);
        let topics = self.bus.topics().map_err(|error| not_stored(&error))?;
        Ok(planned
            || topics
                .iter()
                .any(|other| *other == topic || same(other.as_str())))
    }

    /// Gives a match another header. A planned one takes any; of one that has
    /// been begun only the words may differ: they are shown everywhere at once,
    /// its log keeps the first line it has.
    ///
    /// # Errors
    /// [`CannotDo::Unknown`], [`CannotDo::Conflict`] with the field that cannot
    /// change any more, or as the disk says.
    pub fn give_header(&self, header: &Header) -> Result<(), CannotDo> {
        let _one_at_a_time = self.one_at_a_time();
        let id = header.id.to_string();
        let court = self.court_with(&id, None);
        let in_use = match court.as_ref().and_then(|court| court.on_court()) {
            Some(on) => on.header,
            None => self.header_off_court(&id)?,
        };
        if in_use == *header {
            return Ok(());
        }
        let begun = self.has_log(&topic_of(&id)?)?;
        if begun && let Some(field) = in_use.fixed_difference(header) {
            return Err(CannotDo::Conflict(format!(
                "match `{id}` has been begun, so its `{field}` stays as it is; title, court, \
                 names, players and colors can still be changed"
            )));
        }
        self.log(HostRecord::Header {
            header: Box::new(header.clone()),
        })?;
        if let Some(court) = court {
            court.change_header(header);
        }
        Ok(())
    }

    /// Removes a planned match.
    ///
    /// # Errors
    /// [`CannotDo::Unknown`], [`CannotDo::Conflict`] where it has been begun.
    pub fn remove_planned(&self, id: &str) -> Result<(), CannotDo> {
        let _one_at_a_time = self.one_at_a_time();
        self.header_off_court(id)?;
        if self.has_log(&topic_of(id)?)? {
            return Err(CannotDo::Conflict(format!(
                "match `{id}` has been begun; what was charted is never thrown away"
            )));
        }
        Ok(self.log(HostRecord::Unplanned { id: id.to_owned() })?)
    }

    /// Starts a match on a court. Saying so again does nothing.
    ///
    /// # Errors
    /// [`CannotDo::Unknown`] where there is no such match, [`CannotDo::Conflict`]
    /// where another is being played and may not be replaced, or where it is on
    /// another court, else as the disk says.
    pub fn start_by_desk(
        &self,
        court: &LiveCourt,
        id: &str,
        replace: Replace,
    ) -> Result<(), CannotDo> {
        let _one_at_a_time = self.one_at_a_time();
        self.start_here(court, id, replace)?;
        court.tell_charters();
        Ok(())
    }

    /// Moves a match that is on another court onto this one, paused if it was
    /// paused there. One on no court is put on.
    ///
    /// # Errors
    /// As [`Courts::start_by_desk`]; a refusal leaves the match where it is.
    pub fn move_match(
        &self,
        court: &LiveCourt,
        id: &str,
        replace: Replace,
    ) -> Result<(), CannotDo> {
        let _one_at_a_time = self.one_at_a_time();
        let Some(from) = self.court_with(id, Some(court.name())) else {
            self.start_here(court, id, replace)?;
            court.tell_charters();
            return Ok(());
        };
        self.gives_way(court, replace)?;
        let paused = self.host_log().paused.contains(from.name());
        self.log(HostRecord::OffCourt {
            court: from.name().clone(),
            id: id.to_owned(),
        })?;
        from.clear();
        self.off_court().remove(id);
        self.start_here(court, id, replace)?;
        if paused {
            self.log(HostRecord::Paused {
                court: court.name().clone(),
                paused,
            })?;
            court.set_paused(paused);
        }
        from.tell_charters();
        court.tell_charters();
        Ok(())
    }

    fn start_here(&self, court: &LiveCourt, id: &str, replace: Replace) -> Result<(), CannotDo> {
        if court.match_on().is_some_and(|(on, _)| on == id) {
            return Ok(());
        }
        let header = match self.court_with(id, Some(court.name())) {
            Some(other) => {
                return Err(CannotDo::Conflict(format!(
                    "match `{id}` is on court `{}`; take it off there first",
                    other.name()
                )));
            }
            None => self.header_off_court(id)?,
        };
        self.gives_way(court, replace)?;
        Ok(self.start(court, header, StartedBy::Desk)?)
    }

    /// Whether the match on a court gives way to one that the desk puts on.
    fn gives_way(&self, court: &LiveCourt, replace: Replace) -> Result<(), CannotDo> {
        if self.may_give_way(court, replace).is_err() {
            let on = court.match_on().map(|(id, _)| id).unwrap_or_default();
            return Err(CannotDo::Conflict(format!(
                "court_busy: match `{on}` is being played on court `{}`; finish it or take it \
                 off first, or say `\"replace\":true`",
                court.name()
            )));
        }
        Ok(())
    }

    /// Removes the match from its court.
    ///
    /// # Errors
    /// [`CannotDo::Conflict`] where there is none, else as the disk says.
    pub fn remove_match(&self, court: &LiveCourt) -> Result<(), CannotDo> {
        let _one_at_a_time = self.one_at_a_time();
        let id = id_on(court)?;
        self.log(HostRecord::OffCourt {
            court: court.name().clone(),
            id: id.clone(),
        })?;
        court.remove_match();
        self.off_court().remove(&id);
        Ok(())
    }

    /// Pauses play on a court, or lets it go on.
    ///
    /// # Errors
    /// [`CannotDo::Conflict`] where there is no match, else as the disk says.
    pub fn pause(&self, court: &LiveCourt, paused: bool) -> Result<(), CannotDo> {
        let _one_at_a_time = self.one_at_a_time();
        id_on(court)?;
        if self.host_log().paused.contains(court.name()) == paused {
            return Ok(());
        }
        self.log(HostRecord::Paused {
            court: court.name().clone(),
            paused,
        })?;
        court.set_paused(paused);
        Ok(())
    }

    /// Declares the match on a court over without a result, or takes that back.
    ///
    /// # Errors
    /// [`CannotDo::Conflict`] where there is no match, else as the disk says.
    pub fn declare_over(&self, court: &LiveCourt, over: bool) -> Result<(), CannotDo> {
        let _one_at_a_time = self.one_at_a_time();
        let id = id_on(court)?;
        if self.is_declared_over(&id) == over {
            return Ok(());
        }
        self.log(HostRecord::DeclaredOver { id, over })?;
        court.tell_charters();
        Ok(())
    }

    /// Whether the desk has declared a match over.
    #[must_use]
    pub fn is_declared_over(&self, id: &str) -> bool {
        self.host_log()
            .decisions(id)
            .is_some_and(|decisions| decisions.over)
    }

    /// Removes an empty court that nobody looks at from the list.
    ///
    /// # Errors
    /// [`CannotDo::Unknown`], or [`CannotDo::Conflict`] while it is in use.
    pub fn close(&self, name: &CourtName) -> Result<(), CannotDo> {
        let _one_at_a_time = self.one_at_a_time();
        let Some(court) = self.locked().get(name).cloned() else {
            return Err(CannotDo::Unknown(format!("there is no court `{name}`")));
        };
        if let Some((id, _)) = court.match_on() {
            return Err(CannotDo::Conflict(format!(
                "match `{id}` is on court `{name}`; take it off first"
            )));
        }
        let viewers = court.viewers();
        let looking = viewers.viewer + viewers.booth + court.charters().connected().len();
        if looking > 0 {
            return Err(CannotDo::Conflict(format!(
                "{looking} page(s) are connected to court `{name}`; close them first"
            )));
        }
        self.log(HostRecord::Closed {
            court: name.clone(),
        })?;
        self.locked().remove(name);
        Ok(())
    }

    /// Where text files for streaming programs are written.
    #[must_use]
    pub fn text_files(&self) -> Option<String> {
        self.host_log().text_files.clone()
    }

    /// Notes where text files for streaming programs are written.
    ///
    /// # Errors
    /// As the disk says.
    pub fn set_text_files(&self, folder: Option<String>) -> Result<(), CannotDo> {
        let _one_at_a_time = self.one_at_a_time();
        Ok(self.log(HostRecord::TextFiles { folder })?)
    }

    /// Whether other machines are let in where the host was started for this
    /// machine alone.
    #[must_use]
    pub fn lets_others_in(&self) -> bool {
        self.host_log().lets_others_in
    }

    /// Notes whether other machines are let in.
    ///
    /// # Errors
    /// As the disk says.
    pub fn let_others_in(&self, let_in: bool) -> Result<(), CannotDo> {
        let _one_at_a_time = self.one_at_a_time();
        Ok(self.log(HostRecord::Others { let_in })?)
    }

    /// The header of a match that is on no court: the one in use, else the
    /// first line of its log.
    fn header_off_court(&self, id: &str) -> Result<Header, CannotDo> {
        let unknown = || CannotDo::Unknown(format!("there is no match `{id}`"));
        if let Some(header) = self.header_in_use(id) {
            return Ok(header);
        }
        let topic = topic_of(id).map_err(|_| unknown())?;
        if !self.has_log(&topic)? {
            return Err(unknown());
        }
        Ok(self.read_off_court(&topic)?.header().as_ref().clone())
    }
}

fn id_on(court: &LiveCourt) -> Result<String, CannotDo> {
    court
        .match_on()
        .map(|(id, _)| id)
        .ok_or_else(|| CannotDo::Conflict(format!("there is no match on court `{}`", court.name())))
}
