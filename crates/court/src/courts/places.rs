//! Places that other matches fill: linked to those matches when they are planned,
//! filled when they have ended, given back when that is taken back.
//!
//! What a place holds goes into the host log like any other header the desk gives,
//! so a restart finds it as it was. A match that has been begun is left alone: its
//! [`KnownMatch::places`] say where it differs, and the desk decides.

use rallytide_chart::{Header, Team, TeamSheet};
use serde_json::Value;

use super::{Courts, KnownMatch, MatchPhase};
use crate::cannot_do::CannotDo;
use crate::places::{Place, PlaceNow, filled, named, place_in_cell, with_place};

impl Courts {
    /// Fills the places of matches that have not been begun with the teams that
    /// other matches say, or gives them back. Changes nothing where all is as it
    /// should be, so it can be called after every change. Blocks for the disk.
    ///
    /// # Errors
    /// Where the logs cannot be listed, or as the disk says.
    pub fn fill_places(&self) -> Result<(), CannotDo> {
        if !self.host_log().has_places() {
            return Ok(());
        }
        let known = self.matches()?;
        for one in known.iter().filter(|one| waits(one)) {
            let mut header = one.header.clone();
            for PlaceNow {
                team, place, sheet, ..
            } in &one.places
            {
                header = filled(&header, *team, place, sheet.as_ref());
            }
            if header == one.header {
                continue;
            }
            tracing::info!(id = %header.id, title = header.title, "the places of a match were filled");
            let _one_at_a_time = self.one_at_a_time();
            // Somebody else may have changed it meanwhile: then it is looked at again.
            if self.header_in_use(header.id.as_str()).as_ref() == Some(&one.header) {
                self.put_header(&header)?;
            }
        }
        Ok(())
    }

    /// The headers with their places linked to the matches that are meant, among
    /// themselves first. Blocks for the disk.
    ///
    /// # Errors
    /// [`CannotDo::NoSuchFeeder`] and [`CannotDo::UnclearFeeder`].
    pub fn link_places(&self, headers: Vec<Header>) -> Result<Vec<Header>, CannotDo> {
        let says_a_place = |header: &Header| {
            (Team::ALL.iter()).any(|team| place_in_cell(&header.teams.of(*team).name).is_some())
        };
        if !headers.iter().any(says_a_place) {
            return Ok(headers);
        }
        let known: Vec<Header> = self.matches()?.into_iter().map(|one| one.header).collect();
        let linked = headers.iter().map(|header| {
            Team::ALL.iter().try_fold(header.clone(), |header, team| {
                link(header, *team, &headers, &known)
            })
        });
        linked.collect()
    }

    /// A header that the desk gives a match that has places: a place stays while the
    /// name is the one it had, has, or would have. Another name, given before the
    /// match has begun, is the desk's own word, and the place is gone.
    pub(super) fn keep_places(&self, header: &Header, begun: bool) -> Result<Header, CannotDo> {
        let known = self.matches()?;
        let Some(before) = known.iter().find(|one| one.header.id == header.id) else {
            return Ok(header.clone());
        };
        let mut kept = header.clone();
        for now in &before.places {
            let name = &header.teams.of(now.team).name;
            let is_known = *name == before.header.teams.of(now.team).name
                || *name == now.place.words()
                || now.sheet.as_ref().is_some_and(|sheet| sheet.name == *name);
            kept = if begun || is_known {
                with_place(&kept, now.team, &now.place)
            } else {
                named(&kept, now.team)
            };
        }
        Ok(kept)
    }
}

/// Whether a match still takes who is sent to it.
fn waits(one: &KnownMatch) -> bool {
    one.entries == 0 && one.state != MatchPhase::Finished && !one.places.is_empty()
}

/// What other matches say about the places of each.
pub(super) fn look_at_places(known: &mut [KnownMatch]) {
    let places: Vec<Vec<PlaceNow>> = known.iter().map(|one| places_of(one, known)).collect();
    for (one, places) in known.iter_mut().zip(places) {
        one.places = places;
    }
}

fn places_of(one: &KnownMatch, known: &[KnownMatch]) -> Vec<PlaceNow> {
    let places = Team::ALL.iter().filter_map(|team| {
        let place = Place::of_team(&one.header, *team)?;
        let sheet = known
            .iter()
            .find(|other| other.header.id.as_str() == place.of)
            .and_then(|other| answer(other, &place));
        let has = one.header.teams.of(*team);
        let differs = one.entries > 0
            && match &sheet {
                Some(sheet) => sheet != has,
                None => place.words() != has.name,
            };
        Some(PlaceNow {
            team: *team,
            place,
            sheet,
            differs,
        })
    });
    places.collect()
}

fn answer(other: &KnownMatch, place: &Place) -> Option<TeamSheet> {
    let winner = Team::ALL
        .iter()
        .find(|team| other.winner == Some(team.word()))?;
    Some(other.header.teams.of(place.outcome.team(*winner)).clone())
}

fn link(
    header: Header,
    team: Team,
    together: &[Header],
    known: &[Header],
) -> Result<Header, CannotDo> {
    let Some((outcome, called)) = place_in_cell(&header.teams.of(team).name) else {
        return Ok(header);
    };
    if Place::of_team(&header, team).is_some_and(|place| place.called == called) {
        return Ok(header);
    }
    let meant = [together, known]
        .into_iter()
        .map(|among| meant_by(&called, &header, among))
        .find(|found| !found.is_empty())
        .unwrap_or_default();
    match meant.as_slice() {
        [of] => {
            let of = of.id.to_string();
            let place = Place {
                outcome,
                of,
                called,
            };
            Ok(filled(&header, team, &place, None))
        }
        [] => Err(CannotDo::NoSuchFeeder {
            place: header.teams.of(team).name.clone(),
            called,
        }),
        several => Err(CannotDo::UnclearFeeder {
            place: header.teams.of(team).name.clone(),
            called,
            count: several.len(),
        }),
    }
}

/// Which matches are called so: by their round, else by their title, else by id.
fn meant_by<'all>(called: &str, own: &Header, among: &'all [Header]) -> Vec<&'all Header> {
    let wanted = plain(called);
    for way in [Called::Round, Called::Title, Called::Id] {
        let others = among.iter().filter(|one| one.id != own.id);
        let found: Vec<_> = others.filter(|one| plain(way.of(one)) == wanted).collect();
        if !found.is_empty() {
            return found;
        }
    }
    Vec::new()
}

/// What a match can be called by in a place.
#[derive(Clone, Copy)]
enum Called {
    Round,
    Title,
    Id,
}

impl Called {
    fn of(self, header: &Header) -> &str {
        match self {
            Self::Round => header
                .to_json()
                .get("round")
                .and_then(Value::as_str)
                .unwrap_or(""),
            Self::Title => &header.title,
            Self::Id => header.id.as_str(),
        }
    }
}

/// A name without the difference of case and spaces.
fn plain(text: &str) -> String {
    let words: Vec<&str> = text.split_whitespace().collect();
    words.join(" ").to_lowercase()
}
