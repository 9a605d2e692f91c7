"""Kits that are shown side by side, and how: what page and JSON of a comparison share."""

from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.figures import Figure
from kitbuilder.assess.findings import Amount
from kitbuilder.kitfile.differences import Difference
from kitbuilder.plans.side_by_side import SideBySide, Total
from kitbuilder.report.numbers import System, is_shown_as_zero
from kitbuilder.report.page import Estimate

TOTALS = {
    "hoses_mass_kg": ("mass of the hoses", "hose mass", "hose buoyancy"),
    "hoses_buoyancy_kgf": ("buoyancy of the hoses", "hose buoyancy", "hose buoyancy"),
    "everything_mass_kg": ("mass of all items", "mass", "buoyancy"),
    "everything_buoyancy_kgf": ("buoyancy of all items", "buoyancy", "buoyancy"),
    "lead_needed_kg": ("lead for the stop", "lead", "lift"),
    "lead_carried_kg": ("lead carried", "lead", "lift"),
    "lead_droppable_kg": ("of it droppable", "lead", "lift"),
}
"""Each sum by its key: its label, its measure, and that of a difference, which has a sign."""
EXACT = ("lead_carried_kg", "lead_droppable_kg")
"""Sums without a spread: what the file says."""
VERSIONS = ("before", "now")
"""What two versions are called."""


class Comparison(NamedTuple):
    """Kits to show, and how."""

    found: SideBySide
    files: tuple[str, ...]
    """As they were given."""
    changes: tuple[Difference, ...] | None = None
    """What the second file says otherwise, where both are versions of one kit; None where they are not."""
    everything: bool = False
    """Whether what is the same is shown too."""
    is_beside: bool | None = None
    """Whether each kit has a column; by default where there are two."""

    @property
    def kits(self) -> tuple[Assessment, ...]:
        """The kits."""
        return self.found.kits

    @property
    def has_columns(self) -> bool:
        """Whether each kit has a column; else the kits stand below each other."""
        return len(self.files) == 2 if self.is_beside is None else self.is_beside

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the kits, numbered where two have the same; of versions, which one is the older."""
        if self.changes is not None:
            return VERSIONS
        names = tuple(kit.kit.header.name for kit in self.kits)
        if len(set(names)) == len(names):
            return names
        return tuple(f"{number} {name}" for number, name in enumerate(names, 1))


def total_value(total: Total, place: int) -> Estimate | Amount | None:
    """Give the figure of a kit in a sum, by the place of the kit; None where it is not known."""
    return total_shown(total, total.figures[place], TOTALS[total.name][1])


def total_shown(total: Total, figure: Figure | None, measure: str) -> Estimate | Amount | None:
    """Give a figure of a sum as a value of a page; None where it is not known."""
    if figure is None:
        return None
    return Amount(figure.value, measure) if total.name in EXACT else Estimate(figure, measure)


def is_marked(total: Total, number: int) -> bool:
    """Say whether the figure of a kit is marked as different, by its number among the others.

    It is not where the difference is shown as zero in either units: a mark at a zero would puzzle.
    """
    found = total.changes[number]
    if not found.differs or found.change is None:
        return found.differs
    *_, measure = TOTALS[total.name]
    return not any(is_shown_as_zero(found.change, measure, system) for system in System)
