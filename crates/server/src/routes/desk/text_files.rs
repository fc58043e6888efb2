//! `PUT /text-files`: where text files for streaming programs are written.

use axum::extract::State;
use axum::http::StatusCode;

use crate::answers::desk::TextFilesChoice;
use crate::blocking::run_blocking;
use crate::json_body::JsonBody;
use crate::rejection::Rejection;
use crate::state::AppState;
use crate::text_files::try_folder;

pub(crate) async fn choose(
    State(state): State<AppState>,
    JsonBody(choice): JsonBody<TextFilesChoice>,
) -> Result<StatusCode, Rejection> {
    run_blocking(move || -> Result<(), Rejection> {
        if let Some(folder) = &choice.folder {
            try_folder(folder).map_err(Rejection::unfit)?;
        }
        Ok(state.courts.set_text_files(choice.folder)?)
    })
    .await?;
    Ok(StatusCode::NO_CONTENT)
}
