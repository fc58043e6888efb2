//! The host's own log on the disk: opened, made anew where it cannot be read,
//! and written to without waiting for a full disk.

use rallytide_bus::{Bus, BusError, Opened, TopicName};

/// Opens the log, or makes it with `head`. One that cannot be read is set aside
/// whole and reported, so that the host starts all the same; the matches are in
/// logs of their own.
pub(super) fn open_or_make(
    bus: &dyn Bus,
    topic: &TopicName,
    head: &str,
) -> Result<Option<Opened>, BusError> {
    if bus.topics()?.contains(topic) {
        match bus.open(topic) {
            Ok(opened) => {
                for damage in &opened.damage {
                    tracing::warn!(%topic, "the host's own log is damaged: {damage}");
                }
                return Ok(Some(opened));
            }
            Err(damaged @ BusError::DamagedHead { .. }) => {
                let aside = bus.set_aside(topic)?;
                tracing::error!(
                    aside = %aside.display(),
                    "{damaged}: it was set aside and a new one begun; no match is lost, but which \
                     ones were planned and on which court has to be said again"
                );
            }
            Err(error) => return Err(error),
        }
    }
    bus.create(topic, head)?;
    Ok(None)
}

/// Appends a record and waits until it is durable. On a disk that takes nothing
/// it is given up: what was said to have failed must not take effect later.
pub(super) fn append(bus: &dyn Bus, topic: &TopicName, record: &str) -> Result<(), BusError> {
    let appended = match bus.append(topic, record) {
        // The last one was given up, and the disk did not let the log be read.
        Err(BusError::NotOpen { .. }) => {
            bus.open(topic)?;
            bus.append(topic, record)?
        }
        appended => appended?,
    };
    match appended.ticket.wait_or_stall() {
        Err(stalled @ BusError::Stalled { .. }) => {
            let written_after_all = bus.close(topic);
            if let Err(error) = bus.open(topic) {
                tracing::warn!(%error, "the host's own log is not open; it is tried again");
            }
            written_after_all.map_err(|_| stalled)
        }
        decided => decided,
    }
}
