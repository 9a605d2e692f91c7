"""Gas given: which second stage a diver hands over, whether it reaches the other's mouth, and what the giver then has.

Whose second stage is handed over is common practice: the one on the long hose, else the alternate, else the one on the
longest hose. A diver with one second stage has none to hand over.
"""

from collections.abc import Sequence
from typing import NamedTuple

from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.assess.fit.partner_reach import PartnerReach, partner_reaches, side_of_hand_over
from kitbuilder.assess.fit.verdict import FITS
from kitbuilder.assess.gas.breathing import Breathable, can_be_breathed, judge_gas
from kitbuilder.assess.gas.feeds import cylinders_behind, cylinders_feeding, fed_from, first_stages_of
from kitbuilder.kit.items import Cylinder, SecondStage
from kitbuilder.plans.pair.members import Direction, Member, Missing, common_depth

GIVEN_FIRST = ("long hose", "alternate")
"""The roles of hoses that are made for handing over, the one that comes first before the other."""
MOUTH = "mouth"
HELD_AT = {
    "long hose": MOUTH,
    "primary": MOUTH,
    "alternate": "chest",
    "necklace": "neck",
    "stage second stage": "stage",
}
"""Where a second stage is until it is handed over, by the role of its hose: common practice."""
ELSEWHERE = "harness"
BREATHED_FIRST = ("primary", "necklace", "second stage", "long hose", "alternate", "stage second stage")
"""From which of the others the giver breathes then."""
OF_A_STAGE = "stage second stage"


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
    """None where the giver has no second stage, or only one."""
    reaches: tuple[PartnerReach, ...]
    """In every position; empty where the route of the hose is not known."""
    gas: tuple[tuple[Cylinder, Breathable], ...]
    """The cylinders it comes from, and whether the receiver can breathe their gas at the common depth."""

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


def handed_over(member: Member, depth_m: float) -> Handed | None:
    """Give the second stage that a diver hands over; None for a diver with fewer than two.

    Args:
        member: The diver.
        depth_m: Where it happens: what the giver breathes afterwards must be breathable there.
    """
    assessment, fed = member.assessment, _fed_second_stages(member)
    if len(fed) <= 1:
        return None
    own = {tag: figures for tag, figures in fed.items() if figures.hose.role != OF_A_STAGE} or fed
    tag, figures = min(own.items(), key=lambda each: (_rank(each[1], GIVEN_FIRST), -each[1].hose.length_m))
    others = [other for other in fed if other != tag and _is_breathable(member, other, depth_m)]
    then = min(others, key=lambda other: _rank(fed[other], BREATHED_FIRST), default="")
    routed = figures.routed
    side = side_of_hand_over(routed.route, assessment.wearer) if routed and routed.route.given else ""
    return Handed(tag, figures, HELD_AT.get(figures.hose.role, ELSEWHERE), side, then)


def _fed_second_stages(member: Member) -> dict[str, HoseFigures]:
    """Give the hoses that feed second stages, by the tag of the second stage."""
    by_tag, fed = member.by_tag, fed_from(member.assessment.kit)
    return {
        figures.hose.to: figures
        for figures in member.assessment.hoses
        if figures.hose.to and isinstance(by_tag.get(figures.hose.to), SecondStage) and figures.hose.to in fed
    }


def _rank(figures: HoseFigures, roles: Sequence[str]) -> int:
    return roles.index(figures.hose.role) if figures.hose.role in roles else len(roles)


def _is_breathable(member: Member, second_stage: str, depth_m: float) -> bool:
    """Say whether a diver can breathe from a second stage of the own kit at a depth; yes where no gas is known."""
    kit, water = member.assessment.kit, member.assessment.water
    stages = [stage for stage in first_stages_of(kit) if stage.tag in fed_from(kit)[second_stage]]
    return all(
        can_be_breathed(cylinder, depth_m, kit, water) for stage in stages for cylinder in cylinders_behind(stage, kit)
    )


def missing_of_given(found: Given) -> tuple[Missing, ...]:
    """Name what would say more of the gas given."""
    handed, file = found.handed, found.way.giver.file
    if handed is None or found.reaches:
        return ()
    return (Missing(file, handed.figures.hose.tag, "route", "how far it reaches when it is handed over"),)
