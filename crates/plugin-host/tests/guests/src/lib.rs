//! Nothing: every guest is an example of this package, a file of its own.
