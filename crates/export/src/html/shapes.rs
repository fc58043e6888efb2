//! The teams' shapes: a is round, b is a diamond. Drawn, not colored
//! backgrounds, so that they are there on paper too.

use maud::{Markup, html};
use rallytide_chart::Team;

/// Draws each shape once; [`inline`] refers to it.
pub(super) fn definitions() -> Markup {
    html! {
        svg.definitions aria-hidden="true" focusable="false" width="0" height="0" {
            symbol id="shape-a" viewBox="0 0 20 20" { circle cx="10" cy="10" r="8" {} }
            symbol id="shape-b" viewBox="0 0 20 20" { polygon points="10,0 20,10 10,20 0,10" {} }
        }
    }
}

/// A shape in a line of text; the team's name stands beside it.
pub(super) fn inline(team: Team) -> Markup {
    html! {
        svg.shape data-team=(team.word()) aria-hidden="true" focusable="false" viewBox="0 0 20 20" {
            use href={ "#shape-" (team.word()) } {}
        }
    }
}
