"""A pair worked out: what is known of it, what its divers must agree on, and what would say more."""

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.plans.pair.agreement import Agreement
from kitbuilder.plans.pair.agreements import agreements_of
from kitbuilder.plans.pair.facts import Facts
from kitbuilder.plans.pair.given import gas_given, missing_of_given
from kitbuilder.plans.pair.joining import feedings, missing_of_joining, seating_of, shared_hoses, spares_for
from kitbuilder.plans.pair.lift import held_by_other, missing_of_weighed, weighed
from kitbuilder.plans.pair.members import Member, Missing, common_depth, directions, members_of, shared_names
from kitbuilder.plans.pair.single import count_needs, last_breath
from kitbuilder.plans.pair.supplies import missing_of_supply, not_breathable, reserves_elsewhere, supplies_of


class Pair(NamedTuple):
    """Two or three divers who dive together."""

    facts: Facts
    agreements: tuple[Agreement, ...]
    """The gravest first."""
    missing: tuple[Missing, ...]
    """What is not given and would say more, each value once."""
    shared_names: tuple[str, ...]
    """Names that more than one of the divers has."""
    deepest_m: float
    """The greatest depth that all kits are meant for."""

    @property
    def must_agree(self) -> bool:
        """Whether any point is more than good to know."""
        return any(agreement.must_agree for agreement in self.agreements)

    @property
    def members(self) -> tuple[Member, ...]:
        """The divers, in the order in which they were named."""
        return self.facts.members


def pair_up(kits: Sequence[tuple[str, Assessment]]) -> Pair:
    """Work out a pair.

    Args:
        kits: The file of each kit, as it was given, and the kit; two or three.
    """
    members = members_of(kits)
    facts = _facts(members)
    return Pair(
        facts,
        agreements_of(facts),
        tuple(dict.fromkeys(_missing(facts))),
        shared_names(kits),
        common_depth(members),
    )


def _facts(members: tuple[Member, ...]) -> Facts:
    ways = directions(members)
    supplies = tuple(supply for member in members for supply in supplies_of(member))
    return Facts(
        members=members,
        given=tuple(gas_given(way, members) for way in ways),
        supplies=supplies,
        elsewhere=reserves_elsewhere(members, supplies),
        not_breathable=tuple(not_breathable(members, supplies)),
        fed=tuple(fed for way in ways for fed in feedings(way)),
        seated=tuple(seated for way in ways if (seated := seating_of(way))),
        shared_hoses=tuple(hose for pair in combinations(members, 2) for hose in shared_hoses(*pair)),
        spares=tuple(spare for way in ways for spare in spares_for(way)),
        weighed=tuple(map(weighed, members)),
        held=tuple(map(held_by_other, ways)),
        counted=count_needs(members),
        last_breaths=tuple(map(last_breath, members)),
    )


def _missing(facts: Facts) -> Iterator[Missing]:
    for member in facts.members:
        yield from _missing_of_diver(member)
    for given in facts.given:
        yield from missing_of_given(given)
    for supply in facts.supplies:
        yield from missing_of_supply(supply)
    for fed in facts.fed:
        yield from missing_of_joining(fed.way, fed)
    for way in directions(facts.members):
        yield from missing_of_joining(way)
    for found in facts.weighed:
        yield from missing_of_weighed(found)


def _missing_of_diver(member: Member) -> Iterator[Missing]:
    kit = member.assessment.kit
    diver, file = kit.linked.diver, kit.header.diver
    if diver is None:
        if file is None:
            yield Missing(member.file, None, "diver", "the body and the units: an average body is laid out")
        return
    header, place = diver.header, file or member.file
    if header.units is None:
        yield Missing(place, None, "units", "the units of the gauges: taken as metric")
    for key, value in (("stature", header.stature_m), ("mass", header.mass_kg)):
        if value is None:
            yield Missing(place, None, key, "the body: an average one is laid out")
