//! Checking what a plugin answered: every rule about readings that the types of
//! the interface cannot say.
//!
//! Invariant: what passes is in order — declared, within range, within bounds,
//! sorted — so nothing behind this module looks at a plugin's words again. An
//! answer passes whole or not at all.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::fault::{PluginFaultKind, Violation};
use crate::handed_entries::EntriesSoFar;
use crate::interface::wit;
use crate::limits::{
    CHANGES_PER_CALL, FLAGS_PER_READING, NAME_BYTES, REASONS_AND_FLAGS_PER_CALL,
    REASONS_PER_READING, TEXT_BYTES, TEXT_BYTES_PER_CALL,
};
use crate::manifest::Manifest;
use crate::shown::shortened;
use crate::translate::team_back;
use rallytide_readings::Name;
use rallytide_readings::{ReadingKey, Reason, Value};

/// What a reading says, without whose it is.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Content {
    pub(crate) value: Value,
    pub(crate) why: Vec<Reason>,
    pub(crate) flags: Vec<String>,
}

/// What one call comes to, sorted by key: a new reading, or none any more.
pub(crate) type ReadingChanges = Vec<(ReadingKey, Option<Content>)>;

/// Which plugin publishes an indicator.
pub(crate) type Owners = Arc<BTreeMap<Name, Name>>;

/// Checks the answers of one plugin over one run.
#[derive(Debug)]
pub(crate) struct AnswerCheck {
    declared: Vec<Declared>,
    owners: Owners,
    players: u32,
}

#[derive(Debug)]
struct Declared {
    indicator: Name,
    /// The type of its values, once it has published one.
    form: Option<&'static str>,
}

/// What one call has published so far, against the bounds of a call.
#[derive(Default)]
struct CallTotals {
    text: usize,
    reasons_and_flags: usize,
}

impl AnswerCheck {
    /// The check for `manifest`'s plugin in a match with `players` players a team.
    pub(crate) fn new(manifest: &Manifest, owners: Owners, players: u32) -> Self {
        let declared = manifest.provides.iter().map(|indicator| Declared {
            indicator: indicator.clone(),
            form: None,
        });
        Self {
            declared: declared.collect(),
            owners,
            players,
        }
    }

    /// Checks the answer to one call. Of several changes under one key the last
    /// one counts.
    pub(crate) fn check(
        &mut self,
        answer: Vec<wit::Change>,
        handed: EntriesSoFar<'_>,
    ) -> Result<ReadingChanges, Violation> {
        if answer.len() > CHANGES_PER_CALL {
            return Err(Violation::new(
                PluginFaultKind::TooMany,
                format!(
                    "it published {} changes in one call; {CHANGES_PER_CALL} are allowed",
                    answer.len()
                ),
            ));
        }
        let mut totals = CallTotals::default();
        let mut changes = ReadingChanges::with_capacity(answer.len());
        for change in answer {
            let (key, content) = match change {
                wit::Change::Gone(key) => (self.key(key, &mut totals)?.0, None),
                wit::Change::Set(reading) => {
                    let (key, place) = self.key(reading.key, &mut totals)?;
                    let value = self.value(reading.value, place, &mut totals)?;
                    let (why, flags) = match reading.remarks {
                        None => (Vec::new(), Vec::new()),
                        Some(remarks) => (
                            reasons(&key, remarks.why, handed, &mut totals)?,
                            flags(&key, remarks.flags, &mut totals)?,
                        ),
                    };
                    (key, Some(Content { value, why, flags }))
                }
            };
            changes.push((key, content));
        }
        Ok(latest(changes))
    }

    /// The key, and the place of its indicator among the declared ones.
    fn key(
        &self,
        key: wit::Key,
        totals: &mut CallTotals,
    ) -> Result<(ReadingKey, usize), Violation> {
        let place = self
            .declared
            .iter()
            .position(|declared| declared.indicator == *key.indicator)
            .ok_or_else(|| self.undeclared(&key.indicator))?;
        if let Some(player) = key.player
            && player >= self.players
        {
            return Err(Violation::new(
                PluginFaultKind::ImpossibleValue,
                format!(
                    "it published `{}` of player {player}; a team has {} here, counted from 0",
                    key.indicator, self.players
                ),
            ));
        }
        totals.text(key.indicator.len())?;
        if let Some(slot) = &key.slot {
            totals.name("slot", slot)?;
        }
        let key = ReadingKey {
            indicator: self.declared[place].indicator.clone(),
            team: key.team.map(team_back),
            player: key.player,
            slot: key.slot.map(Name::from),
        };
        Ok((key, place))
    }

    fn undeclared(&self, indicator: &str) -> Violation {
        match self.owners.get(indicator) {
            Some(owner) => Violation::new(
                PluginFaultKind::ForeignIndicator,
                format!("it published `{indicator}`, which belongs to the plugin `{owner}`"),
            ),
            None => Violation::new(
                PluginFaultKind::UndeclaredIndicator,
                format!(
                    "it published `{}`, which its manifest does not declare",
                    shortened(indicator)
                ),
            ),
        }
    }

    fn value(
        &mut self,
        value: wit::Value,
        place: usize,
        totals: &mut CallTotals,
    ) -> Result<Value, Violation> {
        let declared = &mut self.declared[place];
        let impossible = |what: String| {
            Violation::new(
                PluginFaultKind::ImpossibleValue,
                format!("it published `{}` with {what}", declared.indicator),
            )
        };
        let value = match value {
            wit::Value::Lean(lean) => Value::Lean {
                toward: lean.toward.map(team_back),
                strength: unit(lean.strength).ok_or_else(|| {
                    impossible(format!("a strength of {}, not from 0 to 1", lean.strength))
                })?,
            },
            wit::Value::Count(n) => Value::Count { n },
            wit::Value::Share(wit::Share { part, whole }) if part <= whole => {
                Value::Share { part, whole }
            }
            wit::Value::Share(wit::Share { part, whole }) => {
                return Err(impossible(format!("a share of {part} of {whole}")));
            }
            wit::Value::Chance(p) => Value::Chance {
                p: unit(p)
                    .ok_or_else(|| impossible(format!("a chance of {p}, not from 0 to 1")))?,
            },
            wit::Value::Duration(ms) => Value::Duration { ms },
            wit::Value::Text(text) => {
                if text.len() > TEXT_BYTES {
                    return Err(too_long("text", text.len(), TEXT_BYTES));
                }
                totals.text(text.len())?;
                Value::Text { text }
            }
            wit::Value::Flag(on) => Value::Flag { on },
        };
        match declared.form {
            Some(form) if form != value.form() => Err(Violation::new(
                PluginFaultKind::ChangedType,
                format!(
                    "it published `{}` as a {} where it had been a {form}",
                    declared.indicator,
                    value.form()
                ),
            )),
            _ => {
                declared.form = Some(value.form());
                Ok(value)
            }
        }
    }
}

impl CallTotals {
    fn text(&mut self, bytes: usize) -> Result<(), Violation> {
        self.text += bytes;
        if self.text <= TEXT_BYTES_PER_CALL {
            return Ok(());
        }
        Err(Violation::new(
            PluginFaultKind::TextTooLong,
            format!("its texts of one call are longer than {TEXT_BYTES_PER_CALL} bytes together"),
        ))
    }

    fn name(&mut self, what: &str, name: &str) -> Result<(), Violation> {
        if name.len() > NAME_BYTES {
            return Err(too_long(what, name.len(), NAME_BYTES));
        }
        self.text(name.len())
    }

    fn reasons_and_flags(&mut self, more: usize) -> Result<(), Violation> {
        self.reasons_and_flags += more;
        if self.reasons_and_flags <= REASONS_AND_FLAGS_PER_CALL {
            return Ok(());
        }
        Err(Violation::new(
            PluginFaultKind::TooMany,
            format!(
                "it published more than {REASONS_AND_FLAGS_PER_CALL} reasons and flags in one call"
            ),
        ))
    }
}

/// Sorted by key, of those alike the last one.
fn latest(mut changes: ReadingChanges) -> ReadingChanges {
    changes.reverse();
    changes.sort_by(|(one, _), (other, _)| one.cmp(other));
    changes.dedup_by(|(later, _), (kept, _)| later == kept);
    changes
}

fn too_long(what: &str, bytes: usize, limit: usize) -> Violation {
    Violation::new(
        PluginFaultKind::TextTooLong,
        format!("it published a {what} of {bytes} bytes; {limit} are allowed"),
    )
}

/// A number from 0 to 1; what is no number is not. Minus zero, which would be
/// written in another way, becomes zero.
fn unit(number: f64) -> Option<f64> {
    (0.0..=1.0).contains(&number).then_some(number + 0.0)
}

fn too_many(key: &ReadingKey, what: &str, found: usize, limit: usize) -> Violation {
    Violation::new(
        PluginFaultKind::TooMany,
        format!(
            "it published `{}` with {found} {what}; {limit} are allowed",
            key.indicator
        ),
    )
}

fn reasons(
    key: &ReadingKey,
    why: Vec<wit::Reason>,
    handed: EntriesSoFar<'_>,
    totals: &mut CallTotals,
) -> Result<Vec<Reason>, Violation> {
    if why.len() > REASONS_PER_READING {
        return Err(too_many(key, "reasons", why.len(), REASONS_PER_READING));
    }
    totals.reasons_and_flags(why.len())?;
    let reason = |reason: wit::Reason| {
        totals.name("reason's code", &reason.code)?;
        let entry = handed.get(reason.entry).ok_or_else(|| {
            Violation::new(
                PluginFaultKind::UnknownEntry,
                format!(
                    "it published `{}` and gave entry {} as a reason, which it was not handed",
                    key.indicator, reason.entry
                ),
            )
        })?;
        Ok(Reason {
            code: reason.code.into(),
            team: reason.team.map(team_back),
            entry: entry.clone(),
            inferred: reason.inferred,
            place: reason.entry,
        })
    };
    let mut why = why
        .into_iter()
        .map(reason)
        .collect::<Result<Vec<_>, Violation>>()?;
    why.sort_unstable();
    Ok(why)
}

fn flags(
    key: &ReadingKey,
    mut flags: Vec<String>,
    totals: &mut CallTotals,
) -> Result<Vec<String>, Violation> {
    if flags.len() > FLAGS_PER_READING {
        return Err(too_many(key, "flags", flags.len(), FLAGS_PER_READING));
    }
    totals.reasons_and_flags(flags.len())?;
    for flag in &flags {
        totals.name("flag", flag)?;
    }
    flags.sort_unstable();
    Ok(flags)
}

#[cfg(test)]
mod tests;
