//! How a rally ends: by whom, with what.

use rallytide_chart::{Contact, Depth, FaultKind, How, Stroke, Team};

use super::under_way::{PlayedShot, RallyInPlay};

/// The end of a rally, as an umpire with perfect eyes would tell it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Ending {
    pub(crate) how: How,
    pub(crate) by: Team,
    pub(crate) player: u32,
    pub(crate) fault: Option<FaultKind>,
}

impl Ending {
    /// Who won the rally.
    pub(crate) fn winner(self) -> Team {
        match self.how {
            How::Winner | How::Ace => self.by,
            _ => self.by.other(),
        }
    }
}

impl RallyInPlay<'_> {
    /// `shot` was the striker's mistake.
    pub(super) fn error(&mut self, shot: &PlayedShot) -> Ending {
        let at_the_line = *self.depths.of(shot.team) == Depth::Line;
        let volleyed = shot.contact == Some(Contact::Air);
        // Weights of net, out, fault.
        let [net, out, fault] = match shot.stroke {
            Stroke::Serve => [0.3, 0.6, 0.1],
            Stroke::Drop | Stroke::Dink | Stroke::Reset => [0.72, 0.26, 0.02],
            Stroke::Lob => [0.02, 0.98, 0.0],
            _ if at_the_line && volleyed => [0.42, 0.48, 0.1],
            _ => [0.45, 0.54, 0.01],
        };
        let how = self
            .dice
            .weighted(&[(How::Net, net), (How::Out, out), (How::Fault, fault)]);
        let fault = (how == How::Fault).then(|| match shot.stroke {
            Stroke::Serve => FaultKind::Serve,
            _ if at_the_line && volleyed => self
                .dice
                .weighted(&[(FaultKind::Kitchen, 0.85), (FaultKind::NetTouch, 0.15)]),
            _ => FaultKind::Other,
        });
        Ending {
            how,
            by: shot.team,
            player: shot.player,
            fault,
        }
    }

    /// Nobody got `shot` back.
    pub(super) fn winner(&mut self, shot: &PlayedShot) -> Ending {
        let body = match shot.stroke {
            Stroke::Volley | Stroke::Speedup | Stroke::Overhead => 0.12,
            _ => 0.0,
        };
        if self.dice.chance(body) {
            let struck = if self.is_singles() {
                0
            } else {
                self.dice.one_of(&[0, 1])
            };
            return Ending {
                how: How::Fault,
                by: shot.team.other(),
                player: struck,
                fault: Some(FaultKind::Body),
            };
        }
        Ending {
            how: match shot.stroke {
                Stroke::Serve => How::Ace,
                _ => How::Winner,
            },
            by: shot.team,
            player: shot.player,
            fault: None,
        }
    }
}
