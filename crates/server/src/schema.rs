//! The documents for programs and the types for the pages, written out of the
//! types that go over the wire. `cargo xtask types` writes them to
//! `crates/server/api` and `overlay/types`; nothing in them is shaped by hand.

mod http;
mod messages;
mod pages;

pub use http::openapi;
pub use messages::asyncapi;
pub use pages::page_types;

use schemars::generate::{SchemaGenerator, SchemaSettings};

/// What we send is described as it is written, what we take as it is read.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    Sent,
    Taken,
}

/// A generator of schemas (JSON Schema 2020-12, which both kinds of document
/// use), whose definitions end up among the document's components.
fn generator(way: Way) -> SchemaGenerator {
    let settings = SchemaSettings::draft2020_12().with(|settings| {
        settings.definitions_path = "/components/schemas".into();
        settings.meta_schema = None;
    });
    match way {
        Way::Sent => settings.for_serialize().into_generator(),
        Way::Taken => settings.for_deserialize().into_generator(),
    }
}
