//! A match that a charter brings onto a court: what gives way to it, and what
//! goes before it.

use rallytide_chart::Header;

use super::{Courts, Replace, topic_of};
use crate::cannot_do::CannotDo;
use crate::host_log::StartedBy;
use crate::live::LiveCourt;
use crate::places::versus;

impl Courts {
    /// Starts a match that a charter brings. Saying so again does nothing; a match
    /// that was charted before comes back with its entries. A match that is still
    /// being played gives way only if `replace` says so, and so does one that
    /// has just been set up (`may_come_back`). Blocks for the disk.
    ///
    /// # Errors
    /// Why not: the id is taken by a match with another header, another match has
    /// the court or goes first, or the disk did not take it.
    pub fn start_by_charter(
        &self,
        court: &LiveCourt,
        header: Header,
        replace: Replace,
    ) -> Result<(), CannotDo> {
        let _one_at_a_time = self.one_at_a_time();
        let on = court.with_original(|original, charted| {
            let same = *original == header
                || charted.chart().header().as_ref() == &header
                || self.host_log().knows(&header);
            (charted.chart().header().id == header.id, same)
        });
        match on {
            Some((true, true)) => return Ok(()),
            Some((true, false)) => return Err(CannotDo::OtherHeader { id: header.id }),
            _ => {}
        }
        let removed = (self.host_log().decisions(header.id.as_str()))
            .is_some_and(|decisions| decisions.removed);
        if removed && replace == Replace::OnlyFinished {
            return Err(CannotDo::RemovedByDesk { id: header.id });
        }
        self.is_not_the_desks(court)?;
        self.may_give_way(court, replace)?;
        self.may_come_back(court, &header, replace)?;
        self.is_next(court, &header)?;
        self.start(court, header, StartedBy::Charter)
    }

    /// A match that the desk has planned or put on gives way to the desk alone,
    /// whatever a charter's client says, until it is over.
    fn is_not_the_desks(&self, court: &LiveCourt) -> Result<(), CannotDo> {
        let Some((on, is_over)) = court.with_match(|charted| {
            let header = charted.chart().header();
            (header.as_ref().clone(), charted.score().is_over())
        }) else {
            return Ok(());
        };
        let id = on.id.as_str();
        let host_log = self.host_log();
        let planned = host_log.header(id).is_some();
        let by_desk = host_log
            .by_desk
            .get(court.name())
            .is_some_and(|one| one == id);
        let declared_over = host_log.decisions(id).is_some_and(|one| one.over);
        if is_over || declared_over || !(planned || by_desk) {
            return Ok(());
        }
        Err(CannotDo::StartedByDesk {
            court: court.name().clone(),
            match_on: versus(&on),
        })
    }

    /// Where the desk has planned matches for a court, a charter's own match does
    /// not go before them; one of them may be begun by a charter.
    fn is_next(&self, court: &LiveCourt, header: &Header) -> Result<(), CannotDo> {
        if self.host_log().header(header.id.as_str()).is_some()
            || self.has_log(&topic_of(header.id.as_str())?)?
        {
            return Ok(());
        }
        let planned: Vec<Header> = {
            let host_log = self.host_log();
            let decisions = host_log.matches.values();
            decisions
                .filter_map(|one| one.headers.last())
                .filter(|planned| planned.court == court.name().as_str())
                .cloned()
                .collect()
        };
        for one in planned {
            if self.has_log(&topic_of(one.id.as_str())?)? {
                continue;
            }
            return Err(CannotDo::PlannedByDesk {
                court: court.name().clone(),
                planned: versus(&one),
            });
        }
        Ok(())
    }

    /// Whether the match on a court, if there is one, gives way to another.
    pub(super) fn may_give_way(&self, court: &LiveCourt, replace: Replace) -> Result<(), CannotDo> {
        let running = court.with_match(|charted| {
            let running = charted.chart().last_seq().0 > 0 && !charted.score().is_over();
            running.then(|| charted.chart().header().id.clone())
        });
        let Some(Some(id)) = running else {
            return Ok(());
        };
        let declared_over = self
            .host_log()
            .decisions(id.as_str())
            .is_some_and(|decisions| decisions.over);
        if declared_over || replace == Replace::Any {
            return Ok(());
        }
        Err(CannotDo::BeingPlayed {
            court: court.name().clone(),
            on: id,
        })
    }

    /// Whether a charter may start a match on a court that has one without
    /// entries. That one has just been set up, so a laptop that comes back with
    /// an earlier match, or with one of its own while the desk has put this one
    /// on, does not take it off: its charter is told, and keeps what it has.
    fn may_come_back(
        &self,
        court: &LiveCourt,
        header: &Header,
        replace: Replace,
    ) -> Result<(), CannotDo> {
        let empty = court.with_match(|charted| {
            let empty = charted.chart().last_seq().0 == 0;
            empty.then(|| charted.chart().header().id.clone())
        });
        let Some(Some(id)) = empty else {
            return Ok(());
        };
        let over = self
            .host_log()
            .decisions(id.as_str())
            .is_some_and(|decisions| decisions.over);
        if over || replace == Replace::Any {
            return Ok(());
        }
        let by_desk = (self.host_log().by_desk.get(court.name()))
            .is_some_and(|started| started == id.as_str());
        let begun = self.has_log(&topic_of(header.id.as_str())?)?;
        if !by_desk && !begun {
            return Ok(());
        }
        Err(CannotDo::SetUp {
            court: court.name().clone(),
            on: id,
            brought: header.id.clone(),
        })
    }
}
