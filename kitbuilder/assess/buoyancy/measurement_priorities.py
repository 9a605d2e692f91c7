"""What to weigh or check next: which one would narrow the lead most."""

from collections import defaultdict
from collections.abc import Sequence
from typing import NamedTuple

from kitbuilder.assess.body import mass_of, sex_of, stature_of
from kitbuilder.assess.buoyancy.buoyancy_model import RESERVE, BuoyancyModel, BuoyancyPart, total_buoyancy
from kitbuilder.assess.buoyancy.float_checks import Seen, reading_spread
from kitbuilder.assess.figures import Figure, add_component
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.diver import FloatCheck
from kitbuilder.kit.items import Cylinder, Drysuit, Hose, Suit
from kitbuilder.physics.estimation import condition
from kitbuilder.physics.spread import root_sum_square

MOST_STEPS = 6


class Priority(NamedTuple):
    """One step, and the uncertainty of the lead after it."""

    what: str
    item: int | None
    """The item it is about; None for the diver or several items."""
    spread_after_kg: float
    """Spread of the lead afterwards."""


def measurement_priorities(
    buoyancy_model: BuoyancyModel, lead: Figure, checks: Sequence[Seen], stop_m: float
) -> tuple[Priority, ...]:
    """Give steps that narrow the lead, the best first."""
    steps = [
        _float_check(buoyancy_model, lead, checks, stop_m),
        *_given_body(buoyancy_model, lead),
        *_weighings(buoyancy_model, lead),
    ]
    # A step that narrows the lead by less than half a per cent is not worth naming.
    useful = [step for step in steps if step.spread_after_kg < 0.995 * lead.spread]
    return tuple(sorted(useful, key=lambda step: step.spread_after_kg)[:MOST_STEPS])


def _float_check(buoyancy_model: BuoyancyModel, lead: Figure, checks: Sequence[Seen], stop_m: float) -> Priority:
    """Give a float check in this kit, as if it were made."""
    components = dict(total_buoyancy(buoyancy_model, stop_m, RESERVE).components)
    add_component(components, "reading of the next float check", reading_spread(_PROBE))
    before = [seen.computed.components for seen in checks if seen.is_counted and seen.computed]
    # What earlier checks have taught is in the lead already; only what they left is asked of the next one.
    taught = condition(components, before, [0.0] * len(before))[1] if before else components
    # The residual of a check not made yet is not known, and the spread that it leaves does not depend on it.
    _, left = condition(lead.components, [taught], [0.0])
    return Priority("make a float check in this kit" if not before else "make another float check", None, _rss(left))


_PROBE = FloatCheck(tag="next", kit="", seen="neutral")


def _given_body(buoyancy_model: BuoyancyModel, lead: Figure) -> list[Priority]:
    if buoyancy_model.body.is_given:
        return []
    sizes = {of(buoyancy_model.body.who) for of in (stature_of, mass_of, sex_of)}
    left = [share for source, share in lead.components.items() if source not in sizes]
    return [Priority("give stature and mass of the diver in a diver file", None, root_sum_square(left))]


def _weighings(buoyancy_model: BuoyancyModel, lead: Figure) -> list[Priority]:
    groups: dict[str, list[BuoyancyPart]] = defaultdict(list)
    for part in buoyancy_model.parts:
        if part.item is not None and (what := _how_to_weigh(buoyancy_model, part)):
            groups[what].append(part)
    return [
        Priority(what, parts[0].item if len(parts) == 1 else None, _without(buoyancy_model, lead, parts))
        for what, parts in groups.items()
    ]


def _how_to_weigh(buoyancy_model: BuoyancyModel, part: BuoyancyPart) -> str:
    """Say what to do about an item; nothing when it was done."""
    item = buoyancy_model.kit.items[part.item or 0]
    tag = f'"{item.tag}"'
    if isinstance(item, Hose):
        return "weigh the hoses" if item.mass_kg is None else ""
    if isinstance(item, Cylinder):
        if item.mass_kg is not None or item.stamped_mass_kg is not None:
            return ""
        return f"read the mass stamped on {item.preset or tag}"
    if isinstance(item, Suit):
        return f"weigh {tag} wet in fresh water" if item.buoyancy_kgf is None else ""
    if isinstance(item, Drysuit) and (item.undersuit or item.suit_gas_m3):
        return ""  # its gas cannot be weighed apart from its wearer
    if getattr(item, "buoyancy_kgf", None) is not None:
        return ""
    preset = catalogue().presets.get((item.kind, getattr(item, "preset", None) or ""))
    if preset is not None and preset.density is not None:
        return f"weigh {tag}" if getattr(item, "mass_kg", None) is None else ""
    return f"weigh {tag} in fresh water"


def _without(buoyancy_model: BuoyancyModel, lead: Figure, parts: Sequence[BuoyancyPart]) -> float:
    """Give the spread of the lead if nothing but the water stayed unknown of some items."""
    waters = buoyancy_model.water.density.components.keys()
    known = {source for part in parts for source in part.floats.components if source not in waters}
    kept = {source for part in buoyancy_model.parts if part not in parts for source in part.floats.components}
    known -= kept
    return root_sum_square(share for source, share in lead.components.items() if source not in known)


def _rss(components: dict[str, float]) -> float:
    return root_sum_square(components.values())
