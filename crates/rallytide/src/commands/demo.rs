//! `rallytide demo`: the host with a demo match being charted live over its
//! own WebSocket. Nothing of it is kept.

use anyhow::Context;
use rallytide_chart::{Chart, read_chart_file};

use crate::cli::Demo;
use crate::client::{Delivery, intake_url};
use crate::commands::feed::court_of;
use crate::commands::serve::{Host, asked_to_stop, runtime};
use crate::failure::Failure;
use crate::plugins;

/// The match that is charted: invented, like everybody in it.
const DEMO_MATCH: &[u8] = include_bytes!("../../../../demo-streams/harbour-final.jsonl");

pub(crate) fn run(options: &Demo) -> Result<(), Failure> {
    let chart = demo_chart()?;
    let data = tempfile::tempdir()
        .context("could not make a folder for the demo's data")
        .map_err(Failure::outside)?;
    let registry = plugins::registry(None, &plugins::Settings::default())?;
    runtime()?.block_on(async {
        let host = Host::open(&options.listen, data.path().to_owned(), None, registry).await?;
        let asked = asked_to_stop()?;
        println!("{}", host.links(court_of(&chart)));
        println!("an invented match is being charted; stop with Ctrl-C");
        let intake = intake_url(&format!("http://{}", host.address), court_of(&chart))
            .map_err(Failure::Usage)?;
        let pace = options.pace;
        let once = options.once;
        let charting = tokio::spawn(async move {
            let delivery = Delivery {
                chart: &chart,
                intake,
                pace,
                replace: false,
            };
            delivery.run().await
        });
        let stop = async {
            let charted = charting.await.context("the charting was interrupted");
            match charted.and_then(|charted| charted) {
                Ok(delivered) => {
                    let accepted = delivered.accepted;
                    println!("the match has been charted: {accepted} entries");
                }
                Err(error) => eprintln!("warning: the charting stopped: {error:#}"),
            }
            if !once {
                std::future::pending::<()>().await;
            }
        };
        host.run(async {
            tokio::select! {
                () = stop => {}
                () = asked => {}
            }
        })
        .await
    })
}

fn demo_chart() -> Result<Chart, Failure> {
    let file = read_chart_file(DEMO_MATCH);
    match file.chart {
        Some(chart) if file.problems.is_empty() => Ok(chart),
        _ => Err(Failure::outside(anyhow::anyhow!(
            "the demo match inside this program is damaged: {:?}",
            file.problems
        ))),
    }
}
