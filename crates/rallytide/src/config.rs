//! The configuration of the host: what was typed, then what it means.

use std::path::{Path, PathBuf};

use anyhow::Context;
use rallytide_server::try_folder;
use serde::Deserialize;

use crate::cli::Serve;
use crate::data_folder;
use crate::failure::Failure;
use crate::plugins::Settings;

const LISTEN: &str = "127.0.0.1:7447";
const DATA: &str = "rallytide-data";

/// A configuration file as it is typed. Unknown keys are errors that list the
/// known ones.
#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct TypedConfig {
    listen: Option<String>,
    data: Option<PathBuf>,
    plugins: Option<PathBuf>,
    pages: Option<PathBuf>,
    text_files: Option<PathBuf>,
    /// Settings of plugins: `[settings.PLUGIN]`, `name = value`.
    #[serde(default)]
    settings: Settings,
}

/// What the host is to do.
#[derive(Debug)]
pub(crate) struct Config {
    pub(crate) listen: String,
    pub(crate) data: PathBuf,
    pub(crate) plugins: Option<PathBuf>,
    pub(crate) pages: Option<PathBuf>,
    /// Where text files for streaming programs are written: a whole path.
    pub(crate) text_files: Option<String>,
    pub(crate) settings: Settings,
}

impl Config {
    /// Puts file and command line together; the command line counts more.
    /// Folders named in the file are meant beside it.
    pub(crate) fn read(options: &Serve) -> Result<Self, Failure> {
        let typed = match &options.config {
            None => TypedConfig::default(),
            Some(file) => read_file(file)?,
        };
        let data = options.data.clone().or(typed.data);
        let config = Self {
            listen: options
                .listen
                .clone()
                .or(typed.listen)
                .unwrap_or_else(|| LISTEN.into()),
            data: data.unwrap_or_else(|| DATA.into()),
            plugins: options.plugins.clone().or(typed.plugins),
            pages: options.pages.clone().or(typed.pages),
            text_files: typed.text_files.as_deref().map(writable).transpose()?,
            settings: typed.settings,
        };
        for (what, folder) in [
            ("plugins", config.plugins.as_ref()),
            ("pages", config.pages.as_ref()),
        ] {
            if let Some(folder) = folder.filter(|folder| !folder.is_dir()) {
                return Err(Failure::outside_with(
                    anyhow::anyhow!("there is no folder `{}` for `{what}`", folder.display()),
                    Some("create it, or name another one"),
                ));
            }
        }
        data_folder::make_if_missing(&config.data)?;
        Ok(config)
    }
}

/// A folder for text files, as a whole path: the desk shows it, and another start
/// may be from elsewhere.
fn writable(folder: &Path) -> Result<String, Failure> {
    let hint = Some("name a folder that exists and can be written in, or leave `text_files` out");
    let whole = std::path::absolute(folder)
        .with_context(|| format!("could not find the folder `{}`", folder.display()))
        .map_err(|error| Failure::outside_with(error, hint))?;
    let text = whole.into_os_string().into_string().map_err(|path| {
        Failure::Usage(format!(
            "`text_files`: the name of the folder `{}` is not text",
            path.display()
        ))
    })?;
    try_folder(&text).map_err(|sentence| {
        Failure::outside_with(anyhow::anyhow!("`text_files`: {sentence}"), hint)
    })?;
    Ok(text)
}

fn read_file(file: &Path) -> Result<TypedConfig, Failure> {
    let text = std::fs::read_to_string(file)
        .with_context(|| format!("could not read the configuration `{}`", file.display()))
        .map_err(Failure::outside)?;
    let mut typed: TypedConfig = toml::from_str(&text).map_err(|error| {
        Failure::Usage(format!("the configuration `{}`: {error}", file.display()))
    })?;
    let beside = file.parent().unwrap_or(Path::new(""));
    let folders = [
        &mut typed.data,
        &mut typed.plugins,
        &mut typed.pages,
        &mut typed.text_files,
    ];
    for folder in folders.into_iter().flatten() {
        *folder = beside.join(&*folder);
    }
    Ok(typed)
}
