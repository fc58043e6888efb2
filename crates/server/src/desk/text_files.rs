//! `PUT /text-files`: where text files for streaming programs are written.

use axum::extract::State;
use axum::http::StatusCode;
use rallytide_court::CannotDo;
use serde::Deserialize;

use super::aside;
use crate::body::Body;
use crate::routes::{Refused, Site};
use crate::text_files::try_folder;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Choice {
    /// `null`: nothing is written any more; the files stay as they are.
    folder: Option<String>,
}

pub(crate) async fn choose(
    State(site): State<Site>,
    Body(choice): Body<Choice>,
) -> Result<StatusCode, Refused> {
    aside(move || {
        if let Some(folder) = &choice.folder {
            try_folder(folder).map_err(CannotDo::Unfit)?;
        }
        site.courts.set_text_files(choice.folder)
    })
    .await?;
    Ok(StatusCode::NO_CONTENT)
}
