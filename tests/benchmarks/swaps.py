"""The swaps of a kit of forty items with its gear file and a float check, and the sets that no other set beats.

The first round finds nothing remembered from an earlier one; the later ones show how often an item stays as it was.
"""

import statistics
import tempfile
import time
from pathlib import Path

from kitbuilder.kit.file_kinds import GEAR_FILE
from kitbuilder.kit.resolved import ResolvedKit, resolve
from kitbuilder.kitfile.read import read
from kitbuilder.plans.swaps.swaps import Swaps, plan_swaps
from tests.benchmarks.assess import CONFIGS, ITEMS, forty_items

ROUNDS, AIM_S = 5, 1.0


def time_swaps(kit: ResolvedKit) -> tuple[float, float, Swaps]:
    """Seconds to plan by the clock and of the processor, and the plan."""
    start, worked = time.perf_counter(), time.process_time()
    found = plan_swaps(kit)
    return time.perf_counter() - start, time.process_time() - worked, found


def main() -> None:
    """Take the rounds and print the first and the median."""
    with tempfile.TemporaryDirectory() as folder:
        kit, beside, _ = forty_items(Path(folder))
    gear = read(CONFIGS / "gear.toml", GEAR_FILE).gear
    beside = beside._replace(gear=gear, gear_problems=())
    rounds = [time_swaps(resolve(kit, beside)) for _ in range(ROUNDS)]
    found = rounds[0][2]
    print(f"swaps, {ITEMS} items, {len(found.swaps)} swaps and {len(found.sets)} sets of {found.front.found}")
    for what, times in zip(("clock", "processor"), zip(*rounds, strict=True), strict=False):
        print(f"  by the {what}: first {times[0]:.2f} s, median {statistics.median(times):.2f} s; ", end="")
        print(f"aim below {AIM_S:.0f} s")


if __name__ == "__main__":
    main()
