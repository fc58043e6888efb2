//! What a striker faces: the ball that comes, from where it has to be played,
//! and how it is met.

use rallytide_chart::{Contact, Depth, Stroke, Team};

use super::under_way::RallyInPlay;

/// How fast a ball comes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Pace {
    /// Soft, dropping into the kitchen.
    Soft,
    /// Neither soft nor an attack: a return, a block, a punch from a low ball.
    Firm,
    /// An attack.
    Fast,
    /// High and over the opponents.
    Lofted,
}

/// A ball on its way to the other side.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ball {
    pub(super) stroke: Stroke,
    pub(super) pace: Pace,
    /// It begs to be attacked.
    pub(super) sits_up: bool,
    /// It touched the net and went over.
    pub(super) touched_net: bool,
    /// How much it stretches or jams whoever has to play it, 0 to 1.
    pub(super) trouble: f64,
}

/// What kind of decision the striker has to take.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Situation {
    Serve,
    Return,
    Third,
    /// A ball that sits up, within reach of the line.
    Sitter,
    /// An attack or a firm ball; with where it is met.
    UnderFire(Depth),
    /// A soft ball, at the line.
    SoftExchange,
    /// A soft ball in front of a team that is not yet at the line.
    OnTheWay,
    /// A lob.
    Lobbed,
}

impl Situation {
    pub(super) fn new(number: usize, coming: Option<&Ball>, depth: Depth) -> Self {
        match (number, coming) {
            (2, _) => Self::Return,
            (3, _) => Self::Third,
            (_, None) => Self::Serve,
            (_, Some(ball)) if ball.sits_up && depth != Depth::Back => Self::Sitter,
            (_, Some(ball)) => match ball.pace {
                Pace::Lofted => Self::Lobbed,
                Pace::Fast | Pace::Firm => Self::UnderFire(depth),
                Pace::Soft if depth == Depth::Line => Self::SoftExchange,
                Pace::Soft => Self::OnTheWay,
            },
        }
    }
}

impl RallyInPlay<'_> {
    /// How the ball is met; `None` for the serve.
    pub(super) fn meet(&mut self, situation: Situation, coming: Option<&Ball>) -> Option<Contact> {
        let stroke = coming?.stroke;
        // Weights of bounce, air, half volley.
        let [bounce, air, half] = match situation {
            Situation::Serve => return None,
            // The two-bounce rule.
            Situation::Return | Situation::Third => [1.0, 0.0, 0.0],
            Situation::Sitter if stroke == Stroke::Lob => [0.05, 0.95, 0.0],
            Situation::Sitter if stroke == Stroke::Dink => [0.45, 0.55, 0.0],
            Situation::Sitter => [0.15, 0.85, 0.0],
            Situation::UnderFire(Depth::Line) => [0.02, 0.94, 0.04],
            Situation::UnderFire(Depth::Transition) => [0.15, 0.6, 0.25],
            Situation::UnderFire(Depth::Back) => [0.75, 0.12, 0.13],
            Situation::SoftExchange if stroke == Stroke::Drop => [0.5, 0.47, 0.03],
            Situation::SoftExchange => [0.72, 0.25, 0.03],
            Situation::OnTheWay => [0.68, 0.14, 0.18],
            Situation::Lobbed => [0.55, 0.45, 0.0],
        };
        Some(self.dice.weighted(&[
            (Contact::Bounce, bounce),
            (Contact::Air, air),
            (Contact::HalfVolley, half),
        ]))
    }

    /// How hard it is to play the ball well, 0 to about 1.
    pub(super) fn pressure(
        &self,
        striker: Team,
        situation: Situation,
        contact: Option<Contact>,
        coming: Option<&Ball>,
    ) -> f64 {
        let Some(ball) = coming else { return 0.1 };
        let stand = match (situation, self.depths.of(striker)) {
            (Situation::Return | Situation::Third | Situation::Sitter, _) | (_, Depth::Line) => 0.0,
            (_, Depth::Transition) => 0.15,
            (_, Depth::Back) => 0.05,
        };
        let at_the_feet = if contact == Some(Contact::HalfVolley) {
            0.15
        } else {
            0.0
        };
        (ball.trouble + stand + at_the_feet).min(1.0)
    }
}
