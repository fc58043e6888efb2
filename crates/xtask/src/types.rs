//! What is written out of the Rust types and committed: the pages' types, and the
//! documents that the host serves.

use std::path::Path;
use std::process::Command;

use anyhow::{Context, bail};

use crate::build;

/// A file, and the example that prints it.
struct Written {
    file: &'static str,
    example: &'static str,
    argument: &'static str,
}

const WRITTEN: &[Written] = &[
    Written {
        file: "overlay/types/messages.d.ts",
        example: "page_types",
        argument: "",
    },
    of_server("overlay/types/host.d.ts", "pages"),
    of_server("crates/server/api/openapi.json", "openapi"),
    of_server("crates/server/api/asyncapi.json", "asyncapi"),
];

const fn of_server(file: &'static str, argument: &'static str) -> Written {
    Written {
        file,
        example: "wire_types",
        argument,
    }
}

/// Writes the files anew.
pub(crate) fn write(root: &Path) -> anyhow::Result<()> {
    build::programs(root)?;
    for one in WRITTEN {
        std::fs::write(root.join(one.file), one.generate(root)?)
            .with_context(|| format!("could not write `{}`", one.file))?;
    }
    Ok(())
}

/// Fails where a committed file is not what the Rust types say.
pub(crate) fn check(root: &Path) -> anyhow::Result<()> {
    build::programs(root)?;
    for one in WRITTEN {
        let committed = std::fs::read_to_string(root.join(one.file))
            .with_context(|| format!("could not read `{}`", one.file))?;
        if committed != one.generate(root)? {
            bail!(
                "`{}` is not what the Rust types say; run `cargo xtask types`",
                one.file
            );
        }
    }
    Ok(())
}

impl Written {
    fn generate(&self, root: &Path) -> anyhow::Result<String> {
        let output = Command::new(build::example(root, self.example))
            .current_dir(root)
            .arg(self.argument)
            .output()
            .with_context(|| format!("could not run the example `{}`", self.example))?;
        if !output.status.success() {
            bail!(
                "`{}` could not be written out: {}",
                self.file,
                String::from_utf8_lossy(&output.stderr)
            );
        }
        String::from_utf8(output.stdout).context("what was written out is no text")
    }
}
