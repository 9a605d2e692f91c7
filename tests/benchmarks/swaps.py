"""The swaps of a kit of forty items with its gear file and a float check, and the sets that no other set beats.

The first round finds nothing remembered from an earlier one; the later ones show how often an item stays as it was.
"""

import statistics
import tempfile
import time
from pathlib import Path

from kitbuilder.kit.resolved import ResolvedKit, resolve
from kitbuilder.plans.swaps.swaps import Swaps, plan_swaps
from tests.benchmarks.assess import ITEMS, forty_items

ROUNDS, AIM_S = 5, 1.0


def time_swaps(kit: ResolvedKit) -> tuple[float, Swaps]:
    """Seconds to plan, and the plan."""
    start = time.perf_counter()
    found = plan_swaps(kit)
    return time.perf_counter() - start, found


def main() -> None:
    """Take the rounds and print the first and the median."""
    with tempfile.TemporaryDirectory() as folder:
        kit, beside, _ = forty_items(Path(folder))
    rounds = [time_swaps(resolve(kit, beside)) for _ in range(ROUNDS)]
    times, found = [seconds for seconds, _ in rounds], rounds[0][1]
    print(f"swaps, {ITEMS} items, {len(found.swaps)} swaps and {len(found.sets)} sets of {found.front.found}: ", end="")
    print(f"first {times[0]:.2f} s, median {statistics.median(times):.2f} s; aim below {AIM_S:.0f} s")


if __name__ == "__main__":
    main()
