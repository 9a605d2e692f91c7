"""What to weigh or check next: which one would narrow the lead most."""

from collections import defaultdict
from collections.abc import Sequence
from typing import NamedTuple

from kitbuilder.assess.body import mass_of, stature_of
from kitbuilder.assess.buoyancy.afloat import RESERVE, Afloat, Part, float_of
from kitbuilder.assess.buoyancy.float_checks import Seen, reading_spread
from kitbuilder.assess.figures import Figure, widen
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.diver import FloatCheck
from kitbuilder.kit.things import Cylinder, Drysuit, Hose, Suit
from kitbuilder.physics.estimation import condition
from kitbuilder.physics.spread import root_sum_square

MOST_STEPS = 6


class Step(NamedTuple):
    """One thing to do, and how sure the lead would be after it."""

    what: str
    thing: int | None
    """The thing it is about; None for the diver or several things."""
    spread_after_kg: float
    """Spread of the lead afterwards."""


def next_steps(afloat: Afloat, lead: Figure, checks: Sequence[Seen], stop_m: float) -> tuple[Step, ...]:
    """Steps that narrow the lead, the best first."""
    steps = [_float_check(afloat, lead, checks, stop_m), *_told_body(afloat, lead), *_weighings(afloat, lead)]
    useful = [step for step in steps if step.spread_after_kg < 0.995 * lead.spread]
    return tuple(sorted(useful, key=lambda step: step.spread_after_kg)[:MOST_STEPS])


def _float_check(afloat: Afloat, lead: Figure, checks: Sequence[Seen], stop_m: float) -> Step:
    """A float check in this kit, as if it were made."""
    shares = dict(float_of(afloat, stop_m, RESERVE).shares)
    widen(shares, "reading of the next float check", reading_spread(_PROBE))
    before = [seen.computed.shares for seen in checks if seen.is_counted and seen.computed]
    # What earlier checks have taught is in the lead already; only what they left is asked of the next one.
    taught = condition(shares, before, [0.0] * len(before))[1] if before else shares
    _, left = condition(lead.shares, [taught], [0.0])
    return Step("make a float check in this kit" if not before else "make another float check", None, _rss(left))


_PROBE = FloatCheck(tag="next", kit="", seen="neutral")


def _told_body(afloat: Afloat, lead: Figure) -> list[Step]:
    if afloat.body.is_told:
        return []
    sizes = (stature_of(afloat.body.who), mass_of(afloat.body.who))
    left = [share for source, share in lead.shares.items() if source not in sizes]
    return [Step("tell stature and mass of the diver in a diver file", None, root_sum_square(left))]


def _weighings(afloat: Afloat, lead: Figure) -> list[Step]:
    groups: dict[str, list[Part]] = defaultdict(list)
    for part in afloat.parts:
        if part.thing is not None and (what := _how_to_weigh(afloat, part)):
            groups[what].append(part)
    return [
        Step(what, parts[0].thing if len(parts) == 1 else None, _without(afloat, lead, parts))
        for what, parts in groups.items()
    ]


def _how_to_weigh(afloat: Afloat, part: Part) -> str:
    """What to do about a thing; nothing when it was done."""
    thing = afloat.kit.things[part.thing or 0]
    if isinstance(thing, Hose):
        return "weigh the hoses" if thing.mass_kg is None else ""
    if isinstance(thing, Cylinder):
        if thing.mass_kg is not None or thing.stamped_mass_kg is not None:
            return ""
        return f"read the mass stamped on {thing.preset}" if thing.preset else f"read the mass stamped on {thing.tag}"
    if isinstance(thing, Suit):
        return f"weigh {thing.tag} wet in fresh water" if thing.buoyancy_kgf is None else ""
    if isinstance(thing, Drysuit) and (thing.undersuit or thing.suit_gas_m3):
        return ""  # its gas cannot be weighed apart from its wearer
    if getattr(thing, "buoyancy_kgf", None) is not None:
        return ""
    preset = catalogue().presets.get((thing.kind, getattr(thing, "preset", None) or ""))
    if preset is not None and preset.density is not None:
        return f"weigh {thing.tag}" if getattr(thing, "mass_kg", None) is None else ""
    return f"weigh {thing.tag} in fresh water"


def _without(afloat: Afloat, lead: Figure, parts: Sequence[Part]) -> float:
    """Spread of the lead if nothing but the water stayed unknown of some things."""
    waters = afloat.water.density.shares.keys()
    known = {source for part in parts for source in part.floats.shares if source not in waters}
    kept = {source for part in afloat.parts if part not in parts for source in part.floats.shares}
    known -= kept
    return root_sum_square(share for source, share in lead.shares.items() if source not in known)


def _rss(shares: dict[str, float]) -> float:
    return root_sum_square(shares.values())
