//! Which stroke is played: weights by situation and by how the ball is met,
//! bent by what the team likes.
//!
//! The weights are ours (the trade's habits as coaches tell them, in numbers
//! that nobody has published).

use rallytide_chart::{Contact, Depth, Stroke, Team};

use super::situation::{Ball, Pace, Situation};
use super::under_way::RallyInPlay;

type Weights = Vec<(Stroke, f64)>;

impl RallyInPlay<'_> {
    /// The stroke that `striker` plays.
    pub(super) fn choose(
        &mut self,
        striker: Team,
        situation: Situation,
        contact: Option<Contact>,
        coming: Option<&Ball>,
    ) -> Stroke {
        let (Some(contact), Some(ball)) = (contact, coming) else {
            return Stroke::Serve;
        };
        let weights = match situation {
            Situation::Serve => return Stroke::Serve,
            Situation::Return => return Stroke::Return,
            Situation::Third => self.third(striker),
            Situation::Sitter => sitter(contact, ball),
            Situation::UnderFire(depth) => under_fire(contact, depth, ball),
            Situation::SoftExchange => self.soft_exchange(striker, contact, ball),
            Situation::OnTheWay => on_the_way(contact, *self.depths.of(striker)),
            Situation::Lobbed => lobbed(contact),
        };
        self.dice.weighted(&weights)
    }

    fn third(&self, striker: Team) -> Weights {
        let side = self.sides.of(striker);
        let [drop, drive, lob] = if self.is_singles() {
            [0.28, 0.65, 0.05]
        } else {
            [0.58, 0.36, 0.04]
        };
        vec![
            (Stroke::Drop, drop),
            (Stroke::Drive, drive * side.drives),
            (Stroke::Lob, lob * side.lobs),
            (Stroke::Other, 0.004),
        ]
    }

    fn soft_exchange(&self, striker: Team, contact: Contact, ball: &Ball) -> Weights {
        let side = self.sides.of(striker);
        let opponents_away = *self.depths.of(striker.other()) != Depth::Line;
        // A wide dink opens the way around the post or to the ball beside the
        // kitchen.
        let wide = if ball.stroke == Stroke::Dink && ball.trouble > 0.25 {
            1.0
        } else {
            0.0
        };
        match contact {
            Contact::Bounce => {
                let attack = if opponents_away {
                    vec![(Stroke::Drive, 0.14)]
                } else {
                    vec![(Stroke::Speedup, 0.10 * side.speedups)]
                };
                let soft = [
                    (Stroke::Dink, 0.82),
                    (Stroke::Lob, 0.03 * side.lobs),
                    (Stroke::Atp, 0.035 * wide),
                ];
                soft.into_iter().chain(attack).collect()
            }
            // A drop taken out of the air is pushed back deep to keep the
            // opponents away.
            Contact::Air if opponents_away => vec![
                (Stroke::Volley, 0.72),
                (Stroke::Dink, 0.25),
                (Stroke::Reset, 0.03),
            ],
            Contact::Air => vec![
                (Stroke::Dink, 0.62),
                (Stroke::Speedup, 0.22 * side.speedups),
                (Stroke::Volley, 0.12),
                (Stroke::Erne, 0.03 + 0.05 * wide),
            ],
            Contact::HalfVolley => vec![(Stroke::Dink, 1.0)],
        }
    }
}

fn sitter(contact: Contact, ball: &Ball) -> Weights {
    match (contact, ball.stroke, ball.pace) {
        (Contact::Air, Stroke::Lob, _) => vec![(Stroke::Overhead, 1.0)],
        (Contact::Air, Stroke::Dink, _) => vec![
            (Stroke::Speedup, 0.78),
            (Stroke::Volley, 0.12),
            (Stroke::Overhead, 0.04),
            (Stroke::Erne, 0.06),
        ],
        (Contact::Air, _, Pace::Soft) => vec![
            (Stroke::Volley, 0.62),
            (Stroke::Overhead, 0.26),
            (Stroke::Dink, 0.06),
            (Stroke::Erne, 0.06),
        ],
        (Contact::Air, ..) => vec![(Stroke::Volley, 0.8), (Stroke::Overhead, 0.2)],
        (_, Stroke::Dink, _) => vec![
            (Stroke::Speedup, 0.72),
            (Stroke::Dink, 0.2),
            (Stroke::Lob, 0.04),
        ],
        _ => vec![
            (Stroke::Drive, 0.75),
            (Stroke::Drop, 0.12),
            (Stroke::Dink, 0.13),
        ],
    }
}

fn under_fire(contact: Contact, depth: Depth, ball: &Ball) -> Weights {
    // The harder the ball, the less is done with it.
    let trouble = ball.trouble;
    match (contact, depth) {
        (Contact::Air, Depth::Line) => vec![
            (Stroke::Volley, 0.62 - 0.25 * trouble),
            (Stroke::Block, 0.22 + 0.2 * trouble),
            (Stroke::Reset, 0.16 + 0.1 * trouble),
        ],
        (Contact::Air, _) => vec![
            (Stroke::Volley, 0.38 - 0.2 * trouble),
            (Stroke::Block, 0.27 + 0.1 * trouble),
            (Stroke::Reset, 0.35 + 0.1 * trouble),
        ],
        (Contact::HalfVolley, Depth::Back) => vec![(Stroke::Reset, 0.4), (Stroke::Drop, 0.6)],
        (Contact::HalfVolley, _) => vec![(Stroke::Reset, 0.8), (Stroke::Dink, 0.2)],
        (Contact::Bounce, Depth::Line) => vec![(Stroke::Dink, 0.6), (Stroke::Reset, 0.4)],
        (Contact::Bounce, Depth::Transition) => vec![
            (Stroke::Drive, 0.36),
            (Stroke::Drop, 0.56),
            (Stroke::Lob, 0.08),
        ],
        (Contact::Bounce, Depth::Back) => vec![
            (Stroke::Drive, 0.38),
            (Stroke::Drop, 0.5),
            (Stroke::Lob, 0.12),
        ],
    }
}

fn on_the_way(contact: Contact, depth: Depth) -> Weights {
    let near = if depth == Depth::Transition { 1.0 } else { 0.2 };
    match contact {
        Contact::Bounce => vec![
            (Stroke::Drop, 0.5),
            (Stroke::Drive, 0.2),
            (Stroke::Dink, 0.27 * near),
            (Stroke::Lob, 0.04),
        ],
        Contact::HalfVolley => vec![
            (Stroke::Drop, 0.45),
            (Stroke::Reset, 0.3),
            (Stroke::Dink, 0.25 * near),
        ],
        Contact::Air => vec![
            (Stroke::Volley, 0.35),
            (Stroke::Drop, 0.35),
            (Stroke::Reset, 0.3),
        ],
    }
}

fn lobbed(contact: Contact) -> Weights {
    match contact {
        Contact::Air => vec![(Stroke::Overhead, 0.9), (Stroke::Volley, 0.1)],
        _ => vec![
            (Stroke::Drop, 0.45),
            (Stroke::Drive, 0.22),
            (Stroke::Lob, 0.33),
        ],
    }
}
