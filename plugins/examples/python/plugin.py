"""The longest dink exchange of the match: how many dinks in a row, of both teams together.

A rally counts when it has ended; a replayed one is forgotten. A shot that was missed ends the
exchange, for nobody saw what it was.
"""

from wit_world import exports
from wit_world.imports.types import (
    Change,
    Change_Set,
    Key,
    Manifest,
    Moment,
    Opening,
    Play_RallyEnd,
    Play_Replay,
    Play_Shot,
    PlayKind,
    Reading,
    Shot,
    Stroke,
    Value_Count,
)

INDICATOR = "dinks.longest"


class Guest(exports.Guest):
    """One match: the host makes a fresh instance for every match and after every correction."""

    def describe(self) -> Manifest:
        return Manifest(
            id="dinks-python",
            version="0.1.0",
            about="Remembers the longest dink exchange of the match.",
            provides=[INDICATOR],
            reads=[],
            called_for=[PlayKind.SHOT, PlayKind.RALLY_END, PlayKind.REPLAY],
            settings=[],
        )

    def start(self, opening: Opening) -> list[Change]:
        global exchange
        exchange = Exchange()
        return [published(0)]

    def step(self, moment: Moment) -> list[Change]:
        match moment.entry.play:
            case Play_Shot(shot):
                exchange.shot(shot)
            case Play_Replay():
                exchange.forget_rally()
            case Play_RallyEnd():
                if exchange.end_rally():
                    return [published(exchange.longest)]
        return []


class Exchange:
    """What is counted, knowing nothing of readings."""

    def __init__(self) -> None:
        self.now = self.in_rally = self.longest = 0

    def shot(self, shot: Shot) -> None:
        if shot.missed_before:
            self.now = 0
        self.now = self.now + 1 if shot.stroke == Stroke.DINK else 0
        self.in_rally = max(self.in_rally, self.now)

    def end_rally(self) -> bool:
        """Whether the rally that ends here holds the longest exchange so far."""
        longer = self.in_rally > self.longest
        self.longest = max(self.longest, self.in_rally)
        self.forget_rally()
        return longer

    def forget_rally(self) -> None:
        self.now = self.in_rally = 0


# The methods above belong to no object that lasts between calls; the module does.
exchange = Exchange()


def published(n: int) -> Change:
    key = Key(indicator=INDICATOR, team=None, player=None, slot=None)
    return Change_Set(Reading(key=key, value=Value_Count(n), remarks=None))
