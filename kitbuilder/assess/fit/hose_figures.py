"""Everything that is worked out about one hose."""

from collections.abc import Mapping
from functools import lru_cache
from typing import NamedTuple

from kitbuilder.assess.figures import Weight
from kitbuilder.assess.fit.fit import Fit, fit_hose
from kitbuilder.assess.fit.routed_hose import RoutedHose
from kitbuilder.assess.hoses.hose_weight import HoseEnds, ends_of, service_of, weigh_hose
from kitbuilder.assess.hoses.joints import NO_ITEMS, HoseJoints, joints_of
from kitbuilder.assess.water import Water
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Hose, Item

BODIES = tuple(name for service, name in catalogue().bodies if service == "LP")
"""The bodies every hose is weighed with, for comparison, in the order of the catalogue; HP hoses have the same."""


class HoseFigures(NamedTuple):
    """What was worked out about one hose."""

    number: int
    """The number of the hose in its kit."""
    hose: Hose
    """With both ends, those that its file leaves out taken as those that join."""
    service: str
    """ "LP" or "HP"."""
    ends: HoseEnds
    weights: dict[str, Weight]
    """As it would be with each of `BODIES`."""
    routed: RoutedHose | None
    """By the landmarks of its route; None when none is known."""
    fit: Fit | None
    """None when its run was neither measured nor can be estimated."""
    joints: HoseJoints
    """Whether it can be joined to its port and its device."""
    taken: tuple[str, ...] = ()
    """The keys of the ends that the file leaves out: they are taken as those that join."""

    @property
    def weight(self) -> Weight:
        """Mass and buoyancy of the present hose."""
        return self.weights[self.hose.body]


def work_out_hose(
    number: int, hose: Hose, water: Water, routed: RoutedHose | None = None, items: Mapping[str, Item] = NO_ITEMS
) -> HoseFigures:
    """Give the figures of one hose of a kit, laid over the body of its wearer.

    Args:
        number: Its number in the kit.
        hose: The hose as the kit has it.
        water: What it is weighed in.
        routed: The way it is led; None when none is known.
        items: What is in its kit, by tag: its port and its device.
    """
    joints = joints_of(hose, items)
    taken = tuple(key for key, end in (("from_end", hose.from_end), ("to_end", hose.to_end)) if end is None)
    hose = joints.hose
    return HoseFigures(number, hose, *_weighed(hose, water), routed, _fitted(hose, routed), joints, taken)


def weigh_in_kit(hose: Hose, water: Water, items: Mapping[str, Item]) -> Weight:
    """Weigh one hose of a kit as `work_out_hose` does, without laying it over a body."""
    joined = joints_of(hose, items).hose
    return _weighed(joined, water)[2][joined.body]


def with_hose(figures: HoseFigures, hose: Hose) -> HoseFigures:
    """Give the figures of another hose on the same run."""
    if hose == figures.hose:
        return figures
    return figures._replace(hose=hose, ends=ends_of(hose), fit=_fitted(hose, figures.routed))


@lru_cache(maxsize=4096)
def _weighed(hose: Hose, water: Water) -> tuple[str, HoseEnds, dict[str, Weight]]:
    """Weigh a hose. Cached: an edit changes one hose of a kit, and the kits of a folder share most of theirs."""
    return service_of(hose), ends_of(hose), {body: weigh_hose(hose, body, water) for body in BODIES}


@lru_cache(maxsize=4096)
def _fitted(hose: Hose, routed: RoutedHose | None) -> Fit | None:
    return fit_hose(hose, routed)
