"""Balance: how diver and kit float over the dive, and the lead that holds the stop."""

from collections.abc import Sequence
from enum import Enum
from typing import NamedTuple

from kitbuilder.assess.assembly import is_stage
from kitbuilder.assess.body import body_buoyancy
from kitbuilder.assess.buoyancy.buoyancy_model import (
    AS_IT_IS,
    FILLED,
    RESERVE,
    TURN,
    BuoyancyModel,
    Switches,
    bladder_of,
    build_buoyancy_model,
    lead_sinks,
    total_buoyancy,
)
from kitbuilder.assess.buoyancy.float_checks import Seen, corrected, evaluate_checks, evidence_from
from kitbuilder.assess.buoyancy.lead_pieces import LeadToTake, lead_to_take
from kitbuilder.assess.buoyancy.measurement_priorities import Priority, measurement_priorities
from kitbuilder.assess.buoyancy.trim import Trim, assess_trim
from kitbuilder.assess.depths import deepest_of, stop_of
from kitbuilder.assess.figures import Figure, scaled, total
from kitbuilder.assess.water import Water
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.physics.estimation import Evidence

ONE_SIDED = 1.645 / 1.96
"""Of a spread, which holds 95 % between both ends: 95 % lie below this part of it (normal distribution)."""
JUST_KG = 0.05
"""Less lead than this, too much or too little, is not worth naming."""


class Moment(NamedTuple):
    """How diver and kit float at one moment of the dive, with an empty wing."""

    name: str
    depth_m: float
    gas: str
    """`FILLED`, `TURN` or `RESERVE`."""
    buoyancy: Figure
    """[kgf]"""


class WhatIf(NamedTuple):
    """How diver and kit would float after a failure, or after something is dropped or lost, with an empty wing."""

    name: str
    """"wing fails", "drysuit floods", "lead dropped" or "stage lost"."""
    depth_m: float
    gas: str
    buoyancy: Figure
    """[kgf]"""
    item: int | None = None
    """The stage that is lost."""


class Hold(Enum):
    """Whether a diver holds the stop."""

    HELD = "held"
    UNCERTAIN = "uncertain"
    FLOATS = "floats"


class BladderNeed(NamedTuple):
    """What the bladder has to hold for a diver to be neutral."""

    is_neutral: bool
    """Whether he is neutral with an empty bladder, to within `JUST_KG`."""
    floats_up: bool
    """Whether he is too light already, so that no bladder helps."""
    part: float | None
    """Of its lift, above 1 where that is not enough; None when the diver floats up, and where the lift is not given."""
    lacking_kgf: float
    """By how much its lift is too small; 0 where it is enough, or not given."""


class Balance(NamedTuple):
    """Buoyancy over the dive, ballast and trim."""

    buoyancy_model: BuoyancyModel
    switches: Switches
    """The changes that were asked for; a full wing shows in the curves only, since the moments have an empty one."""
    checks: tuple[Seen, ...]
    moments: tuple[Moment, ...]
    """In the order of the dive: going in, at depth, turning, leaving, at the stop, coming out."""
    lead: Figure
    """That makes the diver neutral at the stop with the reserve and an empty wing, whatever is asked on top [kg]; below
    0 for too heavy a kit."""
    pieces: LeadToTake
    """The lead to take: whole pieces, short by no more than a breath makes up for."""
    full_at_depth: Figure
    """At the greatest depth with the gas filled, with the lead needed and an empty wing [kgf]."""
    what_ifs: tuple[WhatIf, ...]
    body: Figure
    """How the body alone floats, as float checks teach [kgf]."""
    trim: Trim
    measurement_priorities: tuple[Priority, ...]
    """What to weigh or check next, what narrows the lead most first."""

    @property
    def stop(self) -> Moment:
        """At the stop with the reserve."""
        # Counted in the order of `plan` in `balance_of`.
        return self.moments[4]

    @property
    def heaviest(self) -> Moment:
        """The moment at which the wing must lift most."""
        return min(self.moments, key=lambda moment: moment.buoyancy.value)

    @property
    def deepest_m(self) -> float:
        """The greatest depth of the dive [m]."""
        return self.moments[1].depth_m

    @property
    def bladder(self) -> str:
        """What holds the gas: "jacket", or "wing", also where there is neither."""
        return bladder_of(self.buoyancy_model.kit) or "wing"

    @property
    def is_asked(self) -> bool:
        """Whether any change but a full bladder is tried on the kit."""
        return self.switches._replace(wing_full=False) != AS_IT_IS

    @property
    def too_heavy(self) -> Figure | None:
        """How much too heavy diver and kit are without any lead [kg]; None where lead is needed."""
        return scaled(self.lead, -1) if self.lead.value < 0 else None

    @property
    def surplus_kg(self) -> float:
        """How much more lead the kit carries than is needed."""
        return self.buoyancy_model.lead_kg - self.lead.value

    @property
    def missing(self) -> Figure:
        """How much less lead the kit carries than is needed, with its spread [kg]."""
        return self.lead._replace(value=-self.surplus_kg)

    @property
    def certain_kg(self) -> float:
        """How much lead holds the stop with a certainty of 95 % [kg]."""
        breath = catalogue().limits["breath_makes_up"].value
        return max(0.0, self.lead.value + ONE_SIDED * self.lead.spread - breath)

    @property
    def ready_kg(self) -> float | None:
        """How much lead to have ready, all in all, where the pieces to take may not hold the stop [kg]; else None."""
        left = self.lead._replace(value=self.lead.value - self.pieces.metric.mass_kg)
        return None if hold_of(left) is Hold.HELD else self.certain_kg

    @property
    def carries_just_enough(self) -> bool:
        """Whether the carried lead is the needed lead, to within `JUST_KG`."""
        return abs(self.surplus_kg) < JUST_KG

    @property
    def lead_left_kg(self) -> float:
        """The lead on the kit, less the droppable lead when dropping it is tried."""
        return self.buoyancy_model.lead_kg - (self.buoyancy_model.droppable_kg if self.switches.lead_dropped else 0.0)

    @property
    def counted_checks(self) -> int:
        """How many float checks count."""
        return sum(seen.is_counted for seen in self.checks)

    def when_full_kgf(self, buoyancy: Figure) -> float | None:
        """Tell how a diver who floats so with an empty bladder floats with a full one; None without a known lift."""
        return buoyancy.value + self.buoyancy_model.lift.value if self.buoyancy_model.lift else None

    def bladder_need(self, buoyancy: Figure) -> BladderNeed:
        """Tell what the bladder has to hold for a diver who floats so when it is empty."""
        is_neutral = abs(buoyancy.value) < JUST_KG
        if buoyancy.value > 0 and not is_neutral:
            return BladderNeed(False, True, None, 0.0)
        if self.buoyancy_model.lift is None:
            return BladderNeed(is_neutral, False, None, 0.0)
        heavy, lift = max(0.0, -buoyancy.value), self.buoyancy_model.lift.value
        return BladderNeed(is_neutral, False, heavy / lift, max(0.0, heavy - lift))

    def gauges_pa(self, gas: str) -> tuple[float, ...]:
        """List what the gauges show at `FILLED`, `TURN` or `RESERVE`, without those of stages that are lost."""
        return tuple(
            {FILLED: vessel.filled_pa, TURN: vessel.turn_pa, RESERVE: vessel.reserve_pa}[gas]
            for number, vessel in self.buoyancy_model.vessels
            if not (self.switches.stages_lost and is_stage(self.buoyancy_model.kit, number))
        )


def work_out_balance(kit: ResolvedKit, water: Water, switches: Switches = AS_IT_IS) -> Balance | None:
    """Give the balance of a kit; None when nothing is known of a cylinder, or it has none."""
    buoyancy_model = build_buoyancy_model(kit, water)
    if not buoyancy_model.vessels:
        return None
    return balance_of(buoyancy_model, evaluate_checks(kit, buoyancy_model), switches)


def balance_of(buoyancy_model: BuoyancyModel, checks: Sequence[Seen], switches: Switches = AS_IT_IS) -> Balance:
    """Work out the balance of a buoyancy model, corrected by float checks."""
    stop, deepest = stop_of(buoyancy_model.kit), deepest_of(buoyancy_model.kit)
    plan = (
        ("going in", 0.0, FILLED),
        ("at depth", deepest, FILLED),
        ("turning", deepest, TURN),
        ("leaving", deepest, RESERVE),
        ("at the stop", stop, RESERVE),
        ("coming out", 0.0, RESERVE),
    )
    evidence, empty = evidence_from(checks), switches._replace(wing_full=False)
    moments = tuple(
        Moment(name, depth, gas, corrected(total_buoyancy(buoyancy_model, depth, gas, switches=empty), evidence))
        for name, depth, gas in plan
    )
    lead = _lead(buoyancy_model, evidence, stop)
    diver = buoyancy_model.kit.linked.diver
    sizes = diver.header.lead_sizes_kg if diver else ()
    return Balance(
        buoyancy_model,
        switches,
        tuple(checks),
        moments,
        lead,
        lead_to_take(lead.value - catalogue().limits["breath_makes_up"].value, sizes),
        corrected(total_buoyancy(buoyancy_model, deepest, FILLED, max(0.0, lead.value)), evidence),
        tuple(_what_ifs(buoyancy_model, evidence, stop, deepest)),
        corrected(body_buoyancy(buoyancy_model.body, buoyancy_model.water), evidence),
        assess_trim(buoyancy_model, stop, switches),
        measurement_priorities(buoyancy_model, lead, checks, evidence, stop),
    )


def _lead(buoyancy_model: BuoyancyModel, evidence: Evidence, stop: float) -> Figure:
    """Work out the lead by the number cast on it; float checks correct its error, so the error is carried along.

    Whatever is asked on top: nobody takes lead for a flooded suit.
    """

    def floats(lead_kg: float) -> Figure:
        return corrected(total_buoyancy(buoyancy_model, stop, RESERVE, lead_kg), evidence)

    # Buoyancy is linear in the lead, so that two values give the mass at which it is zero.
    bare, sunk = floats(0.0).value, floats(1.0).value
    needed = bare / (bare - sunk)
    left = scaled(floats(needed), 1 / lead_sinks(buoyancy_model.water))
    return Figure(needed, left.components, "neutral at the stop with the reserve")


def _what_ifs(buoyancy_model: BuoyancyModel, evidence: Evidence, stop: float, deepest: float) -> list[WhatIf]:
    """Compute each failure at its worst moment of the dive."""

    def ask(name: str, depth: float, gas: str, switches: Switches) -> WhatIf:
        return WhatIf(
            name, depth, gas, corrected(total_buoyancy(buoyancy_model, depth, gas, switches=switches), evidence)
        )

    found = []
    if buoyancy_model.lift:
        found.append(ask("wing fails", deepest, FILLED, AS_IT_IS))
    if buoyancy_model.suit_gas:
        found.append(ask("drysuit floods", deepest, FILLED, Switches(suit_flooded=True)))
    if buoyancy_model.droppable_kg:
        found.append(ask("lead dropped", stop, RESERVE, Switches(lead_dropped=True)))
    if any(is_stage(buoyancy_model.kit, number) for number, _ in buoyancy_model.vessels):
        found.append(ask("stages lost", stop, RESERVE, Switches(stages_lost=True)))
    return found


def hold_of(light: Figure) -> Hold:
    """Say whether a diver holds the stop who is too light by so much there [kg or kgf].

    He does when what is missing is breathed away with a certainty of 95 %. Where the lead is known to a piece of lead,
    the likely value decides: the rest is found in the water.
    """
    limits = catalogue().limits
    breath, spread = limits["breath_makes_up"].value, light.spread
    if light.value > breath:
        return Hold.FLOATS if light.value > spread else Hold.UNCERTAIN
    is_known_well = spread <= limits["lead_known_well"].value
    is_certain = light.value + ONE_SIDED * spread <= breath
    return Hold.HELD if is_known_well or is_certain else Hold.UNCERTAIN


def swing(balance: Balance) -> Figure:
    """Say how much lighter the diver gets by the gas that is used [kgf]."""
    buoyancy_model = balance.buoyancy_model
    filled, left = total_buoyancy(buoyancy_model, 0.0, FILLED), total_buoyancy(buoyancy_model, 0.0, RESERVE)
    return total((left, scaled(filled, -1)), "gas used from filling to reserve")
