"""Ballast: the same kit in other waters and with other cylinders, and the lead each of them asks for."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any, NamedTuple

from kitbuilder.assess.assessment import assess
from kitbuilder.assess.buoyancy.balance import Balance, balance_of
from kitbuilder.assess.buoyancy.buoyancy_model import AS_IT_IS, Switches, build_buoyancy_model
from kitbuilder.assess.buoyancy.float_checks import Seen, evaluate_checks
from kitbuilder.assess.figures import Figure, difference
from kitbuilder.assess.findings import Unchecked
from kitbuilder.assess.water import USUAL_WATER, assess_water
from kitbuilder.catalogue import CylinderPreset, catalogue
from kitbuilder.kit.item_edit import with_values
from kitbuilder.kit.items import Cylinder
from kitbuilder.kit.resolved import ResolvedKit

USUAL_WATERS = ("ocean", "fresh")
"""The waters asked for when none is named, after the kit's own."""
LEAD_RULES = ("balance", "totals", "float check")
"""The rules whose missing values leave the lead less certain."""


class LeadAnswer(NamedTuple):
    """The balance of a kit in one water with one kind of cylinder."""

    water: str
    cylinder: str | None
    """The preset in place of the kit's cylinders; None for the kit's own."""
    balance: Balance
    change: Figure
    """Its lead less that of the first answer [kg]; what both have in common cancels."""


class Ballast(NamedTuple):
    """All answers for a kit."""

    kit: ResolvedKit
    own: str
    """What the kit's own cylinders are called."""
    waters: tuple[str, ...]
    cylinders: tuple[str | None, ...]
    answers: tuple[LeadAnswer, ...]
    """Water by water, cylinder by cylinder; none when the balance cannot be worked out."""
    checks: tuple[Seen, ...]

    def answer(self, water: str, cylinder: str | None) -> LeadAnswer | None:
        """Give the answer for a water and a cylinder."""
        return next((found for found in self.answers if (found.water, found.cylinder) == (water, cylinder)), None)


def water_names() -> tuple[str, ...]:
    """Give every water that can be asked for."""
    return tuple(catalogue().waters)


def cylinder_names() -> tuple[str, ...]:
    """Give every cylinder that can be put in place of a kit's own."""
    return tuple(catalogue().cylinders)


def ask_ballast(kit: ResolvedKit, waters: Sequence[str] = (), cylinders: Sequence[str] = ()) -> Ballast:
    """Give the lead for a kit in each water with each cylinder.

    Args:
        kit: The kit; its float checks speak of it as it is, whatever is asked.
        waters: Names of waters; the kit's own, ocean and fresh when none is named.
        cylinders: Presets to put in place of the kit's cylinders, beside those; the nearest of the other metal when
            none is named.

    Raises:
        KeyError: There is no such water or preset.
    """
    own_water = kit.header.water or USUAL_WATER
    asked_waters = tuple(dict.fromkeys(waters or (own_water, *USUAL_WATERS)))
    others = tuple(cylinders) or counterparts(kit)
    asked_cylinders = (None, *others)
    checks = evaluate_checks(kit)
    # The float checks are those of the kit as it is: they were made in it, not in the changed ones.
    answers = _answers(
        [
            (water, cylinder, found)
            for water in asked_waters
            for cylinder in asked_cylinders
            if (found := _balance(with_cylinders(with_water(kit, water), cylinder), checks))
        ]
    )
    return Ballast(kit, own_cylinders(kit), asked_waters, asked_cylinders, answers, checks)


CHANGE = "lead less the lead of the first answer"


def _answers(found: Sequence[tuple[str, str | None, Balance]]) -> tuple[LeadAnswer, ...]:
    return tuple(
        LeadAnswer(water, cylinder, balance, difference(balance.lead, found[0][2].lead, CHANGE))
        for water, cylinder, balance in found
    )


def missing_for_lead(kit: ResolvedKit) -> tuple[Unchecked, ...]:
    """Give what could not be checked for want of a value, and leaves the lead less certain."""
    return tuple(result for result in assess(kit).unchecked if result.rule in LEAD_RULES)


def what_if(kit: ResolvedKit, water: str | None, cylinder: str | None, switches: Switches = AS_IT_IS) -> Balance | None:
    """Give the balance of a kit in another water, with other cylinders or switches; None when there is none."""
    checks = evaluate_checks(kit)
    return _balance(with_cylinders(kit if water is None else with_water(kit, water), cylinder), checks, switches)


def with_water(kit: ResolvedKit, water: str) -> ResolvedKit:
    """Give the kit in a water of the catalogue; as it is in its own.

    Raises:
        KeyError: There is no such water.
    """
    if water not in catalogue().waters:
        raise KeyError(water)
    if water == (kit.header.water or USUAL_WATER):
        return kit
    # What the file says about its own water does not hold for another.
    header = replace(kit.header, water=water, salinity_kg_per_kg=None, temperature_k=None, density_kg_m3=None)
    return replace(kit, header=header)


def with_cylinders(kit: ResolvedKit, preset: str | None) -> ResolvedKit:
    """Give the kit with a preset in place of its own cylinders; stages and gases stay.

    Raises:
        KeyError: There is no such preset.
    """
    if preset is None:
        return kit
    entry = catalogue().cylinders[preset]
    items = tuple(
        _swapped(item, entry) if isinstance(item, Cylinder) and item.carried != "stage" else item for item in kit.items
    )
    return replace(kit, items=items)


def _swapped(cylinder: Cylinder, entry: CylinderPreset) -> Cylinder:
    return with_values(cylinder, values_of_cylinder(cylinder, entry))


def values_of_cylinder(cylinder: Cylinder, entry: CylinderPreset) -> dict[str, Any]:
    """Give the values of a cylinder of the catalogue in the place of another, filled as far as it may be."""
    working = entry.working_pressure.value
    filled = None if cylinder.filled_pa is None else min(cylinder.filled_pa, working)
    turn = None if cylinder.turn_pa is None or cylinder.turn_pa >= (filled or working) else cylinder.turn_pa
    return {
        "preset": entry.name,
        "metal": None,
        "volume_m3": None,
        "working_pressure_pa": None,
        "stamped_mass_kg": None,
        "mass_kg": None,
        "diameter_m": None,
        "length_m": None,
        "filled_pa": filled,
        "turn_pa": turn,
    }


def counterparts(kit: ResolvedKit) -> tuple[str, ...]:
    """Give the preset of each other metal that comes nearest to the kit's largest cylinder."""
    own = [_size(item) for item in kit.items if isinstance(item, Cylinder) and item.carried != "stage"]
    sizes = [size for size in own if size]
    if not sizes:
        return ()
    metal, volume, pressure = max(sizes, key=lambda size: size[1])
    found = []
    for other in catalogue().metals:
        entries = [entry for entry in catalogue().cylinders.values() if entry.metal == other]
        if other == metal or not entries:
            continue
        gas = volume * pressure
        nearest = min(entries, key=lambda entry: abs(entry.volume.value * entry.working_pressure.value / gas - 1))
        found.append(nearest.name)
    return tuple(found)


def _size(cylinder: Cylinder) -> tuple[str, float, float] | None:
    preset = catalogue().cylinders.get(cylinder.preset or "")
    metal = cylinder.metal or (preset.metal if preset else None)
    volume = cylinder.volume_m3 or (preset.volume.value if preset else None)
    pressure = cylinder.working_pressure_pa or (preset.working_pressure.value if preset else None)
    return (metal, volume, pressure) if metal and volume and pressure else None


def swappable(kit: ResolvedKit) -> bool:
    """Say whether the kit has a cylinder that another may take the place of."""
    return any(isinstance(item, Cylinder) and item.carried != "stage" for item in kit.items)


def own_cylinders(kit: ResolvedKit) -> str:
    """Say what a kit's own cylinders are: "2 × steel 12 L 232 long"."""
    cylinders = [item for item in kit.items if isinstance(item, Cylinder)]
    if not cylinders:
        return "no cylinder"
    names = [item.preset or f"{item.metal or 'cylinder'} of its own" for item in cylinders if item.carried != "stage"]
    counts = {name: names.count(name) for name in names}
    return ", ".join(name if count == 1 else f"{count} × {name}" for name, count in counts.items()) or "stages only"


def _balance(kit: ResolvedKit, checks: Sequence[Seen], switches: Switches = AS_IT_IS) -> Balance | None:
    buoyancy_model = build_buoyancy_model(kit, assess_water(kit.header))
    return balance_of(buoyancy_model, checks, switches) if buoyancy_model.vessels else None
