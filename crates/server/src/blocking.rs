//! Work that waits for the disk or runs whole matches, on threads of its own.

use crate::rejection::Rejection;

/// Does what waits for the disk, or runs matches, away from the connections.
pub(crate) async fn run_blocking<T, E>(
    work: impl FnOnce() -> Result<T, E> + Send + 'static,
) -> Result<T, Rejection>
where
    T: Send + 'static,
    E: Into<Rejection> + Send + 'static,
{
    let done = tokio::task::spawn_blocking(work).await.map_err(|error| {
        tracing::error!(%error, "what was asked for was not finished");
        Rejection::internal("the host could not finish this; look at the state and try again")
    })?;
    done.map_err(Into::into)
}
