"""Balance: how diver and kit float over the dive, and the lead that holds the stop."""

from collections.abc import Sequence
from typing import NamedTuple

from kitbuilder.assess.body import body_buoyancy
from kitbuilder.assess.buoyancy.afloat import (
    AS_IT_IS,
    FILLED,
    RESERVE,
    TURN,
    Afloat,
    Switches,
    float_of,
    is_stage,
    lead_sinks,
    put_afloat,
)
from kitbuilder.assess.buoyancy.float_checks import Seen, corrected, deepest_of, look_at_checks, stop_of
from kitbuilder.assess.buoyancy.lead_pieces import Pieces, pieces_for
from kitbuilder.assess.buoyancy.trim import Trim, assess_trim
from kitbuilder.assess.buoyancy.what_next import Step, next_steps
from kitbuilder.assess.figures import Figure, scaled, total
from kitbuilder.assess.water import Water
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.resolved import ResolvedKit


class Moment(NamedTuple):
    """How all of it floats at one moment of the dive, the wing empty."""

    name: str
    depth_m: float
    gas: str
    """`FILLED`, `TURN` or `RESERVE`."""
    buoyancy: Figure
    """[kgf]"""


class WhatIf(NamedTuple):
    """How all of it would float if something failed, was dropped or lost, the wing empty."""

    name: str
    """"wing fails", "drysuit floods", "lead dropped" or "stage lost"."""
    depth_m: float
    gas: str
    buoyancy: Figure
    """[kgf]"""
    thing: int | None = None
    """The stage that is lost."""


class Balance(NamedTuple):
    """Buoyancy over the dive, ballast and trim."""

    afloat: Afloat
    switches: Switches
    """What was asked; a full wing shows in the curves only, since the moments are told with an empty one."""
    checks: tuple[Seen, ...]
    moments: tuple[Moment, ...]
    """In the order of the dive: going in, at depth, turning, leaving, at the stop, coming out."""
    lead: Figure
    """That makes the diver neutral at the stop with the reserve and an empty wing, whatever is asked on top [kg]; below
    0 for too heavy a kit."""
    pieces: Pieces
    """The lead to take: whole pieces, short by no more than a breath makes up for."""
    full_at_depth: Figure
    """At the greatest depth with the gas filled, with those pieces and an empty wing [kgf]."""
    what_ifs: tuple[WhatIf, ...]
    body: Figure
    """How the body alone floats, as float checks teach [kgf]."""
    trim: Trim
    next_steps: tuple[Step, ...]
    """What to weigh or check next, what narrows the lead most first."""

    @property
    def stop(self) -> Moment:
        """At the stop with the reserve."""
        return self.moments[4]

    @property
    def heaviest(self) -> Moment:
        """The moment at which the wing must lift most."""
        return min(self.moments, key=lambda moment: moment.buoyancy.value)


def work_out_balance(kit: ResolvedKit, water: Water, switches: Switches = AS_IT_IS) -> Balance | None:
    """The balance of a kit; None when nothing is known of a cylinder, or it has none."""
    afloat = put_afloat(kit, water)
    if not afloat.vessels:
        return None
    return balance_of(afloat, look_at_checks(kit), switches)


def balance_of(afloat: Afloat, checks: Sequence[Seen], switches: Switches = AS_IT_IS) -> Balance:
    """The balance of what is afloat, as float checks teach."""
    stop, deepest = stop_of(afloat.kit), deepest_of(afloat.kit)
    plan = (
        ("going in", 0.0, FILLED),
        ("at depth", deepest, FILLED),
        ("turning", deepest, TURN),
        ("leaving", deepest, RESERVE),
        ("at the stop", stop, RESERVE),
        ("coming out", 0.0, RESERVE),
    )
    empty = switches._replace(wing_full=False)
    moments = tuple(
        Moment(name, depth, gas, corrected(float_of(afloat, depth, gas, switches=empty), checks))
        for name, depth, gas in plan
    )
    lead = _lead(afloat, checks, stop)
    diver = afloat.kit.linked.diver
    sizes = (diver.header.lead_sizes_kg if diver else ()) or (catalogue().limits["lead_piece"].value,)
    pieces = pieces_for(lead.value - catalogue().limits["breath_makes_up"].value, sizes)
    return Balance(
        afloat,
        switches,
        tuple(checks),
        moments,
        lead,
        pieces,
        corrected(float_of(afloat, deepest, FILLED, pieces.mass_kg), checks),
        tuple(_what_ifs(afloat, checks, stop, deepest)),
        corrected(body_buoyancy(afloat.body, afloat.water), checks),
        assess_trim(afloat, stop, switches),
        next_steps(afloat, lead, checks, stop),
    )


def _lead(afloat: Afloat, checks: Sequence[Seen], stop: float) -> Figure:
    """By the number cast on it, whose error float checks teach about too, so it is carried along.

    Whatever is asked on top: nobody takes lead for a flooded suit.
    """

    def floats(lead_kg: float) -> Figure:
        return corrected(float_of(afloat, stop, RESERVE, lead_kg), checks)

    bare, sunk = floats(0.0).value, floats(1.0).value
    needed = bare / (bare - sunk)
    left = scaled(floats(needed), 1 / lead_sinks(afloat.water))
    return Figure(needed, left.shares, "neutral at the stop with the reserve")


def _what_ifs(afloat: Afloat, checks: Sequence[Seen], stop: float, deepest: float) -> list[WhatIf]:
    """Each thing that may go wrong, at the moment at which it is worst."""

    def ask(name: str, depth: float, gas: str, switches: Switches) -> WhatIf:
        return WhatIf(name, depth, gas, corrected(float_of(afloat, depth, gas, switches=switches), checks))

    found = []
    if afloat.lift:
        found.append(ask("wing fails", deepest, FILLED, AS_IT_IS))
    if afloat.suit_gas:
        found.append(ask("drysuit floods", deepest, FILLED, Switches(suit_flooded=True)))
    if afloat.droppable_kg:
        found.append(ask("lead dropped", stop, RESERVE, Switches(lead_dropped=True)))
    if any(is_stage(afloat.kit, number) for number, _ in afloat.vessels):
        found.append(ask("stages lost", stop, RESERVE, Switches(stages_lost=True)))
    return found


def swing(balance: Balance) -> Figure:
    """How much lighter the diver gets by the gas that is used [kgf]."""
    afloat = balance.afloat
    filled, left = float_of(afloat, 0.0, FILLED), float_of(afloat, 0.0, RESERVE)
    return total((left, scaled(filled, -1)), "gas used from filling to reserve")
