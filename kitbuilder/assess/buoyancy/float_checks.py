"""Float checks: what was seen in the water against what is computed, and the correction that follows."""

from collections.abc import Sequence
from typing import NamedTuple

from kitbuilder.assess.buoyancy.buoyancy_model import RESERVE, build_buoyancy_model, lead_sinks, total_buoyancy
from kitbuilder.assess.buoyancy.configuration_fingerprint import configuration_fingerprint, difference_of
from kitbuilder.assess.buoyancy.item_weight import lead_mass
from kitbuilder.assess.depths import stop_of
from kitbuilder.assess.figures import Figure, add_component
from kitbuilder.assess.water import USUAL_WATER, assess_water, water_named
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.diver import FloatCheck
from kitbuilder.kit.items import Cylinder, Lead
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.physics.estimation import condition, expansion_factor, misfit


class Seen(NamedTuple):
    """One float check against what is computed for it."""

    check: FloatCheck
    computed: Figure | None
    """The computed buoyancy of diver and kit [kgf], its reading among the sources; None when it cannot be computed."""
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


def evaluate_checks(kit: ResolvedKit) -> tuple[Seen, ...]:
    """Give every float check of the diver, with what is computed for it."""
    diver = kit.linked.diver
    if diver is None:
        return ()
    checks = [_evaluate(check, kit) for check in diver.items]
    counted = [seen for seen in checks if seen.is_counted]
    offs = _offs(counted)
    off_by_tag = {seen.check.tag: (off, spread) for seen, (off, spread) in zip(counted, offs, strict=True)}
    # Contradictions are reported as they were before the widening, after which no check contradicts the others.
    wider = _until_they_agree(counted, offs)
    return tuple(
        _wider(seen, wider)._replace(off=off_by_tag[seen.check.tag][0], off_spread=off_by_tag[seen.check.tag][1])
        if seen.is_counted
        else seen
        for seen in checks
    )


def evaluate_check(check: FloatCheck, kit: ResolvedKit) -> Seen | None:
    """Give one float check of the diver in the kit that was worn; None when the diver of the kit has no such check."""
    return next((seen for seen in evaluate_checks(kit) if seen.check == check), None)


def _offs(counted: Sequence[Seen]) -> list[tuple[float, float]]:
    """Say by how much each check is off from all else, and how far it may be."""
    observed, residuals = _observed(counted), _residuals(counted)
    return [misfit(observed, residuals, number) for number in range(len(counted))]


def _until_they_agree(counted: Sequence[Seen], offs: Sequence[tuple[float, float]]) -> float:
    """Say by how much all readings must be less certain for no check to contradict the others; 1 when none does.

    Tables of physical constants widen measurements that disagree in the same way (CODATA 2018, expansion factor). A
    check by itself is held against figures only, which it was made to correct: it is believed until it is twice as far
    off as they can be.
    """
    believed = 1.0 if len(counted) > 1 else 2.0
    if _worst(offs) <= believed:
        return 1.0
    return expansion_factor(lambda wider: _worst(_offs([_wider(seen, wider) for seen in counted])), believed)


def _worst(offs: Sequence[tuple[float, float]]) -> float:
    """Give the farthest that a check is off, as a part of how far it may be."""
    return max((abs(off) / spread for off, spread in offs), default=0.0)


def _wider(seen: Seen, factor: float) -> Seen:
    """Multiply the uncertainty of a check's reading by a factor."""
    assert seen.computed is not None
    reading = _reading_of(seen.check)
    components = {**seen.computed.components, reading: seen.computed.components[reading] * factor}
    return seen._replace(computed=seen.computed._replace(components=components))


def corrected(figure: Figure, checks: Sequence[Seen]) -> Figure:
    """Give a figure after all float checks that count, by generalised least squares."""
    counted = [seen for seen in checks if seen.is_counted]
    if not counted:
        return figure
    added, components = condition(figure.components, _observed(counted), _residuals(counted))
    return Figure(figure.value + added, components, f"{figure.origin}; float checks: {len(counted)}")


def reading_spread(check: FloatCheck) -> float:
    """Say how far a float check may be off by itself [kgf]."""
    limits = catalogue().limits
    return limits["float_check_spread" if check.by_kgf is None else "float_check_pieces_spread"].value


def _evaluate(check: FloatCheck, own: ResolvedKit) -> Seen:
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
    buoyancy_model = build_buoyancy_model(kit, water)
    if not buoyancy_model.vessels:
        return Seen(check, None, 0.0, f"nothing is known of the cylinders of {check.kit}")
    depth = check.depth_m if check.depth_m is not None else stop_of(kit)
    gas: str | float = RESERVE if check.pressure_pa is None else check.pressure_pa
    computed = total_buoyancy(buoyancy_model, depth, gas, check.lead_kg)
    components = dict(computed.components)
    add_component(components, _reading_of(check), reading_spread(check))
    measured = (check.by_kgf or 0.0) * lead_sinks(water)
    return Seen(check, Figure(computed.value, components, computed.origin), measured, _why_not(check, kit))


def _reading_of(check: FloatCheck) -> str:
    return f"reading of {check.tag}"


def _why_not(check: FloatCheck, kit: ResolvedKit) -> str:
    if check.excluded:
        return "it is excluded"
    if check.seen is None:
        return "what was seen is not given"
    if check.seen != "neutral" and check.by_kgf is None:
        return "how much lead made it neutral is not given"
    if (check.seen == "floated" and (check.by_kgf or 0) < 0) or (check.seen == "sank" and (check.by_kgf or 0) > 0):
        return f"it {check.seen}, and yet lead was {'taken off' if check.seen == 'floated' else 'added'}"
    if check.worn is not None and check.worn != configuration_fingerprint(kit):
        return f"the kit has changed since: {difference_of(check.worn, configuration_fingerprint(kit))}"
    return ""


class UsualCheck(NamedTuple):
    """What a float check of a kit is taken to be before anything was seen."""

    lead_kg: float
    pressure_pa: float
    depth_m: float
    water: str
    worn: str


def usual_check(kit: ResolvedKit) -> UsualCheck:
    """Give the values of a float check made as usual: with the lead of the kit, at its stop, with the reserve."""
    reserves = (item.reserve_pa for item in kit.items if isinstance(item, Cylinder) and item.reserve_pa is not None)
    return UsualCheck(
        sum(lead_mass(item) for item in kit.items if isinstance(item, Lead)),
        next(reserves, catalogue().limits["reserve"].value),
        stop_of(kit),
        kit.header.water or USUAL_WATER,
        configuration_fingerprint(kit),
    )


def _observed(counted: Sequence[Seen]) -> list[dict[str, float]]:
    return [dict(seen.computed.components) for seen in counted if seen.computed]


def _residuals(counted: Sequence[Seen]) -> list[float]:
    return [seen.measured - seen.computed.value for seen in counted if seen.computed]
