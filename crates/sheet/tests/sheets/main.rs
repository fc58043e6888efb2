//! Sheets as people have them: a table of some eighty invented files. Each is either
//! imported right or refused by row with a sentence. Which forms occur is common
//! practice; where a form is published, its source stands beside the case. Files
//! under `tests/files` were saved by other programs (`LibreOffice` Calc 7.4, openpyxl).

mod columns;
mod damaged;
mod refused;
mod separated;
mod support;
mod workbooks;
