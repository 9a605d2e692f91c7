"""Two to four kits beside each other: their parts matched by what they do, their sums, and what only some find."""

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.buoyancy.item_weight import lead_mass
from kitbuilder.assess.figures import Figure
from kitbuilder.assess.findings import Finding
from kitbuilder.kit.items import Lead
from kitbuilder.plans.functions import BREATHED, GIVEN, KEPT, ORDER, Part, parts_by_function
from kitbuilder.plans.part_differences import Compared, Side, compared, differs_in

FEWEST, MOST = 2, 4
"""Kits that can be set side by side: more would leave no room for the words of each."""


class Row(NamedTuple):
    """What does one thing in each kit."""

    functions: tuple[str, ...]
    """What it does. A second stage can do two things, such as the long hose that is breathed and given."""
    sides: tuple[Side | None, ...]
    """In the order of the kits; None where a kit has nothing for it."""
    differs_in: tuple[str, ...]
    """In what any two of them differ; empty where one is missing."""

    @property
    def is_equal(self) -> bool:
        """Whether every kit has it, and all are the same."""
        return None not in self.sides and not self.differs_in

    def differs(self, *reasons: str) -> bool:
        """Say whether they differ in any of these; where one is missing everything differs."""
        return None in self.sides or not set(reasons).isdisjoint(self.differs_in)


class Total(NamedTuple):
    """A figure of each kit."""

    name: str
    """The name of its key in JSON, such as "lead_needed_kg"."""
    figures: tuple[Figure | None, ...]
    """In the order of the kits; None where it is not known."""
    changes: tuple[Compared, ...]
    """Of each kit but the first, compared with the first."""

    @property
    def differs(self) -> bool:
        """Whether any differs from the first by more than its spread."""
        return any(change.differs for change in self.changes)


class SideBySide(NamedTuple):
    """Kits beside each other."""

    kits: tuple[Assessment, ...]
    rows: tuple[Row, ...]
    """In the order of the functions."""
    totals: tuple[Total, ...]
    findings: tuple[tuple[Finding, ...], ...]
    """Of each kit, those that not every kit has."""

    @property
    def equal_rows(self) -> tuple[Row, ...]:
        """The rows in which all kits are the same."""
        return tuple(row for row in self.rows if row.is_equal)


def set_side_by_side(kits: Sequence[Assessment]) -> SideBySide:
    """Set the parts of kits beside each other by what they do, within a function by tag, else in file order."""
    rows = tuple(_rows(kits))
    return SideBySide(tuple(kits), rows, tuple(_totals(kits)), _not_in_all(kits, rows))


def are_versions(kits: Sequence[Assessment]) -> bool:
    """Say whether two kits are versions of one: they have the same name and the same layout."""
    heads = [kit.kit.header for kit in kits]
    return len(heads) == FEWEST and (heads[0].name, heads[0].layout) == (heads[1].name, heads[1].layout)


# ---- parts ----


def _rows(kits: Sequence[Assessment]) -> Iterator[Row]:
    by_function = [parts_by_function(each.kit) for each in kits]
    every = dict.fromkeys(function for found in by_function for function in found)
    functions = sorted(every, key=lambda function: ORDER.index(function) if function in ORDER else len(ORDER))
    matched = [
        (function, sides)
        for function in functions
        for sides in _matched([found.get(function, []) for found in by_function], kits)
    ]
    for names, sides in _used_twice(matched):
        known = [side for side in sides if side is not None]
        reasons = (reason for one, other in combinations(known, 2) for reason in differs_in(one, other))
        yield Row(names, sides, tuple(dict.fromkeys(reasons)) if len(known) == len(sides) else ())


Sides = tuple[Side | None, ...]


def _matched(parts: Sequence[list[Part]], kits: Sequence[Assessment]) -> Iterator[Sides]:
    """Put the parts of one function beside each other: first those of one tag, then in the order of the files."""
    rows: list[dict[int, Side]] = []
    for place, (kit, own) in enumerate(zip(kits, parts, strict=True)):
        sides, left = [Side(kit, part) for part in own], list[Side]()
        for side in sides:
            same = (
                row for row in rows if place not in row and side.item.tag in {each.item.tag for each in row.values()}
            )
            if (row := next(same, None)) is not None:
                row[place] = side
            else:
                left.append(side)
        unmatched = [row for row in rows if place not in row]
        for row, side in zip(unmatched, left, strict=False):
            row[place] = side
        rows += [{place: side} for side in left[len(unmatched) :]]
    for row in rows:
        yield tuple(row.get(place) for place in range(len(kits)))


def _used_twice(rows: Sequence[tuple[str, Sides]]) -> Iterator[tuple[tuple[str, ...], Sides]]:
    """Give rows of second stages that are the same in every kit as one, such as what is breathed and given."""
    worn: defaultdict[tuple[Part | None, ...], list[str]] = defaultdict(list)
    for function, sides in rows:
        if function in (BREATHED, GIVEN, KEPT):
            worn[_parts(sides)].append(function)
    for function, sides in rows:
        functions = worn.get(_parts(sides), [function])
        if function == functions[0]:
            yield tuple(functions), sides


def _parts(sides: Sides) -> tuple[Part | None, ...]:
    return tuple(side.part if side else None for side in sides)


# ---- sums ----


def _totals(kits: Sequence[Assessment]) -> Iterator[Total]:
    yield _total("hoses_mass_kg", [kit.all_hoses.mass for kit in kits])
    yield _total("hoses_buoyancy_kgf", [kit.all_hoses.buoyancy for kit in kits])
    yield _total("everything_mass_kg", [kit.everything.mass for kit in kits])
    yield _total("everything_buoyancy_kgf", [kit.everything.buoyancy for kit in kits])
    balances = [kit.balance for kit in kits]
    yield _total("lead_needed_kg", [balance.lead if balance else None for balance in balances])
    lead = [[item for item in kit.kit.items if isinstance(item, Lead)] for kit in kits]
    yield _total("lead_carried_kg", [_exactly(sum(map(lead_mass, pieces))) for pieces in lead])
    droppable = [[piece for piece in pieces if piece.droppable] for pieces in lead]
    yield _total("lead_droppable_kg", [_exactly(sum(map(lead_mass, pieces))) for pieces in droppable])


def _exactly(mass_kg: float) -> Figure:
    return Figure(mass_kg, {}, "as the kit file says")


def _total(name: str, figures: Sequence[Figure | None]) -> Total:
    first, *others = figures
    return Total(name, tuple(figures), tuple(compared(first, other) for other in others))


# ---- findings ----


def _not_in_all(kits: Sequence[Assessment], rows: Sequence[Row]) -> tuple[tuple[Finding, ...], ...]:
    """Give the findings of each kit that not every kit has: of the same rule, about what does the same."""
    keys = [[_key(finding, kit, place, rows) for finding in kit.findings] for place, kit in enumerate(kits)]
    counts = [Counter(own) for own in keys]
    shared = {key: min(count[key] for count in counts) for key in {key for count in counts for key in count}}
    found = []
    for kit, own in zip(kits, keys, strict=True):
        seen = Counter[Key]()
        extra = []
        for finding, key in zip(kit.findings, own, strict=True):
            seen[key] += 1
            if seen[key] > shared[key]:
                extra.append(finding)
        found.append(tuple(extra))
    return tuple(found)


Key = tuple[str, int, str, int | str]
"""What two findings have to share to be the same: rule, signal word, key, and the row of the item, or else its kind."""


def _key(finding: Finding, kit: Assessment, place: int, rows: Sequence[Row]) -> Key:
    return finding.rule, int(finding.signal), finding.key or "", _row_of(finding.item, kit, place, rows)


def _row_of(item: int | None, kit: Assessment, place: int, rows: Sequence[Row]) -> int | str:
    for number, row in enumerate(rows):
        side = row.sides[place]
        if side is not None and item is not None and item in side.part:
            return number
    return "" if item is None else kit.kit.items[item].kind
