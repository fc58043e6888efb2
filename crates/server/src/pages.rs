//! The pages, carried inside the binary. A folder of the streamer's own can
//! stand in front: a file in it wins over the one inside.

use std::borrow::Cow;
use std::path::{Path, PathBuf};

use axum::body::{Body, Bytes};
use axum::extract::Request;
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{Html, IntoResponse, Response};
use percent_encoding::percent_decode_str;
use rust_embed::RustEmbed;
use tower::ServiceExt;
use tower_http::services::ServeFile;

use crate::etag::tagged_as;
use crate::rejection::Rejection;

/// The `overlay` folder without what is only there for checks.
#[derive(RustEmbed)]
#[folder = "../../overlay"]
#[include = "*.html"]
#[include = "*.css"]
#[include = "*.js"]
#[include = "*.svg"]
#[include = "*.woff2"]
#[include = "samples/*"]
#[exclude = "node_modules/*"]
#[exclude = "tests/*"]
struct BuiltIn;

/// What the streamer's own folder gives out, by the end of the name. Whatever
/// else lies there (keys, logs, notes) stays there.
const WEB_FILES: &[&str] = &[
    "avif", "css", "gif", "htm", "html", "ico", "jpeg", "jpg", "js", "json", "map", "mjs", "mp3",
    "mp4", "ogg", "otf", "png", "svg", "ttf", "txt", "vtt", "wasm", "wav", "webm", "webp", "woff",
    "woff2",
];

/// The files of the pages.
#[derive(Clone)]
pub(crate) struct Pages {
    own: Option<PathBuf>,
}

impl Pages {
    pub(crate) fn new(own: Option<PathBuf>) -> Self {
        Self { own }
    }

    /// The file at `path`: the streamer's own if there is one, else the built-in one.
    pub(crate) async fn file(&self, path: &str, request: &HeaderMap) -> Response {
        let mut response = match self.own_file(path).await {
            Some(response) => response,
            None => match built_in(path, request) {
                Ok(response) => response,
                Err(rejection) => return rejection.into_response(),
            },
        };
        let headers = response.headers_mut();
        headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-cache"));
        // A streamer's own page, opened from a file or another site, may use the
        // elements; there is nothing secret in them.
        headers.insert(
            header::ACCESS_CONTROL_ALLOW_ORIGIN,
            HeaderValue::from_static("*"),
        );
        response
    }

    /// The page of a folder, shown under another address.
    pub(crate) async fn of_folder(&self, folder: &str, request: &HeaderMap) -> Response {
        /// Pages are some kilobytes; this only bounds a mistake.
        const PAGE_LIMIT: usize = 4 * 1024 * 1024;
        let response = self.file(&format!("{folder}/index.html"), request).await;
        if response.status() != StatusCode::OK {
            return response;
        }
        let (mut parts, body) = response.into_parts();
        let text = match axum::body::to_bytes(body, PAGE_LIMIT).await {
            Ok(bytes) => String::from_utf8_lossy(&bytes).into_owned(),
            Err(error) => {
                tracing::error!(%error, folder, "a page could not be read");
                let sentence = format!("the page `{folder}` could not be read");
                return Rejection::internal(sentence).into_response();
            }
        };
        parts.headers.remove(header::CONTENT_LENGTH);
        Response::from_parts(parts, with_base(&text, folder).into())
    }

    async fn own_file(&self, path: &str) -> Option<Response> {
        let (root, path) = (self.own.clone()?, path.to_owned());
        let found = tokio::task::spawn_blocking(move || own_file(&root, &path));
        let file = found.await.ok()??;
        let request = Request::builder().body(Body::empty()).ok()?;
        let response = ServeFile::new(file).oneshot(request).await.ok()?;
        (response.status() == StatusCode::OK).then(|| response.map(Body::new))
    }
}

/// Where a file of the streamer's own folder lies, if it is one to give out: of
/// a type that pages use, not hidden, and in the folder itself. A link leads to
/// another place than its own, so it is none.
fn own_file(root: &Path, path: &str) -> Option<PathBuf> {
    let path = percent_decode_str(path).decode_utf8().ok()?;
    let root = root.canonicalize().ok()?;
    let mut file = root.clone();
    for part in path.split('/').filter(|part| !part.is_empty()) {
        if part.starts_with(['.', '_']) || part.contains(['\\', ':', '\0']) {
            return None;
        }
        file.push(part);
    }
    let ending = file.extension()?.to_str()?.to_ascii_lowercase();
    let is_there = file.canonicalize().is_ok_and(|real| real == file) && file.is_file();
    (WEB_FILES.contains(&ending.as_str()) && is_there).then_some(file)
}

fn built_in(path: &str, request: &HeaderMap) -> Result<Response, Rejection> {
    let file = BuiltIn::get(path.trim_start_matches('/')).ok_or_else(|| {
        Rejection::not_found(format!("there is nothing at `/{path}`; the way in is `/`"))
    })?;
    let hash = file.metadata.sha256_hash();
    let hash = u64::from_be_bytes(std::array::from_fn(|at| hash[at]));
    let content_type = content_type(file.metadata.mimetype());
    Ok(tagged_as(
        &format!("\"{hash:016x}\""),
        match file.data {
            Cow::Borrowed(bytes) => Bytes::from_static(bytes),
            Cow::Owned(bytes) => Bytes::from(bytes),
        },
        &content_type,
        request,
    ))
}

/// A page that is reached under another address than its folder's: its links
/// are meant beside it.
fn with_base(page: &str, folder: &str) -> String {
    page.replacen("<head>", &format!("<head><base href=\"/{folder}/\">"), 1)
}

/// A page with nothing on it, whose title says why. The sentence is one of ours
/// and holds no markup.
pub(crate) fn blank_page(sentence: &str) -> Html<String> {
    Html(format!(
        "<!doctype html>\n<html lang=\"en\"><meta charset=\"utf-8\"><title>{sentence}</title></html>\n"
    ))
}

fn content_type(kind: &str) -> String {
    if kind.starts_with("text/") {
        format!("{kind}; charset=utf-8")
    } else {
        kind.to_owned()
    }
}
