//! The licences of what is built in: each has to allow what ours promise.

use crate::arrows::Metadata;

/// Licences that may stand in a program under MIT or Apache-2.0.
const FITTING: &[&str] = &[
    "0BSD",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "ISC",
    "MIT",
    "MIT-0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Packages whose licence does not fit, a sentence each.
pub(crate) fn unfit(metadata: &Metadata) -> Vec<String> {
    metadata
        .packages
        .iter()
        .filter(|package| !package.license.as_deref().is_some_and(fits))
        .map(|package| {
            let licence = package.license.as_deref().unwrap_or("none named");
            format!(
                "`{} {}` has the licence `{licence}`, which does not fit",
                package.name, package.version
            )
        })
        .collect()
}

/// Whether an SPDX expression can be met with fitting licences. Every `AND`ed
/// group needs one fitting licence among its `OR`s.
fn fits(expression: &str) -> bool {
    let plain = expression.replace(['(', ')'], "").replace('/', " OR ");
    plain
        .split(" AND ")
        .all(|group| group.split(" OR ").any(|one| FITTING.contains(&one.trim())))
}

#[cfg(test)]
mod tests {
    use super::fits;

    #[test]
    fn one_fitting_choice_is_enough_and_every_demand_has_to_be_met() {
        assert!(fits("MIT OR GPL-3.0"));
        assert!(fits("(MIT OR Apache-2.0) AND Unicode-3.0"));
        assert!(fits("MIT/Apache-2.0"));
        assert!(!fits("MIT AND GPL-3.0"));
        assert!(!fits("AGPL-3.0"));
    }
}
