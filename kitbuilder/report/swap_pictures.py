"""The words on the picture of the sets: round numbers at its axes, in the reader's units."""

from string import ascii_lowercase

from kitbuilder.assess.figures import NEGLIGIBLE
from kitbuilder.pictures.front import FrontData
from kitbuilder.pictures.plot import Tick
from kitbuilder.pictures.ticks import round_ticks
from kitbuilder.plans.swaps.swaps import Swaps, SwapSet
from kitbuilder.report.numbers import System, signed_count, unit, unit_size

SMALL_KG = 1.0
"""Below this, an axis is in grams or ounces."""


def front_data(found: Swaps, system: System, selected: SwapSet | None = None) -> FrontData:
    """Give the picture of the sets of a kit with its words.

    Args:
        found: The swaps; every number of the picture stands in the table of its sets.
        system: The reader's units.
        selected: The set under the cursor.
    """
    places = [(_lead_kg(each), each.effect.saved.value) for each in found.sets]
    letters = [letter for letter, _ in zip(ascii_lowercase, found.sets, strict=False)]
    chosen = [letter for letter, each in zip(letters, found.sets, strict=True) if each is selected]
    return FrontData(
        points=[*zip(places, letters, strict=True)],
        x_ticks=_ticks(*found.reach[0], system),
        y_ticks=_ticks(*found.reach[1], system),
        x_name="change of lead",
        selected=chosen[0] if chosen else "",
    )


def _lead_kg(found: SwapSet) -> float:
    return found.effect.lead.value if found.effect.lead else 0.0


def _ticks(low_kg: float, high_kg: float, system: System) -> tuple[Tick, ...]:
    """Give round numbers with their signs, the unit at the highest only."""
    is_small = low_kg > -SMALL_KG and high_kg < SMALL_KG
    measure = "hose mass" if is_small else "mass"
    # Below zero there is an axis only where a value is.
    has_less = low_kg < -NEGLIGIBLE
    every = round_ticks((low_kg, high_kg), unit_size(measure, system))
    ticks = [tick for tick in every if has_less or tick.number >= 0]
    words = [signed_count(tick.number) for tick in ticks]
    words[-1] += f" {unit(measure, system)}"
    return tuple((tick.place, word) for tick, word in zip(ticks, words, strict=True))
