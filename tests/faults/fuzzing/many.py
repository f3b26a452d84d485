"""Try one room with very many spoiled inputs: python -m tests.faults.fuzzing.many ROOM FIRST COUNT [--seconds S].

Every answer is looked at (finite numbers; what a glance shows), the second way goes along with one of as many as the
room says. After every thousand a line is written: to go on, begin with the seed that the last line names. Two runs
with the same seeds try the same. Exit 1 where something was found.
"""

from __future__ import annotations

import argparse
import json
import sys
import time
from collections import Counter

from tests.faults.fuzzing.rooms import ROOMS
from tests.faults.fuzzing.test_fuzzing import tried

BLOCK = 1000


def main() -> int:
    """Try block after block, and tell."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("room", choices=sorted(ROOMS))
    asked.add_argument("first", type=int, help="the first seed")
    asked.add_argument("count", type=int)
    asked.add_argument("--seconds", type=float, default=float("inf"), help="of a core, at most")
    given = asked.parse_args()
    started, counted, faults, seed = time.process_time(), Counter[str](), 0, given.first
    one_of = ROOMS[given.room].one_of
    while seed < given.first + given.count and time.process_time() - started < given.seconds:
        seeds = range(seed, min(seed + BLOCK, given.first + given.count))
        some, found = tried(given.room, seeds, one_of)
        counted, faults, seed = counted + some, faults + len(found), seeds.stop
        for each in found:
            print(given.room, each, flush=True)
        spent = time.process_time() - started
        told = {"room": given.room, "next": seed, **counted, "faults": faults, "one of": one_of, "s": round(spent, 1)}
        print(json.dumps(told), flush=True)
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
