"""Truefall beside numpy and scipy: the same inputs, two answers, a stated tolerance.

Run by `cargo verify peers`, which names the program in TRUEFALL. Each check draws its own inputs from a fixed seed and
computes the answer by another way than Truefall does; `--long` draws many more, a name runs that check alone. The last
line counts the comparisons.
"""

import sys
from time import monotonic

import numpy as np

import floors
import framing
import levels
import planes
import refusals
import straightedges
import water
from ask import compared, counts, operations, told

ROUNDS = 200 if "--long" in sys.argv else 8
SLOW = {"straightedge_surface": 0.25, "noise_alone": 0.25} | {check.__name__: 0 for check in refusals.CHECKS}
PARTS = (planes, levels, straightedges, framing, floors, water, refusals)


def main():
    names = [word for word in sys.argv[1:] if not word.startswith("--")]
    for check in (check for part in PARTS for check in part.CHECKS):
        if names and check.__name__ not in names:
            continue
        start, failed = monotonic(), counts["failed"]
        for round_ in range(max(1, int(ROUNDS * SLOW.get(check.__name__, 1)))):
            check(np.random.default_rng([round_, len(check.__name__)]))
        print(f"{check.__name__}: {counts['failed'] - failed} failed, {monotonic() - start:.1f} s")
    if not names:
        for name in sorted(operations() - compared):
            told(False, f"{name} is computed in no other way: put a check of it into a file of tests/peers and its CHECKS")
    print(f"{counts['passed']} passed, {counts['failed']} failed")
    sys.exit(1 if counts["failed"] else 0)


main()
