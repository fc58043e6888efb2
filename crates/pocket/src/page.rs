//! What a page can call. Text crosses through two buffers: the page asks for
//! room ([`reserve`]), writes UTF-8 into it, calls [`open`] or [`take`] and reads
//! the answer, whose place [`answer`] gives and whose length the call returned.
//!
//! The only unsafe thing here is the name under which a function is exported.

#![allow(
    unsafe_code,
    unreachable_pub,
    reason = "called by the page under exported names"
)]

use std::cell::RefCell;

use rallytide_chart::{Refusal, RefusalCode};

use crate::{Pocket, refused};

#[derive(Default)]
struct Desk {
    input: Vec<u8>,
    output: String,
    pocket: Option<Pocket>,
}

thread_local! {
    static DESK: RefCell<Desk> = RefCell::default();
}

/// Makes room for `length` bytes of text and gives its place.
#[unsafe(no_mangle)]
pub extern "C" fn reserve(length: usize) -> usize {
    DESK.with_borrow_mut(|desk| {
        desk.input.clear();
        desk.input.resize(length, 0);
        desk.input.as_ptr() as usize
    })
}

/// Begins a match with the header in the buffer; gives the answer's length.
#[unsafe(no_mangle)]
pub extern "C" fn open() -> usize {
    DESK.with_borrow_mut(|desk| {
        let header = String::from_utf8_lossy(&desk.input).into_owned();
        desk.output = match Pocket::open(&header) {
            Ok(pocket) => {
                let answer = pocket.answer(&Ok(Vec::new()));
                desk.pocket = Some(pocket);
                answer
            }
            Err(refusal) => refused(&refusal),
        };
        desk.output.len()
    })
}

/// Takes the entry in the buffer; gives the answer's length.
#[unsafe(no_mangle)]
pub extern "C" fn take() -> usize {
    DESK.with_borrow_mut(|desk| {
        let entry = String::from_utf8_lossy(&desk.input).into_owned();
        desk.output = match &mut desk.pocket {
            Some(pocket) => {
                let outcome = pocket.take(&entry);
                pocket.answer(&outcome)
            }
            None => refused(&Refusal::new(
                RefusalCode::NoMatch,
                "there is no match yet: open one with its header first",
            )),
        };
        desk.output.len()
    })
}

/// Writes the chart out as a file's text; gives its length.
#[unsafe(no_mangle)]
pub extern "C" fn file() -> usize {
    DESK.with_borrow_mut(|desk| {
        desk.output = desk.pocket.as_ref().map(Pocket::file).unwrap_or_default();
        desk.output.len()
    })
}

/// The place of the last answer.
#[unsafe(no_mangle)]
pub extern "C" fn answer() -> usize {
    DESK.with_borrow(|desk| desk.output.as_ptr() as usize)
}
