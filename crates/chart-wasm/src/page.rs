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

use crate::{LocalChart, refused};

#[derive(Default)]
struct PageState {
    input: Vec<u8>,
    output: String,
    chart: Option<LocalChart>,
}

thread_local! {
    static STATE: RefCell<PageState> = RefCell::default();
}

/// Makes room for `length` bytes of text and gives its place.
#[unsafe(no_mangle)]
pub extern "C" fn reserve(length: usize) -> usize {
    STATE.with_borrow_mut(|state| {
        state.input.clear();
        state.input.resize(length, 0);
        state.input.as_ptr() as usize
    })
}

/// Begins a match with the header in the buffer; gives the answer's length.
#[unsafe(no_mangle)]
pub extern "C" fn open() -> usize {
    STATE.with_borrow_mut(|state| {
        let header = String::from_utf8_lossy(&state.input).into_owned();
        state.output = match LocalChart::open(&header) {
            Ok(chart) => {
                let answer = chart.answer(&Ok(Vec::new()));
                state.chart = Some(chart);
                answer
            }
            Err(refusal) => refused(refusal.code().word(), &refusal.to_string()),
        };
        state.output.len()
    })
}

/// Takes the entry in the buffer; gives the answer's length.
#[unsafe(no_mangle)]
pub extern "C" fn take() -> usize {
    STATE.with_borrow_mut(|state| {
        let entry = String::from_utf8_lossy(&state.input).into_owned();
        state.output = match &mut state.chart {
            Some(chart) => {
                let outcome = chart.take(&entry);
                chart.answer(&outcome)
            }
            None => refused(
                "no_match",
                "there is no match yet: open one with its header first",
            ),
        };
        state.output.len()
    })
}

/// Writes the chart out as a file's text; gives its length.
#[unsafe(no_mangle)]
pub extern "C" fn file() -> usize {
    STATE.with_borrow_mut(|state| {
        state.output = state
            .chart
            .as_ref()
            .map(LocalChart::file)
            .unwrap_or_default();
        state.output.len()
    })
}

/// Writes out every end of a rally; gives the text's length.
#[unsafe(no_mangle)]
pub extern "C" fn ends() -> usize {
    STATE.with_borrow_mut(|state| {
        state.output = state
            .chart
            .as_ref()
            .map_or_else(|| "[]".to_owned(), LocalChart::ends);
        state.output.len()
    })
}

/// The place of the last answer.
#[unsafe(no_mangle)]
pub extern "C" fn answer() -> usize {
    STATE.with_borrow(|state| state.output.as_ptr() as usize)
}
