//! A charter's slips: which keys go wrong in a rally, and how they are mended.
//!
//! How often they happen is ours. At most one slip of a shot or cue in a rally
//! and one of its end; the serve is never missed and never mistaken.

use rallytide_chart::{Cue, How};

use super::SimulatedCharter;
use super::drafts::{Draft, DraftContent, Mark, mistaken_for};
use crate::rally::Ending;

#[derive(Debug, Clone, Copy)]
enum Slip {
    None,
    WrongStroke,
    Missed,
    HitTwice,
    UndoneAndRedone,
    WrongCue,
}

const SLIPS_OF_A_SHOT: &[(Slip, f64)] = &[
    (Slip::WrongStroke, 0.010),
    (Slip::Missed, 0.008),
    (Slip::HitTwice, 0.003),
    (Slip::UndoneAndRedone, 0.0015),
    (Slip::None, 0.9775),
];

const SLIPS_OF_A_CUE: &[(Slip, f64)] = &[(Slip::WrongCue, 0.015), (Slip::None, 0.985)];

impl SimulatedCharter {
    /// Puts a slip and its correction among the drafts of a rally whose end is
    /// typed at `ended`.
    pub(super) fn slip(&mut self, ended: i64, drafts: &mut Vec<Draft>) {
        for index in 0..drafts.len() {
            let slips = match drafts[index].what {
                DraftContent::Shot { place, .. } if place > 0 => SLIPS_OF_A_SHOT,
                DraftContent::Cue { .. } => SLIPS_OF_A_CUE,
                _ => continue,
            };
            let slip = self.dice.weighted(slips);
            if !matches!(slip, Slip::None) {
                self.make_slip(slip, index, ended, drafts);
                return;
            }
        }
    }

    /// The end of a rally as it is typed at `ended`, wrong and mended or right.
    /// The charter never errs about the rally that may decide the match.
    pub(super) fn slip_of_the_end(
        &mut self,
        ended: i64,
        ending: Ending,
        player: Option<u32>,
        decides: bool,
    ) -> Vec<Draft> {
        let wrong_winner = self.dice.chance(0.013) && !decides;
        let wrong_how = match ending.how {
            How::Net => Some(How::Out),
            How::Out => Some(How::Net),
            _ => None,
        };
        let end = |at, ending, player| Draft {
            at,
            what: DraftContent::End { ending, player },
        };
        if wrong_winner {
            let noticed = ended + self.in_the_pause(1_900.0, 800.0);
            let again = noticed + self.in_the_pause(900.0, 300.0);
            let wrong = Ending {
                by: ending.by.other(),
                ..ending
            };
            let take_back = Draft {
                at: noticed,
                what: DraftContent::TakeBack(Mark::End),
            };
            return vec![
                end(ended, wrong, None),
                take_back,
                end(again, ending, player),
            ];
        }
        match wrong_how.filter(|_| self.dice.chance(0.03)) {
            Some(how) => {
                let mend = Draft {
                    at: ended + self.in_the_pause(2_600.0, 1_200.0),
                    what: DraftContent::MendEnd { ending },
                };
                vec![end(ended, Ending { how, ..ending }, player), mend]
            }
            None => vec![end(ended, ending, player)],
        }
    }

    fn make_slip(&mut self, slip: Slip, index: usize, ended: i64, drafts: &mut Vec<Draft>) {
        let typed = drafts[index].at;
        match drafts[index].what {
            DraftContent::Shot { place, mut shot } => match slip {
                Slip::WrongStroke => {
                    if let Some(stroke) = mistaken_for(shot.stroke) {
                        let at = self.mend_time(typed, ended);
                        let what = DraftContent::MendShot { place, shot };
                        drafts.push(Draft { at, what });
                        shot.stroke = stroke;
                        drafts[index].what = DraftContent::Shot { place, shot };
                    }
                }
                Slip::Missed => self.miss(place, ended, drafts),
                Slip::HitTwice => {
                    let at = (typed + self.reaction(110.0, 30.0)).min(ended - 1);
                    let noticed = at + self.reaction(900.0, 400.0);
                    let what = DraftContent::Again { shot };
                    drafts.push(Draft { at, what });
                    let what = DraftContent::TakeBack(Mark::Again);
                    drafts.push(Draft { at: noticed, what });
                }
                _ => {
                    let at = typed + self.reaction(500.0, 200.0);
                    let noticed = at + self.reaction(700.0, 200.0);
                    let what = DraftContent::TakeBack(Mark::Shot(place));
                    drafts.push(Draft { at, what });
                    let what = DraftContent::Redo;
                    drafts.push(Draft { at: noticed, what });
                }
            },
            DraftContent::Cue { place, cue } => {
                let wrong = match cue {
                    Cue::OffBalance => Cue::Awkward,
                    Cue::Awkward | Cue::Attackable => Cue::OffBalance,
                    Cue::NetCord => Cue::Attackable,
                };
                drafts[index].what = DraftContent::Cue { place, cue: wrong };
                let at = typed + self.reaction(800.0, 300.0);
                let again = at + self.reaction(350.0, 100.0);
                let what = DraftContent::TakeBack(Mark::Cue(place, wrong));
                drafts.push(Draft { at, what });
                let what = DraftContent::Cue { place, cue };
                drafts.push(Draft {
                    at: again.min(ended - 1),
                    what,
                });
            }
            _ => {}
        }
    }

    /// The shot at `place` is not typed, nor are its cues. Most missed shots are
    /// put in after the rally, some never.
    fn miss(&mut self, place: usize, ended: i64, drafts: &mut Vec<Draft>) {
        let noticed = self.dice.chance(0.7);
        let at = ended + self.in_the_pause(3_200.0, 1_500.0);
        let missed = drafts.iter().find_map(|draft| match draft.what {
            DraftContent::Shot { place: here, shot } if here == place => Some(shot),
            _ => None,
        });
        drafts.retain(|draft| match draft.what {
            DraftContent::Shot { place: here, .. } | DraftContent::Cue { place: here, .. } => {
                here != place
            }
            _ => true,
        });
        if let Some(shot) = missed.filter(|_| noticed) {
            let what = DraftContent::PutIn { place, shot };
            drafts.push(Draft { at, what });
        }
    }

    /// Soon after the slip, or in the pause after the rally.
    fn mend_time(&mut self, typed: i64, ended: i64) -> i64 {
        let soon = typed + self.reaction(2_200.0, 900.0);
        let later = ended + self.in_the_pause(3_200.0, 1_500.0);
        let at_once = self.dice.chance(0.45);
        if at_once && soon < ended { soon } else { later }
    }

    /// A time for thinking and typing after the rally.
    fn in_the_pause(&mut self, mean: f64, spread: f64) -> i64 {
        let delay = self.dice.milliseconds(mean, spread);
        self.tempo.of_pauses(delay)
    }
}
