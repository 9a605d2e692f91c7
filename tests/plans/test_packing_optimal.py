"""The packing that is found against the best of all, tried one by one."""

import random

import pytest

from kitbuilder.plans.packing.model import FULL, LARGEST, OF_CHOICES, UNEVEN, Model
from kitbuilder.plans.packing.packing import pack
from kitbuilder.plans.packing.programme import solve
from tests.laws import is_thorough
from tests.plans.packing_cases import best_by_trying, drawn_task

CASES = 2000 if is_thorough() else 120
PARTS = 10
LATER = float("inf")


@pytest.mark.parametrize("part", range(PARTS))
def test_no_packing_is_better(part):
    """Source: every packing of three to five items tried, with deviations from a covariance by sources."""
    for case in range(part, CASES, PARTS):
        task = drawn_task(random.Random(case))
        best, model = best_by_trying(task), Model(task)
        solution = solve(model, LATER, gaps={})
        found = dict(zip(model.stages, solution.comes_to, strict=True))
        assert [found.get(stage, 0) for stage in OF_CHOICES] == [*best[: len(OF_CHOICES)]], case
        assert found[LARGEST] == pytest.approx(best.largest * FULL, abs=1.01), case
        assert found[UNEVEN] == pytest.approx(best.uneven * FULL, abs=2.01), case
        assert solution.bounds == solution.comes_to, case


@pytest.mark.parametrize("part", range(PARTS))
def test_a_moved_item_changes_as_little_as_possible(part):
    """An item goes to another bag; of the cheapest packings, the one that is found differs least from the one before.

    Source: every packing tried, as above.
    """
    for case in range(part, CASES // 5, PARTS):
        draw = random.Random(1000 + case)
        task = drawn_task(draw)
        before = pack(task, time_limit_s=LATER)
        moved = draw.randrange(len(task.items))
        pinned = task.items[moved]._replace(pinned=draw.choice(task.bags).tag)
        after = task._replace(items=(*task.items[:moved], pinned, *task.items[moved + 1 :]))
        earlier = {placed.item.tag: placed.placement for placed in before.placed}
        best = best_by_trying(after, earlier)
        numbers = {number: earlier[item.tag] for number, item in enumerate(after.items) if item.tag in earlier}
        model = Model(after, numbers)
        solution = solve(model, LATER, gaps={})
        found = dict(zip(model.stages, solution.comes_to, strict=True))
        assert [found.get(stage, 0) for stage in OF_CHOICES] == [*best[: len(OF_CHOICES)]], case
        assert solution.bounds == solution.comes_to, case
