//! Prints a document or the pages' types: `cargo xtask types` writes them to the
//! files they are committed as.

use rallytide_server::schema;

fn main() {
    let wanted = std::env::args().nth(1).unwrap_or_default();
    match wanted.as_str() {
        "openapi" => println!("{:#}", schema::openapi()),
        "asyncapi" => println!("{:#}", schema::asyncapi()),
        "pages" => print!("{}", schema::page_types()),
        other => {
            eprintln!("`{other}` is none of `openapi`, `asyncapi`, `pages`");
            std::process::exit(2);
        }
    }
}
