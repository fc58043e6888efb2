"""The built plugin, run by the program over a chart made for it.

`RALLYTIDE` names the program; otherwise it is the one of this checkout.
"""

import json
import os
import subprocess
import unittest
from pathlib import Path

HERE = Path(__file__).parent
RALLYTIDE = os.environ.get("RALLYTIDE", HERE / "../../../target/debug/rallytide")


def longest() -> dict[str, list]:
    """The longest exchange after each entry, by entry."""
    command = [RALLYTIDE, "plugin", "try", HERE / "dinks.wasm", HERE / "../dinks.jsonl", "--each"]
    ran = subprocess.run(command, capture_output=True, text=True, check=False)
    if ran.returncode != 0:
        raise AssertionError(f"the plugin did not run: {ran.stderr}")
    lines = [json.loads(line) for line in ran.stdout.splitlines()]
    return {line["entry"]: [it["value"] for it in line["readings"]] for line in lines}


class LongestExchange(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.after = longest()

    def check(self, entry: str, n: int):
        self.assertEqual(self.after[entry], [{"type": "count", "n": n}])

    def test_an_exchange_counts_when_its_rally_has_ended(self):
        self.check("e7", 0)
        self.check("e8", 3)

    def test_a_replayed_rally_and_a_missed_shot_make_no_long_exchange(self):
        self.check("e17", 3)
        self.check("e25", 3)

    def test_a_longer_exchange_takes_the_place_of_the_longest(self):
        self.check(list(self.after)[-1], 4)


if __name__ == "__main__":
    unittest.main()
