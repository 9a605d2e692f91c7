"""In what the parts of two kits differ: whether one can replace the other, how it lies, and what it weighs.

Whether two items are the same is asked of `sameness.py`. A figure differs when the difference is larger than its
spread, in which what both have in common cancels.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.buoyancy.buoyancy_model import lift_of
from kitbuilder.assess.buoyancy.cylinder_weight import Vessel, work_out_vessel
from kitbuilder.assess.buoyancy.suit_weight import USUAL_FOAM
from kitbuilder.assess.figures import NEGLIGIBLE, Figure, Range, Weight, difference
from kitbuilder.assess.fit.fit import Fit
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.assess.gas.mixes import parts_given
from kitbuilder.assess.gas.seating import connection_of
from kitbuilder.assess.gear.sameness import KIND, PRESET, is_one_cylinder, record_of, unlike
from kitbuilder.assess.water import Water
from kitbuilder.kit.items import Cylinder, Drysuit, FirstStage, Item, Lifting, Other, Suit
from kitbuilder.kit.spare import in_hand
from kitbuilder.plans.functions import Part

ADAPTERS, DEVICE, FIT, MASS, BUOYANCY = "adapters", "device", "fit", "mass", "buoyancy"
CYLINDER, GAS, FILLING, CONNECTION = "cylinder", "gas", "filling", "connection"
LIFT, UNDERSUIT, CUT, THICKNESS, FOAM = "lift", "undersuit", "cut", "thickness", "foam"
"""In what parts may differ, beyond the reasons of `sameness.py`."""


class Compared(NamedTuple):
    """A figure of two kits; None where it is not known."""

    left: Figure | None
    right: Figure | None
    change: Figure | None
    """The right one less the left one, in which common origins cancel; None where one is not known."""
    differs: bool
    """Whether the change is larger than its spread, or only one figure is known."""


def compared(left: Figure | None, right: Figure | None) -> Compared:
    """Compare a figure of two kits."""
    if left is None or right is None:
        return Compared(left, right, None, left is not right)
    change = difference(right, left, "less the first kit")
    below, above = change.sides
    return Compared(left, right, change, change.value > below + NEGLIGIBLE or -change.value > above + NEGLIGIBLE)


class Side(NamedTuple):
    """A part in its kit."""

    kit: Assessment
    part: Part

    @property
    def item(self) -> Item:
        """The hose or other item; of a spare, what it is."""
        return in_hand(self.kit.kit.items[self.part.item])

    @property
    def device(self) -> Item | None:
        """What the hose feeds, where that is shown with it."""
        return None if self.part.device is None else self.kit.kit.items[self.part.device]

    @property
    def hose(self) -> HoseFigures | None:
        """The figures of the hose; None where the part has none."""
        return self.kit.hose_figures(self.part.item)

    @property
    def vessel(self) -> Vessel | None:
        """What the cylinder is; None where that is not known, and for other items."""
        return work_out_vessel(self.item, self.kit.water) if isinstance(self.item, Cylinder) else None

    def lift(self, water: Water) -> Figure | None:
        """Give the lift of the bladder in a water [kgf]; None where that is not known, and for other items."""
        return lift_of(self.item, water) if isinstance(self.item, Lifting) else None

    @property
    def mass(self) -> Figure | None:
        """The mass of the item [kg]; None where that is not known."""
        return self.kit.masses[self.part.item]

    @property
    def weight(self) -> Weight | None:
        """What the item weighs, without what it feeds; None where that is not known."""
        return self.kit.weights[self.part.item]


def differs_in(left: Side, right: Side) -> tuple[str, ...]:
    """Say in what two parts of one function differ; empty when one can replace the other and does what it does."""
    return tuple(dict.fromkeys(_differences(left, right)))


def _differences(left: Side, right: Side) -> Iterator[str]:
    if left.item.kind != right.item.kind:
        yield KIND
    elif left.hose and right.hose:
        yield from _of_hoses(left.hose, right.hose)
    else:
        yield from _of_items(left.item, right.item)
        yield from _of_cylinders(left, right)
        if compared(left.lift(left.kit.water), right.lift(left.kit.water)).differs:
            yield LIFT
    yield from _of_devices(left, right)
    yield from _of_weights(left, right)


def _of_hoses(left: HoseFigures, right: HoseFigures) -> Iterator[str]:
    one, other = record_of(left.hose), record_of(right.hose)
    assert one is not None
    assert other is not None
    yield from unlike(one, other)
    if (left.hose.from_adapter, left.hose.to_adapter) != (right.hose.from_adapter, right.hose.to_adapter):
        yield ADAPTERS
    if left.joints.joins != right.joints.joins or not _fits_alike(left.fit, right.fit):
        yield FIT


def _of_devices(left: Side, right: Side) -> Iterator[str]:
    one, other = left.device, right.device
    if one is None or other is None:
        if one is not other:
            yield DEVICE
        return
    alone = [Side(side.kit, Part(side.part.device)) for side in (left, right) if side.part.device is not None]
    if any(_differences(*alone)):
        yield DEVICE


def _of_items(left: Item, right: Item) -> Iterator[str]:
    """Say in what two items of one kind differ, apart from what they weigh."""
    one, other = record_of(left), record_of(right)
    if one is not None and other is not None:
        yield from unlike(one, other)
    match left, right:
        case FirstStage(), FirstStage():
            if connection_of(left) != connection_of(right):
                yield CONNECTION
        case Drysuit(), Drysuit():
            if left.undersuit != right.undersuit:
                yield UNDERSUIT
        case Suit(), Suit():
            yield from _of_suits(left, right)
        case Other(), Other():
            if left.preset != right.preset:
                yield PRESET


def _of_cylinders(left: Side, right: Side) -> Iterator[str]:
    one, other = left.item, right.item
    if not (isinstance(one, Cylinder) and isinstance(other, Cylinder)):
        return
    # Two owners each have a cylinder of their own of the same make: that is no difference here.
    if not is_one_cylinder(replace(one, owned=None), replace(other, owned=None)):
        yield CYLINDER
    if any(abs(mine - yours) > NEGLIGIBLE for mine, yours in zip(parts_given(one), parts_given(other), strict=True)):
        yield GAS
    pressures = [
        vessel and (vessel.filled_pa, vessel.turn_pa, vessel.reserve_pa) for vessel in (left.vessel, right.vessel)
    ]
    if pressures[0] != pressures[1]:
        yield FILLING


def _of_suits(left: Suit, right: Suit) -> Iterator[str]:
    if left.cut != right.cut:
        yield CUT
    if abs(left.thickness_m - right.thickness_m) > NEGLIGIBLE:
        yield THICKNESS
    if (left.foam or USUAL_FOAM) != (right.foam or USUAL_FOAM):
        yield FOAM


def _of_weights(left: Side, right: Side) -> Iterator[str]:
    if compared(left.mass, right.mass).differs:
        yield MASS
    # The same fins float otherwise in other water: that is seen in the sums.
    floats = [side.weight.buoyancy if side.weight else None for side in (left, right)]
    if left.kit.water == right.kit.water and compared(*floats).differs:
        yield BUOYANCY


def _fits_alike(left: Fit | None, right: Fit | None) -> bool:
    """Tell whether two hoses fit alike: as well, known as well, and as far from the body."""
    if left is None or right is None:
        return left is right
    words = ((*fit.verdict.words, fit.is_estimated, fit.slack_by_design) for fit in (left, right))
    if len(set(words)) > 1 or compared(left.slack, right.slack).differs:
        return False
    out, other = left.stand_off, right.stand_off
    if out is None or other is None:
        return out is other
    return _is_within(out, other) and _is_within(other, out)


def _is_within(one: Range, other: Range) -> bool:
    return other.low - NEGLIGIBLE <= one.value <= other.high + NEGLIGIBLE
