//! `rallytide feed FILE --to URL`: charts a file into a running host.

use rallytide_chart::Chart;

use crate::cli::Feed;
use crate::client::{Delivered, Delivery, PermanentFailure, intake_url};
use crate::failure::Failure;
use crate::input;

pub(crate) fn run(options: &Feed) -> Result<(), Failure> {
    let chart = input::read_chart(&options.file)?;
    let intake = intake_url(&options.to, court_of(&chart)).map_err(Failure::Usage)?;
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .map_err(Failure::outside)?;
    let delivery = Delivery {
        chart: &chart,
        intake,
        pace: options.pace,
        replace: options.replace,
    };
    let delivered = runtime.block_on(delivery.run()).map_err(|error| {
        if error.is::<PermanentFailure>() {
            Failure::input(format!("{error:#}"))
        } else {
            Failure::outside_with(error, Some("is the host running there? `rallytide serve`"))
        }
    })?;
    report(&delivered)
}

/// The court the header names, or court 1.
pub(crate) fn court_of(chart: &Chart) -> &str {
    match chart.header().court.as_str() {
        "" => "1",
        court => court,
    }
}

fn report(delivered: &Delivered) -> Result<(), Failure> {
    for (id, code, message) in &delivered.refused {
        eprintln!("refused `{id}` ({code}): {message}");
    }
    eprintln!(
        "{} entries accepted, {} refused",
        delivered.accepted,
        delivered.refused.len()
    );
    if delivered.refused.is_empty() {
        Ok(())
    } else {
        Err(Failure::Input(None))
    }
}
