"""Float checks: what was seen in the water against what is computed, and the correction that follows."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from kitbuilder.assess.assembly import is_stage
from kitbuilder.assess.buoyancy.buoyancy_model import (
    RESERVE,
    BuoyancyModel,
    Gauges,
    build_buoyancy_model,
    lead_sinks,
    total_buoyancy,
)
from kitbuilder.assess.buoyancy.configuration_fingerprint import configuration_fingerprint, difference_of
from kitbuilder.assess.buoyancy.item_weight import lead_mass
from kitbuilder.assess.buoyancy.suit_weight import ANY_DIVE
from kitbuilder.assess.depths import stop_of
from kitbuilder.assess.figures import Figure
from kitbuilder.assess.water import USUAL_WATER, assess_water, water_named
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.diver import FloatCheck
from kitbuilder.kit.items import Cylinder, Lead
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.physics.estimation import Evidence, condition_by, credit, evidence_of, evidence_with_slips, misfit


class Seen(NamedTuple):
    """One float check against what is computed for it."""

    check: FloatCheck
    computed: Figure | None
    """The buoyancy of diver and kit as computed without any check [kgf]; None when it cannot be computed."""
    measured: float
    """How they did float [kgf]."""
    because: str
    """Why it is not counted; empty when it is."""
    off: float = 0.0
    """By how much it is off from what everything else says, the other checks too [kgf]."""
    off_spread: float = 0.0
    """How far that may be off without any contradiction [kgf]."""

    @property
    def is_counted(self) -> bool:
        """Whether it corrects the figures."""
        return not self.because

    @property
    def more_than_computed_kgf(self) -> float | None:
        """How much more it floated than computed; None where check or kit does not give it."""
        is_given = self.check.seen == "neutral" or (self.check.seen is not None and self.check.by_kgf is not None)
        return self.measured - self.computed.value if self.computed and is_given else None

    @property
    def contradicts(self) -> bool:
        """Whether it is off by more than its uncertainty allows."""
        return self.is_counted and abs(self.off) > self.off_spread


def evaluate_checks(kit: ResolvedKit, built: BuoyancyModel | None = None) -> tuple[Seen, ...]:
    """Give every float check of the diver, with what is computed for it.

    Args:
        kit: The kit that is asked about.
        built: Its model where there is one already: checks made in that kit and that water need no other.
    """
    diver = kit.linked.diver
    if diver is None:
        return ()
    checks = [_evaluate(check, kit, built) for check in diver.items]
    counted = [seen for seen in checks if seen.is_counted]
    by_tag = {seen.check.tag: seen._replace(off=off, off_spread=spread) for seen, (off, spread) in _held(counted)}
    return tuple(by_tag.get(seen.check.tag, seen) for seen in checks)


def evaluate_check(check: FloatCheck, kit: ResolvedKit) -> Seen | None:
    """Give one float check of the diver in the kit that was worn; None when the diver of the kit has no such check."""
    return next((seen for seen in evaluate_checks(kit) if seen.check == check), None)


def _held(counted: Sequence[Seen]) -> list[tuple[Seen, tuple[float, float]]]:
    """Hold each check against all else: by how much it is off, and how far it may be."""
    read = [
        {**components, _reading_of(seen.check): reading_spread(seen.check)}
        for seen, components in zip(counted, _observed(counted), strict=True)
    ]
    residuals = _residuals(counted)
    return [(seen, misfit(read, residuals, number)) for number, seen in enumerate(counted)]


def evidence_from(checks: Sequence[Seen]) -> Evidence:
    """Give what all float checks that count are worth together, one in some of which is a slip.

    A slip is at least as large as the check is off: what cannot be is not adopted in part, however far off it is.
    """
    counted = [seen for seen in checks if seen.is_counted]
    if not counted:
        return NO_EVIDENCE
    limits, observed = catalogue().limits, _observed(counted)
    worth = credit(
        observed,
        _residuals(counted),
        [reading_spread(seen.check) for seen in counted],
        [max(limits["float_check_slip"].value, abs(seen.off)) for seen in counted],
        limits["float_check_slips"].value,
    )
    return evidence_with_slips(observed, worth, [_reading_of(seen.check) for seen in counted])


NO_EVIDENCE = evidence_of((), ())


def corrected(figure: Figure, evidence: Evidence) -> Figure:
    """Give a figure after the float checks that are the evidence."""
    if not evidence.observed:
        return figure
    added, components = condition_by(figure.components, evidence)
    return Figure(figure.value + added, components, f"{figure.origin}; float checks: {len(evidence.observed)}")


def _observed(counted: Sequence[Seen]) -> list[Mapping[str, float]]:
    return [seen.computed.components for seen in counted if seen.computed]


def _residuals(counted: Sequence[Seen]) -> list[float]:
    return [seen.measured - seen.computed.value for seen in counted if seen.computed]


def _reading_of(check: FloatCheck) -> str:
    return f"reading of {check.tag}"


def spread_after_next_check(
    figure: Figure, buoyancy_model: BuoyancyModel, checks: Sequence[Seen], evidence: Evidence, depth_m: float
) -> float:
    """Say how uncertain a figure, not corrected yet, is after one more float check that shows what is expected.

    Args:
        figure: What is wanted [any unit].
        buoyancy_model: The kit that is worn in the next check.
        checks: Those that were made.
        evidence: What they are worth.
        depth_m: Where the next one is made, with the reserve.
    """
    counted = [seen for seen in checks if seen.is_counted]
    check = FloatCheck(tag="next float check", kit="", seen="neutral")
    computed = _of_one_dive(total_buoyancy(buoyancy_model, depth_m, RESERVE), check)
    expected = corrected(computed, evidence).value
    return corrected(figure, evidence_from([*counted, Seen(check, computed, expected, "")])).spread


def reading_spread(check: FloatCheck) -> float:
    """Say how far a float check may be off by itself [kgf]."""
    limits = catalogue().limits
    return limits["float_check_spread" if check.by_kgf is None else "float_check_pieces_spread"].value


def _evaluate(check: FloatCheck, own: ResolvedKit, built: BuoyancyModel | None) -> Seen:
    kit = own.worn_as(check.kit)
    if kit is None:
        return Seen(check, None, 0.0, f"{check.kit}, the kit that was worn, is not in this folder or cannot be read")
    # The kit itself lacks the same items in the check and in the answer, so that they cancel; another one does not.
    if kit is not own and kit.linked.gear_problems and any(item.owned for item in kit.items):
        problem = kit.linked.gear_problems[0].removesuffix(".")
        because = f"nothing is known of the items that {check.kit} takes from its gear file: {problem}"
        return Seen(check, None, 0.0, because)
    own_water = check.water is None or check.water == (kit.header.water or USUAL_WATER)
    water = assess_water(kit.header) if own_water else water_named(check.water or "")
    is_built = built is not None and kit is built.kit and water == built.water
    buoyancy_model = built if built is not None and is_built else build_buoyancy_model(kit, water)
    if not buoyancy_model.vessels:
        return Seen(check, None, 0.0, f"nothing is known of the cylinders of {check.kit}")
    depth = check.depth_m if check.depth_m is not None else stop_of(kit)
    gauges = Gauges(check.pressure_pa, check.stage_pressure_pa)
    computed = _of_one_dive(total_buoyancy(buoyancy_model, depth, gauges, check.lead_kg), check)
    return Seen(check, computed, (check.by_kgf or 0.0) * lead_sinks(water), _why_not(check, kit))


def _of_one_dive(figure: Figure, check: FloatCheck) -> Figure:
    """Name what differs from dive to dive by the dive of a check: no other dive has it in common with this one."""
    components = {
        f"{source}, {check.tag}" if source.startswith(ANY_DIVE) else source: share
        for source, share in figure.components.items()
    }
    return figure._replace(components=components)


def _why_not(check: FloatCheck, kit: ResolvedKit) -> str:
    if check.excluded:
        return "the diver file excludes it"
    if check.seen is None:
        return "the file does not say what was seen"
    if check.seen != "neutral" and check.by_kgf is None:
        return "the file does not say how much lead was added or taken off"
    if (check.seen == "floated" and (check.by_kgf or 0) < 0) or (check.seen == "sank" and (check.by_kgf or 0) > 0):
        return f"the diver {check.seen}, but lead was {'taken off' if check.seen == 'floated' else 'added'}"
    if check.worn is not None and check.worn != configuration_fingerprint(kit):
        return f"the kit has changed since: {difference_of(check.worn, configuration_fingerprint(kit))}"
    return ""


class UsualCheck(NamedTuple):
    """What a float check of a kit is taken to be before anything was seen."""

    lead_kg: float
    pressure_pa: float
    stage_pressure_pa: float | None
    """None for a kit without a stage cylinder."""
    depth_m: float
    water: str
    worn: str


def usual_check(kit: ResolvedKit) -> UsualCheck:
    """Give the values of a float check made as usual: with the lead of the kit, at its stop, with the reserve."""
    cylinders = [(number, item) for number, item in enumerate(kit.items) if isinstance(item, Cylinder)]
    worn = [item for number, item in cylinders if not is_stage(kit, number)]
    stages = [item for number, item in cylinders if is_stage(kit, number)]
    return UsualCheck(
        sum(lead_mass(item) for item in kit.items if isinstance(item, Lead)),
        _usual_pressure(worn),
        _usual_pressure(stages) if stages else None,
        stop_of(kit),
        kit.header.water or USUAL_WATER,
        configuration_fingerprint(kit),
    )


def _usual_pressure(cylinders: Sequence[Cylinder]) -> float:
    reserves = (cylinder.reserve_pa for cylinder in cylinders if cylinder.reserve_pa is not None)
    return next(reserves, catalogue().limits["reserve"].value)
