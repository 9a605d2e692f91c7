"""Eighty items into four bags for three legs, packed and proved; and the same once more after one item was moved.

Masses, spreads, shared sources, places and options are drawn at random, the same ones each time. The share is how much
of what the limits allow the items weigh. At 102 % nothing fits as it is: then what to leave or rent is found as well,
or, where the first leg sells kilograms, what to pay. It is counted how often the best was proved in the time allowed;
where it was not, how much more stays behind than the bound says. Last, 300 items and 12 bags, just enough.

Each line has the time on the clock and that of the processor, which differ where a machine is busy.
"""

import statistics
import time
from random import Random
from typing import NamedTuple

from kitbuilder.assess.figures import Figure
from kitbuilder.plans.packing.packing import Packing, pack
from kitbuilder.plans.packing.records import CABIN, HOLD, IN_BAGS, LEAVE, RENT, Bag, Leg, Option, PackingTask, PackItem

ITEMS, ROUNDS, LIMIT_S = 80, 10, 3.0
AIM_S, FRAME_MS = 1.0, 33
ALLOWED_KG = 2 * 23.0 + 2 * 8.0
OWN_KG = {HOLD: 3.0, CABIN: 1.0}
LEGS = (
    Leg("first", hold_piece_kg=23, handling_kg=32, cabin_piece_kg=10),
    Leg("second", hold_piece_kg=25, hold_total_kg=46, cabin_piece_kg=8),
    Leg("third", hold_piece_kg=30, cabin_piece_kg=12, total_kg=62),
)


def draw_task(random: Random, share: float, price: float | None = None) -> PackingTask:
    """Items that weigh, with the bags, a share of what the limits allow; the first leg may sell kilograms."""
    places = (HOLD, HOLD, CABIN, CABIN)
    bags = tuple(_bag(number, place) for number, place in enumerate(places))
    parts = [random.uniform(0.02, 1.5) for _ in range(ITEMS)]
    legs = (LEGS[0]._replace(price_per_kilogram=price), *LEGS[1:])
    scale = (ALLOWED_KG * share - sum(OWN_KG[place] for place in places)) / sum(parts)
    return PackingTask(tuple(_item(random, n, part * scale) for n, part in enumerate(parts)), bags, legs)


def _bag(number: int, place: str) -> Bag:
    return Bag(
        f"bag {number}", place, Figure(OWN_KG[place], {f"bag {number}": 0.1}, ""), 0.1 if place == HOLD else 0.04
    )


def _item(random: Random, number: int, mass_kg: float) -> PackItem:
    components = {f"item {number}": mass_kg * random.uniform(0.0, 0.1)}
    if random.random() < 0.4:
        components[f"source {random.randrange(4)}"] = mass_kg * random.uniform(0.0, 0.1)
    may_go = random.choice([IN_BAGS] * 6 + [frozenset([CABIN])] + [frozenset([HOLD])] * 3)
    options = (Option(random.choice([LEAVE, RENT]), random.choice([None, 5.0, 10.0, 20.0])),)
    return PackItem(
        f"item {number}",
        Figure(mass_kg, components, ""),
        volume_m3=mass_kg / 500,
        may_go=may_go,
        options=options if random.random() < 0.3 else (),
    )


class Round(NamedTuple):
    """One packing, and how long it took."""

    clock_s: float
    processor_s: float
    found: Packing


def time_packing(task: PackingTask, earlier: Packing | None = None, limit_s: float = LIMIT_S) -> Round:
    """Pack a task."""
    clock, processor = time.perf_counter(), time.process_time()
    found = pack(task, earlier, time_limit_s=limit_s)
    return Round(time.perf_counter() - clock, time.process_time() - processor, found)


def draw_many(random: Random) -> PackingTask:
    """Three hundred items and twelve bags, which are just enough."""
    bags = tuple(_bag(number, HOLD if number < 8 else CABIN) for number in range(12))
    masses = [random.uniform(0.05, 1.0) for _ in range(300)]
    scale = 0.97 * (8 * 20.0 + 4 * 7.0) / sum(masses)
    return PackingTask(tuple(_item(random, n, mass * scale) for n, mass in enumerate(masses)), bags, LEGS[:1])


def move_one(random: Random, packing: Packing) -> PackingTask:
    """The same items, one that may go anywhere pinned to another bag."""
    task = packing.task
    free = [placed for placed in packing.placed if placed.item.places == IN_BAGS and placed.placement.bag]
    moved = random.choice(free)
    there = random.choice([bag.tag for bag in task.bags if bag.tag != moved.placement.bag])
    items = tuple(item._replace(pinned=there) if item == moved.item else item for item in task.items)
    return task._replace(items=items)


def report(what: str, rounds: list[Round]) -> None:
    """Print one line."""
    times = [each.clock_s for each in rounds]
    processor = statistics.median(each.processor_s for each in rounds)
    proved = [each.found.proof.is_proved for each in rounds]
    print(f"{what}: median {statistics.median(times):.2f} s (min {min(times):.2f}, max {max(times):.2f}", end="")
    print(f"; processor {processor:.2f} s); {sum(proved)} of {len(rounds)} proved; aim below {AIM_S:.0f} s")
    gaps = [_gap_kg(each.found) for each in rounds if not each.found.proof.is_proved]
    if gaps:
        cheapest = sum(each.found.proof.price_at_least >= each.found.price for each in rounds)
        print(f"    above the bound: median {statistics.median(gaps):.2f} kg (max {max(gaps):.2f})", end="")
        print(f"; the price proved {cheapest} of {len(rounds)}")


def _gap_kg(found: Packing) -> float:
    """How much more stays behind than in any packing."""
    return found.away_kg - found.proof.away_at_least_kg


def main() -> None:
    """Take the rounds for each share and print medians."""
    random = Random(1)
    pack(draw_task(random, 0.5))  # loads the solver
    print(f"packing, {ITEMS} items, 4 bags, {len(LEGS)} legs, time limit {LIMIT_S:.0f} s")
    for share in (0.5, 0.8, 0.95, 1.02):
        rounds = [time_packing(draw_task(random, share)) for _ in range(ROUNDS)]
        report(f"  {share:.0%} of the limits", rounds)
        moved = [(move_one(random, each.found), each.found) for each in rounds]
        report("    one item moved", [time_packing(*each) for each in moved])
        at_once = [time_packing(*each, limit_s=0.0).clock_s for each in moved]
        print(f"    shown at once: median {statistics.median(at_once) * 1e3:.0f} ms; aim below {FRAME_MS} ms")
    report("  102% and kilograms to buy", [time_packing(draw_task(random, 1.02, 4.0)) for _ in range(ROUNDS)])
    report("  300 items, 12 bags", [time_packing(draw_many(random)) for _ in range(3)])


if __name__ == "__main__":
    main()
