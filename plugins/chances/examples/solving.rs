//! What solving a game anew costs, as is done after every rally, beside finding the
//! same chances by going over all states until nothing moves.
//!
//! `cargo run --release -p rallytide-chances --example solving`. Medians of many
//! passes in one run; numbers of other machines are other numbers.

use std::hint::black_box;
use std::time::Instant;

use rallytide_chances::format::{GameFormat, GameState, Lead, Next, Service};
use rallytide_chances::game::GameChances;
use rallytide_plugin_kit::{PerTeam, Team};

const PASSES: usize = 101;
const SERVE: PerTeam<f64> = PerTeam { a: 0.45, b: 0.40 };
/// How little a chance moves in a pass when the iteration stops.
const STILL: f64 = 1e-12;
/// Points of a game above which iteration takes too long to wait for.
const MOST_ITERATED: u32 = 21;

/// The median of `passes` passes, in microseconds.
fn median(passes: usize, mut pass: impl FnMut()) -> f64 {
    let mut times: Vec<f64> = (0..passes)
        .map(|_| {
            let start = Instant::now();
            pass();
            start.elapsed().as_secs_f64() * 1e6
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times[passes / 2]
}

/// The chance at the start of the game by iteration, from nothing.
fn iterated(format: GameFormat) -> f64 {
    // From one short on both sides only the difference matters: points beyond are
    // taken off both, so that the states are finite.
    let width = format.points + 2;
    let reduced = |state: GameState| {
        let spare = state.a.min(state.b).saturating_sub(format.points - 1);
        GameState {
            a: state.a - spare,
            b: state.b - spare,
            ..state
        }
    };
    let place = |state: GameState| {
        let serving = usize::from(state.serving == Team::B) * 2 + usize::from(state.second);
        ((state.a * width + state.b) * 4) as usize + serving
    };
    let mut chances = vec![0.0; (width * width * 4) as usize];
    loop {
        let mut moved: f64 = 0.0;
        for a in (0..width).rev() {
            for b in (0..width).rev() {
                for (serving, second) in [Team::A, Team::B]
                    .into_iter()
                    .flat_map(|team| [(team, false), (team, true)])
                {
                    let state = GameState {
                        a,
                        b,
                        serving,
                        second,
                    };
                    let after = |winner| match format.next(state, winner) {
                        Next::Won(team) => f64::from(u8::from(team == Team::A)),
                        Next::Goes(state) => chances[place(reduced(state))],
                    };
                    let wins = SERVE[serving];
                    let chance = wins * after(serving) + (1.0 - wins) * after(serving.other());
                    moved = moved.max((chance - chances[place(state)]).abs());
                    chances[place(state)] = chance;
                }
            }
        }
        if moved < STILL {
            return chances[place(format.start(Team::A))];
        }
    }
}

fn main() {
    println!("service      points   solved (µs)   iterated (µs)   apart");
    for service in [
        Service::TwoServers,
        Service::OneServer,
        Service::EveryRally,
        Service::ServedOut,
    ] {
        for points in [11, 15, 21, 99] {
            let format = GameFormat {
                points,
                lead: Lead::Two,
                service,
            };
            let solved = median(PASSES, || {
                black_box(GameChances::solve(black_box(format), black_box(SERVE)));
            });
            let service = format!("{service:?}");
            if points > MOST_ITERATED {
                println!("{service:<12} {points:>6} {solved:>13.1}");
                continue;
            }
            let slow = median(3, || {
                black_box(iterated(black_box(format)));
            });
            let exact = GameChances::solve(format, SERVE).of(format.start(Team::A));
            let apart = (exact - iterated(format)).abs();
            println!("{service:<12} {points:>6} {solved:>13.1} {slow:>15.1}   {apart:.0e}");
            assert!(apart < 1e-9, "{format:?}: the two ways differ by {apart}");
        }
    }
}
