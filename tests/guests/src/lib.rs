//! Nothing: each guest is a file of its own beside this one.
