//! Whether the compiler can cope with a file's code in reasonable time.
//!
//! Compiling cannot be interrupted, and fuel does not bound it: a file of a few
//! kilobytes can keep the compiler busy for minutes. So the shape of the code is
//! counted first: how deep its blocks are nested, how many branches its
//! functions have, how many values those carry along. What passes takes seconds
//! at worst; an ordinary plugin stays far below. Nothing here says what the code
//! does.

use std::collections::HashSet;

use wasmparser::{FunctionBody, Operator, Parser, Payload};

use crate::limits::{
    BLOCKS_NESTED, BRANCHES_SQUARED, CARRIED_PER_FILE, CARRIED_PER_FUNCTION, FUNCTION_BYTES,
    LOOPS_NESTED, PLAIN_BRANCHES_SQUARED, PLAIN_CARRIED,
};
use crate::refused::RefusedReason;

/// How a file that is let through is to be compiled. What its code does and
/// the fuel it takes are the same either way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Intricacy {
    /// With care for the speed of its code: nearly every plugin.
    Plain,
    /// Quickly: care could take minutes.
    Intricate,
}

/// Judges every function of a file that the validator has passed, those of the
/// modules inside a component included.
pub(crate) fn check(file: &[u8]) -> Result<Intricacy, RefusedReason> {
    let mut squared = 0_u64;
    let mut carried = 0_u64;
    let mut most_carried = 0_u64;
    for payload in Parser::new(0).parse_all(file) {
        if let Payload::CodeSectionEntry(body) = payload.map_err(RefusedReason::malformed)? {
            let shape = Shape::of(&body)?;
            squared = squared.saturating_add(shape.branches.saturating_mul(shape.branches));
            carried = carried.saturating_add(shape.carried);
            most_carried = most_carried.max(shape.carried);
            within("branches, squared", squared, BRANCHES_SQUARED)?;
            within("values carried along", carried, CARRIED_PER_FILE)?;
        }
    }
    let plain = squared <= PLAIN_BRANCHES_SQUARED
        && most_carried <= PLAIN_CARRIED
        && carried <= PLAIN_CARRIED * 20;
    Ok(if plain {
        Intricacy::Plain
    } else {
        Intricacy::Intricate
    })
}

fn within(what: &str, found: u64, limit: u64) -> Result<(), RefusedReason> {
    if found <= limit {
        return Ok(());
    }
    Err(RefusedReason::TooIntricate {
        detail: format!("{found} {what}; {limit} are allowed"),
    })
}

/// What the compiler's time depends on.
#[derive(Default)]
struct Shape {
    branches: u64,
    /// Values that branches may have to carry along.
    carried: u64,
    open: Vec<Block>,
    loops: u64,
}

/// An open block of a function.
#[derive(Default)]
struct Block {
    is_loop: bool,
    /// Branches to it.
    branches: u64,
    /// Locals that are set within it.
    set: HashSet<u32>,
}

impl Shape {
    fn of(body: &FunctionBody<'_>) -> Result<Self, RefusedReason> {
        within(
            "bytes of one function",
            body.range().len() as u64,
            FUNCTION_BYTES as u64,
        )?;
        // The function itself is a block; its end closes it.
        let mut shape = Self {
            open: vec![Block::default()],
            ..Self::default()
        };
        let operators = body
            .get_operators_reader()
            .map_err(RefusedReason::malformed)?;
        for operator in operators {
            shape
                .take(&operator.map_err(RefusedReason::malformed)?)
                .map_err(RefusedReason::malformed)?;
            within("nested loops", shape.loops, LOOPS_NESTED as u64)?;
            within(
                "nested blocks",
                shape.open.len() as u64,
                BLOCKS_NESTED as u64,
            )?;
            within(
                "values carried along in one function",
                shape.carried,
                CARRIED_PER_FUNCTION,
            )?;
        }
        Ok(shape)
    }

    fn take(&mut self, operator: &Operator<'_>) -> wasmparser::Result<()> {
        match operator {
            Operator::Block { .. } | Operator::TryTable { .. } => self.begin(false, 0),
            Operator::If { .. } => self.begin(false, 1),
            // A loop is entered, and its fuel is checked.
            Operator::Loop { .. } => self.begin(true, 2),
            Operator::End => self.end(),
            Operator::Br { relative_depth }
            | Operator::BrIf { relative_depth }
            | Operator::BrOnNull { relative_depth }
            | Operator::BrOnNonNull { relative_depth }
            | Operator::BrOnCast { relative_depth, .. }
            | Operator::BrOnCastFail { relative_depth, .. } => self.branch(*relative_depth),
            Operator::BrTable { targets } => {
                for target in targets.targets() {
                    self.branch(target?);
                }
                self.branch(targets.default());
            }
            // Each way to leave or trap is a block of its own.
            Operator::Return | Operator::Unreachable => self.branches += 1,
            Operator::LocalSet { local_index } | Operator::LocalTee { local_index } => {
                if let Some(block) = self.open.last_mut() {
                    block.set.insert(*local_index);
                }
            }
            _ => {}
        }
        Ok(())
    }

    fn begin(&mut self, is_loop: bool, branches: u64) {
        self.branches += branches;
        self.loops += u64::from(is_loop);
        self.open.push(Block {
            is_loop,
            branches,
            set: HashSet::new(),
        });
    }

    fn branch(&mut self, relative_depth: u32) {
        self.branches += 1;
        let place = self.open.len().checked_sub(1 + relative_depth as usize);
        if let Some(block) = place.and_then(|place| self.open.get_mut(place)) {
            block.branches += 1;
        }
    }

    fn end(&mut self) {
        let Some(mut block) = self.open.pop() else {
            return;
        };
        self.loops -= u64::from(block.is_loop);
        // What lies behind the function's own end has no use for its locals.
        let Some(outer) = self.open.last_mut() else {
            return;
        };
        let carried = (block.branches + 1).saturating_mul(block.set.len() as u64);
        self.carried = self.carried.saturating_add(carried);
        // The smaller set goes into the larger one.
        if block.set.len() > outer.set.len() {
            std::mem::swap(&mut block.set, &mut outer.set);
        }
        outer.set.extend(block.set);
    }
}
