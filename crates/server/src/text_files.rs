//! Text files for streaming programs that show a file's text: in the folder of
//! the streamer's choice one folder a court, with the score, the state, the names,
//! and a file for each value ([`crate::text_values`]).
//!
//! One owner hears that something has changed, waits a moment for more of it, and
//! writes what differs from what it wrote last. A file is replaced as a whole, so
//! that no program reads half of it.

use std::collections::BTreeMap;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use parking_lot::Mutex;
use rallytide_chart::Team;
use rallytide_court::{ChartedMatch, Courts, KnownMatch};
use tokio::sync::watch;

use crate::next_match::next_on;
use crate::score_text::{one_line, score_lines};
use crate::text_values::values;
use crate::websocket;

/// How long changes are gathered before they are written: a shot, its cues and
/// the readings come close together.
const GATHERED: Duration = Duration::from_millis(40);

/// How long to wait before a folder that failed is tried again, unless something
/// changes before.
const RETRY: Duration = Duration::from_secs(1);

/// The writer of the text files, and what keeps it from writing.
#[derive(Clone)]
pub struct TextFiles {
    courts: Arc<Courts>,
    problem: Arc<Mutex<Option<String>>>,
}

impl TextFiles {
    pub(crate) fn new(courts: Arc<Courts>) -> Self {
        Self {
            courts,
            problem: Arc::default(),
        }
    }

    /// Why nothing can be written at the moment, if so.
    pub(crate) fn problem(&self) -> Option<String> {
        self.problem.lock().clone()
    }

    /// Writes until `stop` becomes true.
    pub async fn run(self, mut stop: watch::Receiver<bool>) {
        let mut changes = self.courts.changes().listen();
        let mut written = Written::default();
        loop {
            let own = self.clone();
            let done = tokio::task::spawn_blocking(move || own.write(written)).await;
            written = done.unwrap_or_else(|error| {
                tracing::error!(%error, "writing the text files was interrupted");
                Written::default()
            });
            let troubled = self.problem().is_some();
            let next = async {
                if troubled {
                    // What has not changed meanwhile is tried again all the same.
                    let _tried = tokio::time::timeout(RETRY, changes.changed()).await;
                } else {
                    changes.changed().await;
                }
                tokio::time::sleep(GATHERED).await;
            };
            tokio::select! {
                () = websocket::stopped(&mut stop) => return,
                () = next => {}
            }
        }
    }

    /// Writes what is not yet as it should be.
    fn write(&self, before: Written) -> Written {
        let Some(folder) = self.courts.text_files().map(PathBuf::from) else {
            self.say(None);
            return Written::default();
        };
        let mut written = if before.folder.as_deref() == Some(&*folder) {
            before
        } else {
            Written::default()
        };
        let matches = match self.courts.matches() {
            Ok(matches) => matches,
            Err(error) => {
                self.say(Some(error.sentence()));
                return written;
            }
        };
        for (file, text) in self.texts(&matches) {
            if written.texts.get(&file) == Some(&text) {
                continue;
            }
            let path = folder.join(&file);
            if let Err(error) = replace(&path, &text) {
                let problem = format!("could not write `{}`: {error}", path.display());
                tracing::warn!("{problem}");
                self.say(Some(problem));
                // What was there may be gone as well: all of it is written again.
                return Written::default();
            }
            written.texts.insert(file, text);
        }
        self.say(None);
        written.folder = Some(folder);
        written
    }

    /// Every file as it should be, by its place in the folder. The name of a
    /// court has no character that leads out of it.
    fn texts(&self, matches: &[KnownMatch]) -> BTreeMap<PathBuf, String> {
        let mut texts = BTreeMap::new();
        for court in self.courts.all() {
            let name = court.name().as_str();
            let next = next_on(name, matches);
            let told = court.with_match(|charted| {
                let lines = [
                    score_lines(charted),
                    state_line(charted),
                    name_lines(charted),
                ];
                (lines, values(Some(charted), next))
            });
            // Empty rather than stale: nothing is on this court.
            let (lines, values) =
                told.unwrap_or_else(|| ([const { String::new() }; 3], values(None, next)));
            let folder = Path::new(name);
            for (file, text) in ["score.txt", "state.txt", "names.txt"].iter().zip(lines) {
                texts.insert(folder.join(file), text);
            }
            for (file, value) in values {
                let text = if value.is_empty() {
                    value
                } else {
                    format!("{value}\n")
                };
                texts.insert(folder.join(format!("{file}.txt")), text);
            }
        }
        texts
    }

    fn say(&self, problem: Option<String>) {
        *self.problem.lock() = problem;
    }
}

/// What was written where.
#[derive(Default)]
struct Written {
    folder: Option<PathBuf>,
    texts: BTreeMap<PathBuf, String>,
}

/// Whether text files can be written in a folder: tried by writing one.
///
/// # Errors
/// A sentence that says what is in the way.
pub fn try_folder(folder: &str) -> Result<(), String> {
    let path = Path::new(folder);
    if !path.is_absolute() {
        return Err(format!(
            "`{folder}` does not say where it lies; write the whole path, from the root or the drive"
        ));
    }
    if !path.is_dir() {
        return Err(format!(
            "there is no folder `{folder}` on the machine that runs the host; make it first"
        ));
    }
    tempfile::NamedTempFile::new_in(path)
        .map(drop)
        .map_err(|error| format!("could not write in `{folder}`: {error}"))
}

/// Puts `text` in the place of what the file held, in one step.
fn replace(path: &Path, text: &str) -> io::Result<()> {
    let Some(folder) = path.parent() else {
        return Err(io::Error::other("the file has no folder"));
    };
    if !folder.is_dir() {
        std::fs::create_dir(folder)?;
    }
    let mut file = tempfile::Builder::new();
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // Others may read it: the streaming program may run as another user.
        file.permissions(std::fs::Permissions::from_mode(0o644));
    }
    let mut file = file.tempfile_in(folder)?;
    file.write_all(text.as_bytes())?;
    file.persist(path).map_err(|failed| failed.error)?;
    Ok(())
}

/// One line: a pause, who is on offense, or that nobody is. Empty where the
/// match is over or the initiative is not to be had.
fn state_line(charted: &ChartedMatch) -> String {
    if charted.score().is_over() {
        return String::new();
    }
    if charted.is_paused() {
        return "Play is paused\n".into();
    }
    let teams = &charted.chart().header().teams;
    match charted.holder() {
        None => String::new(),
        Some(None) => "Neutral\n".into(),
        Some(Some(Team::A)) => format!("{} on offense\n", one_line(&teams.a.name)),
        Some(Some(Team::B)) => format!("{} on offense\n", one_line(&teams.b.name)),
    }
}

/// The title, then a line a team: its name, and its players where they are known.
fn name_lines(charted: &ChartedMatch) -> String {
    let header = charted.chart().header();
    let [a, b] = [&header.teams.a, &header.teams.b].map(|team| {
        let (name, players) = (one_line(&team.name), one_line(&team.players.join(", ")));
        if players.is_empty() || players == name {
            name
        } else {
            format!("{name} ({players})")
        }
    });
    format!("{}\n{a}\n{b}\n", one_line(&header.title))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_replaced_as_a_whole_and_its_folder_made() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("court-1").join("score.txt");
        replace(&path, "a longer text\n").unwrap();
        replace(&path, "short\n").unwrap();
        assert_eq!(std::fs::read_to_string(&path).unwrap(), "short\n");
        let left = std::fs::read_dir(path.parent().unwrap()).unwrap().count();
        assert_eq!(left, 1, "the temporary files are gone");
    }

    #[test]
    fn a_folder_that_is_none_or_lies_nowhere_is_refused_in_words() {
        let folder = tempfile::tempdir().unwrap();
        assert_eq!(try_folder(folder.path().to_str().unwrap()), Ok(()));
        assert!(try_folder("obs").unwrap_err().contains("whole path"));
        let missing = folder.path().join("missing");
        let sentence = try_folder(missing.to_str().unwrap()).unwrap_err();
        assert!(sentence.contains("there is no folder"), "{sentence}");
    }
}
