//! How a command fails: whose fault it was decides the exit status.

use std::process::ExitCode;

/// A command that could not do its work.
#[derive(Debug)]
pub(crate) enum Failure {
    /// The input is at fault: status 1. What is wrong has been printed already, or
    /// stands here.
    Input(Option<String>),
    /// The command line or the configuration is at fault: status 2.
    Usage(String),
    /// Nobody reads the output any more: status 0, nothing to say.
    NobodyReads,
    /// Something outside is (network, disk): status 3.
    Outside {
        error: anyhow::Error,
        hint: Option<String>,
    },
}

impl Failure {
    pub(crate) fn input(message: impl Into<String>) -> Self {
        Self::Input(Some(message.into()))
    }

    /// Something outside, without advice.
    pub(crate) fn outside(error: impl Into<anyhow::Error>) -> Self {
        Self::Outside {
            error: error.into(),
            hint: None,
        }
    }

    /// Something outside, with what can be done about it.
    pub(crate) fn outside_with(
        error: impl Into<anyhow::Error>,
        hint: Option<impl Into<String>>,
    ) -> Self {
        Self::Outside {
            error: error.into(),
            hint: hint.map(Into::into),
        }
    }

    /// Says what went wrong and gives the exit status.
    pub(crate) fn report(self) -> ExitCode {
        match self {
            Self::Input(message) => {
                if let Some(message) = message {
                    eprintln!("error: {message}");
                }
                ExitCode::from(1)
            }
            Self::NobodyReads => ExitCode::SUCCESS,
            Self::Usage(message) => {
                eprintln!("error: {message}");
                ExitCode::from(2)
            }
            Self::Outside { error, hint } => {
                eprintln!("error: {error:#}");
                if let Some(hint) = hint {
                    eprintln!("hint: {hint}");
                }
                ExitCode::from(3)
            }
        }
    }
}

/// Printing that failed: the disk is full, or the reader of a pipe has gone,
/// which is no failure of ours. Where the output is a socket, a reader that goes
/// with something unread resets the connection instead of breaking a pipe.
impl From<std::io::Error> for Failure {
    fn from(error: std::io::Error) -> Self {
        if matches!(
            error.kind(),
            std::io::ErrorKind::BrokenPipe | std::io::ErrorKind::ConnectionReset
        ) {
            return Self::NobodyReads;
        }
        Self::outside(anyhow::Error::new(error).context("could not write the output"))
    }
}
