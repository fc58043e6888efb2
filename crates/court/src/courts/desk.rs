//! What the desk does with matches and courts. Each act goes into the host log
//! and is durable before it counts; one at a time.

use rallytide_chart::Header;

use super::{Courts, Replace, topic_of};
use crate::cannot_do::CannotDo;
use crate::host_log::{HostRecord, StartedBy};
use crate::live::{CourtName, LiveCourt};

impl Courts {
    /// Plans matches: all of them, or none where one has an id that is taken. Gives
    /// them back as they are planned, their places linked.
    ///
    /// # Errors
    /// [`CannotDo::IdTaken`], as [`Courts::link_places`], else as the disk says.
    pub fn plan(&self, headers: Vec<Header>) -> Result<Vec<Header>, CannotDo> {
        let headers = self.link_places(headers)?;
        let _one_at_a_time = self.one_at_a_time();
        let mut ids = std::collections::BTreeSet::new();
        for header in &headers {
            let id = header.id.as_str();
            if !ids.insert(id) || self.is_taken(id)? {
                return Err(CannotDo::IdTaken {
                    id: header.id.clone(),
                });
            }
        }
        let record = match headers.as_slice() {
            [] => return Ok(headers),
            [header] => HostRecord::Header {
                header: Box::new(header.clone()),
            },
            _ => HostRecord::Planned {
                headers: headers.clone(),
            },
        };
        self.log(record)?;
        Ok(headers)
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
        let topics = self.topics()?;
        Ok(planned
            || topics
                .iter()
                .any(|other| *other == topic || same(other.as_str())))
    }

    /// Gives a match another header. A planned one takes any; of one that has
    /// been begun only the words may differ: they are shown everywhere at once,
    /// its log keeps the first line it has. Gives back the header with its places.
    ///
    /// # Errors
    /// [`CannotDo::UnknownMatch`], [`CannotDo::FieldFixed`], as
    /// [`Courts::link_places`], or as the disk says.
    pub fn give_header(&self, header: &Header) -> Result<Header, CannotDo> {
        let begun = self.has_log(&topic_of(header.id.as_str())?)?;
        let mut header = self.keep_places(header, begun)?;
        if !begun {
            header = self.link_places(vec![header])?.remove(0);
        }
        let _one_at_a_time = self.one_at_a_time();
        self.put_header(&header)?;
        Ok(header)
    }

    /// The same for a header whose places are settled. The caller holds `changing`.
    pub(super) fn put_header(&self, header: &Header) -> Result<(), CannotDo> {
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
            return Err(CannotDo::FieldFixed {
                id: header.id.clone(),
                field,
            });
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
    /// [`CannotDo::UnknownMatch`], [`CannotDo::Begun`], or as the disk says.
    pub fn remove_planned(&self, id: &str) -> Result<(), CannotDo> {
        let _one_at_a_time = self.one_at_a_time();
        self.header_off_court(id)?;
        if self.has_log(&topic_of(id)?)? {
            return Err(CannotDo::Begun { id: id.to_owned() });
        }
        self.log(HostRecord::Unplanned { id: id.to_owned() })
    }

    /// Starts a match on a court. Saying so again does nothing.
    ///
    /// # Errors
    /// [`CannotDo::UnknownMatch`], [`CannotDo::BeingPlayed`] where another may not
    /// be replaced, [`CannotDo::OnCourt`] where it is on another court, else as
    /// the disk says.
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
        self.may_give_way(court, replace)?;
        let paused = self.host_log().paused.contains(from.name());
        // One record: whatever happens meanwhile, the match is on one court.
        self.log(HostRecord::OnCourt {
            court: court.name().clone(),
            id: id.to_owned(),
            by: StartedBy::Desk,
        })?;
        let gives_way = court.match_id();
        from.hand_over_to(court);
        self.let_go_of(gives_way);
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
                return Err(CannotDo::OnCourt {
                    id: id.to_owned(),
                    court: other.name().clone(),
                });
            }
            None => self.header_off_court(id)?,
        };
        self.may_give_way(court, replace)?;
        self.start(court, header, StartedBy::Desk)
    }

    /// Removes the match from its court.
    ///
    /// # Errors
    /// [`CannotDo::EmptyCourt`], else as the disk says.
    pub fn remove_match(&self, court: &LiveCourt) -> Result<(), CannotDo> {
        let _one_at_a_time = self.one_at_a_time();
        let id = id_on(court)?;
        self.log(HostRecord::OffCourt {
            court: court.name().clone(),
            id: id.clone(),
        })?;
        let removed = court.match_id();
        court.remove_match();
        self.off_court().remove(&id);
        self.let_go_of(removed);
        Ok(())
    }

    /// Pauses play on a court, or lets it go on.
    ///
    /// # Errors
    /// [`CannotDo::EmptyCourt`], else as the disk says.
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
    /// [`CannotDo::EmptyCourt`], else as the disk says.
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
    /// [`CannotDo::UnknownCourt`], or [`CannotDo::OnCourt`] or
    /// [`CannotDo::CourtInUse`] while it is in use.
    pub fn close(&self, name: &CourtName) -> Result<(), CannotDo> {
        let _one_at_a_time = self.one_at_a_time();
        let Some(court) = self.locked().get(name).cloned() else {
            return Err(CannotDo::UnknownCourt {
                court: name.clone(),
            });
        };
        if let Some((id, _)) = court.match_on() {
            return Err(CannotDo::OnCourt {
                id,
                court: name.clone(),
            });
        }
        let viewers = court.viewers();
        let pages = viewers.viewer + viewers.booth + court.charters().connected().len();
        if pages > 0 {
            return Err(CannotDo::CourtInUse {
                court: name.clone(),
                pages,
            });
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
        self.log(HostRecord::TextFiles { folder })
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
        self.log(HostRecord::Others { let_in })
    }

    /// The header of a match that is on no court: the one in use, else the
    /// first line of its log.
    fn header_off_court(&self, id: &str) -> Result<Header, CannotDo> {
        let unknown = || CannotDo::UnknownMatch { id: id.to_owned() };
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
    let on = court.match_on().map(|(id, _)| id);
    on.ok_or_else(|| CannotDo::EmptyCourt {
        court: court.name().clone(),
    })
}
