//! How long things take.
//!
//! Published figures that the sum of these times is tuned to (checked in
//! `tests/statistics.rs`):
//! - activity profile of men's professional doubles (8 matches, 6,839 shots; read
//!   in its abstract): 14.0 min of ball in play a match, so about 1.0 shot per
//!   second over playing time (our division); 67.4 % of points last 3–9 s, 84.3 %
//!   of rests 9–15 s, 60.5 % of rallies have 3–10 shots;
//! - elite mixed doubles, Sports 2025, 13(11):397 (17 matches; abstract): rally
//!   10.6 s and gap 11.4 s on average.
//!
//! The times of single strokes are in no source. They are ours, from the court's
//! size: two teams at their kitchen lines are 14 ft (4.27 m) apart, so a ball at
//! 13–18 m/s crosses in 0.25–0.35 s, and a hands battle runs at 3–4 shots a
//! second; softer and longer flights in proportion.

use rallytide_chart::{Contact, Depth, How, Stroke};

use super::ending::Ending;
use super::situation::{Ball, Pace};
use super::under_way::RallyInPlay;

impl RallyInPlay<'_> {
    /// From the last shot to the coming one, in milliseconds.
    pub(super) fn flight(&mut self, coming: Option<&Ball>, contact: Option<Contact>) -> i64 {
        let (Some(ball), Some(contact)) = (coming, contact) else {
            return 0;
        };
        let air = contact == Contact::Air;
        let (mean, spread) = match (ball.stroke, ball.pace) {
            (Stroke::Serve, _) => (1150.0, 200.0),
            (Stroke::Return, _) => (1350.0, 300.0),
            (Stroke::Drop, _) if air => (1050.0, 180.0),
            (Stroke::Drop, _) => (1400.0, 220.0),
            (Stroke::Drive, _) if air => (680.0, 140.0),
            (Stroke::Drive, _) => (1000.0, 200.0),
            (Stroke::Lob, _) if air => (1750.0, 300.0),
            (Stroke::Lob, _) => (2350.0, 350.0),
            (Stroke::Dink, _) if air => (760.0, 150.0),
            (Stroke::Dink, _) => (1030.0, 220.0),
            (_, Pace::Fast) if air && self.both_close() => (290.0, 60.0),
            (_, Pace::Fast) if air => (370.0, 80.0),
            (_, Pace::Fast) => (820.0, 200.0),
            _ if air => (640.0, 140.0),
            _ => (980.0, 200.0),
        };
        self.dice.milliseconds(mean, spread)
    }

    fn both_close(&self) -> bool {
        self.depths.a == Depth::Line && self.depths.b == Depth::Line
    }

    /// From the last shot until the ball is dead, in milliseconds.
    pub(super) fn dead_after(&mut self, ending: Ending) -> i64 {
        let (mean, spread) = match ending.how {
            How::Net => (450.0, 150.0),
            How::Fault => (350.0, 150.0),
            How::Out => (950.0, 250.0),
            _ => (1100.0, 300.0),
        };
        self.dice.milliseconds(mean, spread)
    }
}
