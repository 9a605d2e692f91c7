"""Gas given: which second stage a diver hands over, whether it reaches the other's mouth, and what the giver then has.

Which one is handed over and which one is kept is decided in `assess/gas/second_stages.py`. A diver who would keep none
has none to hand over.
"""

from collections.abc import Sequence
from typing import NamedTuple

from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.assess.fit.partner_reach import PartnerReach, partner_reaches, side_of_hand_over
from kitbuilder.assess.fit.verdict import FITS
from kitbuilder.assess.gas.breathing import Breathable, can_be_breathed, judge_gas
from kitbuilder.assess.gas.feeds import cylinders_feeding
from kitbuilder.assess.gas.second_stages import second_stage_hoses
from kitbuilder.kit.items import Cylinder, Hose
from kitbuilder.plans.pair.members import Direction, Member, Missing, common_depth

MOUTH = "mouth"
HELD_AT = {"alternate": "chest", "necklace": "neck"}
"""Where a second stage that is not breathed is until it is handed over, by the role of its hose: common practice."""
ELSEWHERE = "harness"


class Handed(NamedTuple):
    """The second stage that a diver hands over."""

    second_stage: str
    """Its tag."""
    figures: HoseFigures
    """Of its hose."""
    held_at: str
    """Where it is until then: `MOUTH` where the giver breathes from it."""
    side: str
    """The side of the giver from which the hose comes; empty where its route is not known."""
    then: str
    """The tag of the second stage that the giver breathes from afterwards; empty where there is none."""

    @property
    def from_mouth(self) -> bool:
        """Whether the giver breathes from it until it is handed over."""
        return self.held_at == MOUTH


class Given(NamedTuple):
    """What one diver gives another to breathe."""

    way: Direction
    handed: Handed | None
    """None where the giver has no second stage, or only one, or where that is not known."""
    reaches: tuple[PartnerReach, ...]
    """In every position; empty where the route of the hose is not known."""
    gas: tuple[tuple[Cylinder, Breathable], ...]
    """The cylinders it comes from, and whether the receiver can breathe their gas at the common depth."""
    lost: Hose | None = None
    """The hose given or kept that leads to no item of the kit, so that what is handed over is not known."""

    @property
    def certain(self) -> tuple[PartnerReach, ...]:
        """The positions in which the hose is certain to be long enough."""
        return tuple(reach for reach in self.reaches if reach.verdict.outcome == FITS)

    @property
    def doubtful(self) -> tuple[PartnerReach, ...]:
        """The positions in which it is too short, or may be."""
        return tuple(reach for reach in self.reaches if reach.verdict.outcome != FITS)


def gas_given(way: Direction, members: Sequence[Member]) -> Given:
    """Say what one diver gives another at the greatest depth that all kits are meant for."""
    depth_m = common_depth(members)
    giver, receiver = (member.assessment for member in way)
    if lost := _lost(way.giver):
        return Given(way, None, (), (), lost)
    handed = handed_over(way.giver, depth_m)
    if handed is None:
        return Given(way, None, (), ())
    hose, routed = handed.figures.hose, handed.figures.routed
    reaches = partner_reaches(hose, routed, giver.wearer, receiver.wearer) if routed else ()
    gas = tuple(
        (cylinder, judge_gas(cylinder, depth_m, receiver.kit, receiver.water))
        for cylinder in cylinders_feeding(hose, giver.kit)
    )
    return Given(way, handed, reaches, gas)


def _lost(member: Member) -> Hose | None:
    """Give the hose of a second stage, given before kept, whose "to" names no item of the kit."""
    _, given, kept = second_stage_hoses(member.assessment.kit)
    hoses = (given, kept) if given and kept else ()
    return next((hose for hose in hoses if hose and hose.to and hose.to not in member.by_tag), None)


def handed_over(member: Member, depth_m: float) -> Handed | None:
    """Give the second stage that a diver hands over; None for a diver who would keep none.

    Args:
        member: The diver.
        depth_m: Where it happens: what the giver breathes afterwards must be breathable there.
    """
    assessment = member.assessment
    breathed, given, kept = second_stage_hoses(assessment.kit)
    if given is None or kept is None:
        return None
    figures = next(each for each in assessment.hoses if each.hose.tag == given.tag)
    routed = figures.routed
    side = side_of_hand_over(routed.route, assessment.wearer) if routed and routed.route.given else ""
    held_at = MOUTH if given is breathed else HELD_AT.get(given.role, ELSEWHERE)
    then = _fed_by(kept) if _is_breathable(kept, member, depth_m) else ""
    return Handed(_fed_by(given), figures, held_at, side, then)


def _fed_by(hose: Hose) -> str:
    """Name the second stage at the end of a hose, or the hose where it leads to none."""
    return hose.to or hose.tag


def _is_breathable(hose: Hose, member: Member, depth_m: float) -> bool:
    """Say whether what comes through a hose can be breathed at a depth by its own diver; yes where no gas is known."""
    kit, water = member.assessment.kit, member.assessment.water
    return all(can_be_breathed(cylinder, depth_m, kit, water) for cylinder in cylinders_feeding(hose, kit))


def missing_of_given(found: Given) -> tuple[Missing, ...]:
    """Name what would say more of the gas given."""
    handed, file = found.handed, found.way.giver.file
    if found.lost is not None:
        because = f'which second stage it feeds: there is no item "{found.lost.to}"'
        return (Missing(file, found.lost.tag, "to", because),)
    if handed is None or found.reaches:
        return ()
    return (Missing(file, handed.figures.hose.tag, "route", "how far it reaches when it is handed over"),)
