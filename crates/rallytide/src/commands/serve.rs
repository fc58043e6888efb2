//! `rallytide serve`: runs the host until it is told to stop.

use std::net::SocketAddr;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use anyhow::Context;
use rallytide_bus::{EmbeddedBus, system_clock};
use rallytide_court::Courts;
use rallytide_plugin_registry::PluginRegistry;
use rallytide_server::{
    Access, AppState, ConnectionLimits, Extras, Keys, Permit, bind, router, serve,
};
use rallytide_simulate::{Mistakes, Plan};
use tokio::net::TcpListener;
use tokio::sync::watch;

use crate::cli::Serve;
use crate::config::Config;
use crate::failure::Failure;
use crate::plugin_desk::HostPlugins;
use crate::stop_signals::StopSignals;
use crate::{plugins, reach};

pub(crate) fn run(options: &Serve) -> Result<(), Failure> {
    let config = Config::read(options)?;
    let registry = plugins::registry(config.plugins.as_deref(), &config.settings)?;
    let runtime = runtime()?;
    let ended = runtime.block_on(async {
        let host = Host::open(&config.listen, config.data, config.pages, registry).await?;
        if let Some(folder) = config.text_files {
            host.write_text_files(folder)?;
        }
        let _watch = match &config.plugins {
            Some(folder) => Some(host.plugins.watch(folder).map_err(Failure::outside)?),
            None => None,
        };
        let stop = asked_to_stop()?;
        println!("{}", host.links("1"));
        println!(
            "matches are kept in `{}`; stop with Ctrl-C",
            host.data.display()
        );
        host.run(stop).await
    });
    // What is still being computed for somebody who asked for a file must not
    // keep the program from ending.
    runtime.shutdown_background();
    ended
}

/// As many open files as the system allows, up to a bound: every connection is
/// one.
fn raise_file_limit() -> u64 {
    const WANTED: u64 = 64 * 1024;
    /// What systems allow where nobody says otherwise.
    const USUAL: u64 = 1024;
    rlimit::increase_nofile_limit(WANTED).unwrap_or_else(|error| {
        tracing::warn!(%error, "the limit of open files could not be raised");
        USUAL
    })
}

/// Refuses a folder of pages that holds the matches and the keys, too.
fn refuse_pages_around(data: &Path, pages: Option<&Path>) -> Result<(), Failure> {
    let around = pages.and_then(|pages| pages.canonicalize().ok());
    let inside = data.canonicalize().ok();
    match (around, inside) {
        (Some(pages), Some(data)) if data.starts_with(&pages) => Err(Failure::Usage(format!(
            "the folder of pages `{}` holds the matches and keys in `{}`; give the pages a folder \
             of their own",
            pages.display(),
            data.display()
        ))),
        _ => Ok(()),
    }
}

fn extras() -> Extras {
    Extras {
        chart_wasm: include!(concat!(env!("OUT_DIR"), "/chart_wasm.rs")),
        made_up: |seed| {
            // What was played is what one practises on, not what somebody made of it.
            let plan = Plan {
                mistakes: Mistakes::None,
                ..Plan::new(seed)
            };
            rallytide_simulate::simulate(&plan).map_err(|error| error.to_string())
        },
    }
}

pub(crate) fn runtime() -> Result<tokio::runtime::Runtime, Failure> {
    tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build()
        .map_err(Failure::outside)
}

/// A host that listens but does not serve yet.
pub(crate) struct Host {
    pub(crate) address: SocketAddr,
    data: PathBuf,
    listener: TcpListener,
    bus: Arc<EmbeddedBus>,
    courts: Arc<Courts>,
    plugins: Arc<HostPlugins>,
    access: Access,
    limits: ConnectionLimits,
    state: AppState,
    stop: watch::Sender<bool>,
}

impl Host {
    /// Takes the address, the data folder and what was on the courts before.
    pub(crate) async fn open(
        listen: &str,
        data: PathBuf,
        pages: Option<PathBuf>,
        registry: PluginRegistry,
    ) -> Result<Self, Failure> {
        refuse_pages_around(&data, pages.as_deref())?;
        let limits = ConnectionLimits::for_files(raise_file_limit());
        let (listener, address) = bind(listen).await.map_err(|error| {
            if error.is_no_address() {
                return Failure::Usage(format!(
                    "`{listen}` is no address to listen on; write it like `127.0.0.1:7447`"
                ));
            }
            let hint = error.hint();
            Failure::outside_with(error, hint)
        })?;
        let bus = EmbeddedBus::start(&data, system_clock()).map_err(|error| {
            let hint = error.hint();
            Failure::outside_with(error, hint)
        })?;
        let bus = Arc::new(bus);
        let courts = Courts::open(bus.clone(), registry.plugin_set()).map_err(Failure::outside)?;
        let courts = Arc::new(courts);
        let plugins = Arc::new(HostPlugins::new(registry, Arc::clone(&courts)));
        let keys = Keys::open(&data).map_err(|error| {
            let hint = error.hint();
            Failure::outside_with(error, hint)
        })?;
        let access = Access {
            keys: Arc::new(keys),
            names: reach::own_names().into(),
            is_local_only: address.ip().is_loopback(),
            addresses: Arc::new(move || reach::addresses(address)),
        };
        let (stop, stopped) = watch::channel(false);
        let state = AppState::new(
            Arc::clone(&courts),
            plugins.clone(),
            pages,
            extras(),
            access.clone(),
            limits.clone(),
            stopped,
        );
        Ok(Self {
            address,
            data,
            listener,
            bus,
            courts,
            plugins,
            access,
            limits,
            state,
            stop,
        })
    }

    /// Writes text files in `folder` from now on. The configuration counts at
    /// each start; what the desk chooses later counts until the next one.
    fn write_text_files(&self, folder: String) -> Result<(), Failure> {
        if self.courts.text_files().as_deref() == Some(&folder) {
            return Ok(());
        }
        let chosen = self.courts.set_text_files(Some(folder));
        chosen.map_err(Failure::outside)
    }

    /// The links to print: the way in, the pages of a court, and, with its key,
    /// the desk for another machine.
    pub(crate) fn links(&self, court: &str) -> String {
        let host = match self.address {
            address if address.ip().is_unspecified() => {
                format!("127.0.0.1:{}", address.port())
            }
            address => address.to_string(),
        };
        let mut links = format!(
            "start here  http://{host}/\n\
             graphic     http://{host}/courts/{court}/graphic\n\
             booth       http://{host}/courts/{court}/booth"
        );
        let key = self.access.keys.key(Permit::Desk);
        let is_local_only = self.access.is_local_only;
        if is_local_only && !self.courts.lets_others_in() {
            return links;
        }
        if is_local_only {
            links.push_str("\nother machines are let in, as the desk said");
        }
        for address in (self.access.addresses)().unwrap_or_default() {
            links.push_str("\ndesk, from another machine  ");
            links.push_str(&address.url);
            links.push_str("/desk?key=");
            links.push_str(&key);
        }
        links
    }

    /// Serves until `stop` is ready; what was accepted is on the disk then.
    pub(crate) async fn run(self, stop: impl Future<Output = ()>) -> Result<(), Failure> {
        let stopped = self.stop.subscribe();
        let text_files = tokio::spawn(self.state.text_files().run(self.stop.subscribe()));
        let places = tokio::spawn(self.state.place_keeper().run(self.stop.subscribe()));
        let listeners = self.state.listeners();
        let routes = router(self.state);
        let listeners = tokio::spawn(listeners.run(routes.clone(), self.stop.subscribe()));
        let serving = serve(self.listener, routes, self.limits, stopped);
        tokio::pin!(serving);
        tokio::select! {
            () = &mut serving => {}
            () = stop => {
                self.stop.send_replace(true);
                serving.await;
            }
        }
        text_files
            .await
            .context("writing the text files failed")
            .map_err(Failure::outside)?;
        places
            .await
            .context("filling the places of matches failed")
            .map_err(Failure::outside)?;
        listeners
            .await
            .context("listening for other machines failed")
            .map_err(Failure::outside)?;
        let bus = self.bus;
        tokio::task::spawn_blocking(move || bus.shutdown())
            .await
            .context("could not close the logs")
            .map_err(Failure::outside)
    }
}

/// Is ready when a person or the system asks the program to stop. It listens
/// from the moment it is called, so call it before telling anybody that the
/// host is there.
pub(crate) fn asked_to_stop() -> Result<impl Future<Output = ()>, Failure> {
    let mut signals = StopSignals::listen()
        .context("could not listen for the signals to stop")
        .map_err(Failure::outside)?;
    Ok(async move {
        signals.next().await;
        // Whoever asks again does not want to wait. What was accepted is on the
        // disk already.
        tokio::spawn(async move {
            signals.next().await;
            eprintln!("stopped at once");
            std::process::exit(OUTSIDE);
        });
    })
}

/// The exit status where something outside failed.
const OUTSIDE: i32 = 3;
