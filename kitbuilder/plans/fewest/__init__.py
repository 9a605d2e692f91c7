"""Fewest hoses: the smallest set of hoses that serves several kits which are never used at the same time."""

from collections.abc import Sequence
from time import monotonic

from kitbuilder.assess.assessment import Assessment
from kitbuilder.kit.gear import Gear
from kitbuilder.kit.stock import Stock
from kitbuilder.plans.fewest.answer import (
    BEST_SO_FAR,
    COUNT,
    INFEASIBLE,
    MASS,
    NOTHING_FOUND,
    ORDERS,
    PRICE,
    PROVED,
    AnyBody,
    Assignment,
    FewestPlan,
    Purchase,
    SecondBest,
    SetHose,
    Status,
)
from kitbuilder.plans.fewest.candidates import CandidateHose, HoseSources, Spec
from kitbuilder.plans.fewest.reasons import Conflict, Reason, Unserved
from kitbuilder.plans.fewest.runs import Run
from kitbuilder.plans.fewest.search import COSTS, Search
from kitbuilder.plans.fewest.solver import Solution, Task, clusters, solve

__all__ = [
    "BEST_SO_FAR",
    "COUNT",
    "FROM",
    "INFEASIBLE",
    "MASS",
    "NOTHING_FOUND",
    "ORDERS",
    "PRICE",
    "PROVED",
    "AnyBody",
    "Assignment",
    "CandidateHose",
    "Conflict",
    "FewestPlan",
    "HoseSources",
    "Purchase",
    "Reason",
    "Run",
    "SecondBest",
    "SetHose",
    "Spec",
    "Status",
    "Unserved",
    "find_fewest",
    "sources_beside",
    "sources_from",
]

FROM = ("both", "gear", "stock")
"""Where hoses may come from: what is owned, what can be bought, or both."""

TIME_LIMIT_S = 10.0


def sources_beside(kits: Sequence[tuple[str, Assessment]], source: str) -> HoseSources:
    """Give the first gear file and the first stock that the kits name.

    Args:
        kits: What each is called, and the kit worked out.
        source: One of `FROM`.
    """
    gear_files = (kit.kit.linked.gear for _, kit in kits if kit.kit.linked.gear)
    stocks = (kit.kit.linked.stock for _, kit in kits if kit.kit.linked.stock)
    return sources_from(source, next(gear_files, None), next(stocks, None))


def sources_from(source: str, gear: Gear | None, stock: Stock | None) -> HoseSources:
    """Say what may be used of a gear file and a stock; without a stock, every customary length is available."""
    return HoseSources(None if source == "stock" else gear, source != "gear", stock)


def find_fewest(
    kits: Sequence[tuple[str, Assessment]],
    sources: HoseSources,
    order: tuple[str, ...] = ORDERS["fewest"],
    *,
    any_body: bool = False,
    time_limit_s: float = TIME_LIMIT_S,
) -> FewestPlan:
    """Find the smallest set of hoses that serves some kits, no two of which are used at the same time.

    Args:
        kits: What each is called, and the kit worked out; each once.
        sources: Where the hoses may come from.
        order: What is made least first, second and third: count, mass and price in any order.
        any_body: Whether a hose may have another body than the kit's.
        time_limit_s: When to stop and give the best found so far.
    """
    until = monotonic() + time_limit_s
    search = Search(kits, sources, order, any_body=any_body, until=until)
    found = [(part, solve(part)) for part in search.parts]
    solved = [(part, choice) for part, choice in found if choice is not None]
    hoses, status = search.hoses(choice for _, choice in solved), _status(found)
    return FewestPlan(
        kits=tuple(kits),
        runs=search.runs,
        sources=sources,
        order=order,
        any_body=any_body,
        hoses=search.with_reasons(hoses, solved),
        unserved_runs=tuple(search.unserved_runs(found)),
        status=status,
        second=search.second_best(solved, hoses) if status.word == PROVED else None,
        if_any_body=None if any_body else _if_any_body(search, until),
    )


def _status(found: Sequence[tuple[Task, Solution | None]]) -> Status:
    if not found:
        return Status(INFEASIBLE, 0, is_first_proved=True)
    choices = [choice for _, choice in found if choice is not None]
    if not choices:
        return Status(NOTHING_FOUND, 0, is_first_proved=False)
    least = sum(choice.bounds[1] for choice in choices if len(choice.bounds) > 1)
    is_whole = len(choices) == len(found)
    if is_whole and all(choice.is_proved for choice in choices):
        return Status(PROVED, least, is_first_proved=True)
    first = is_whole and all(choice.bounds[:2] == choice.values[:2] for choice in choices)
    return Status(BEST_SO_FAR, least, is_first_proved=first)


def _if_any_body(search: Search, until: float) -> AnyBody | None:
    task = search.task_for(any_body=True)._replace(stages=COSTS[COUNT][:1], until=until)
    choices = [solve(part) for part in clusters(task)]
    found = [choice for choice in choices if choice is not None and choice.is_proved]
    if len(found) < len(choices):
        return None
    left_out = len(search.runs) - sum(len(choice.serves) for choice in found)
    return AnyBody(sum(choice.values[1] for choice in found), left_out)
