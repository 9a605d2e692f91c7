"""Everything that is known of a pair, before anything is said about it."""

from typing import NamedTuple

from kitbuilder.plans.pair.given import Given
from kitbuilder.plans.pair.joining import Fed, Seated, SharedHose, SparePart
from kitbuilder.plans.pair.lift import HeldByOther, Weighed
from kitbuilder.plans.pair.members import Member
from kitbuilder.plans.pair.single import Counted, LastBreath
from kitbuilder.plans.pair.supplies import NotBreathable, ReserveElsewhere, Supply


class Facts(NamedTuple):
    """What was found of the divers, in the order of the divers."""

    members: tuple[Member, ...]
    given: tuple[Given, ...]
    supplies: tuple[Supply, ...]
    elsewhere: tuple[ReserveElsewhere, ...]
    not_breathable: tuple[NotBreathable, ...]
    fed: tuple[Fed, ...]
    seated: tuple[Seated, ...]
    shared_hoses: tuple[SharedHose, ...]
    spares: tuple[SparePart, ...]
    weighed: tuple[Weighed, ...]
    held: tuple[HeldByOther, ...]
    counted: tuple[Counted, ...]
    last_breaths: tuple[LastBreath, ...]

    def by_name(self) -> "Facts":
        """Give the same in the order of the divers' names, whatever order was asked for."""
        order = sorted(range(len(self.members)), key=lambda place: self.members[place].name)
        names = [self.members[place].name for place in order]
        return self._replace(
            members=tuple(self.members[place] for place in order),
            given=tuple(sorted(self.given, key=lambda each: each.way.names)),
            supplies=tuple(sorted(self.supplies, key=lambda each: names.index(each.member.name))),
            elsewhere=tuple(sorted(self.elsewhere, key=lambda each: each.way.names)),
            not_breathable=tuple(
                sorted(
                    (each._replace(whom=tuple(sorted(each.whom))) for each in self.not_breathable),
                    key=lambda each: (each.supply.member.name, each.whom),
                )
            ),
            fed=tuple(sorted(self.fed, key=lambda each: each.way.names)),
            seated=tuple(sorted(self.seated, key=lambda each: each.way.names)),
            spares=tuple(sorted(self.spares, key=lambda each: each.way.names)),
            weighed=tuple(sorted(self.weighed, key=lambda each: names.index(each.member.name))),
            held=tuple(sorted(self.held, key=lambda each: each.way.names)),
            counted=tuple(each._replace(counts=tuple(each.counts[place] for place in order)) for each in self.counted),
            last_breaths=tuple(sorted(self.last_breaths, key=lambda each: names.index(each.member.name))),
        )
