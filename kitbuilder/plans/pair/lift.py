"""Lead and lift of each diver, and whether one bladder can hold both where the other fails."""

from collections.abc import Iterator
from typing import NamedTuple

from kitbuilder.assess.buoyancy.balance import Balance, Moment
from kitbuilder.assess.figures import Figure, difference, of_another, scaled, total
from kitbuilder.catalogue import catalogue
from kitbuilder.plans.pair.members import Direction, Member, Missing


class Weighed(NamedTuple):
    """The lead of one diver, and what is heaviest."""

    member: Member
    balance: Balance | None
    """None where no cylinder is known."""

    @property
    def heaviest(self) -> Moment | None:
        """The moment at which the bladder must lift most."""
        return self.balance.heaviest if self.balance else None

    @property
    def heavy(self) -> Figure | None:
        """What pulls down then with an empty bladder; minus where the diver floats up [kgf]."""
        return scaled(self.balance.heaviest.buoyancy, -1) if self.balance else None

    @property
    def lift(self) -> Figure | None:
        """Of all own bladders [kgf]."""
        return self.balance.buoyancy_model.lift if self.balance else None

    @property
    def spare(self) -> Figure | None:
        """The own lift that is left at that moment; minus where it is not enough [kgf]."""
        if self.lift is None or self.heavy is None:
            return None
        return difference(self.lift, self.heavy, "lift less what pulls down")


class HeldByOther(NamedTuple):
    """One diver whose bladder fails, and another whose bladder is to hold both."""

    way: Direction
    """Who lifts, and who is lifted."""
    alone: Figure | None
    """The other's lift against this diver alone: what is left, minus where it is not enough [kgf]."""
    both: Figure | None
    """What is left when one bladder holds both at the heaviest moment of each [kgf]."""

    @property
    def lacks(self) -> bool:
        """Whether one bladder holds both less likely than not, with what a fit diver swims up against."""
        return self.both is not None and self.both.value + catalogue().limits["swim_up"].value < 0

    @property
    def may_lack(self) -> bool:
        """Whether none may be left for both: zero lies within the spread, or below it."""
        return self.both is not None and self.both.value < self.both.sides[0]


def weighed(member: Member) -> Weighed:
    """Give lead and lift of a diver."""
    return Weighed(member, member.assessment.balance)


def held_by_other(way: Direction) -> HeldByOther:
    """Say whether the bladder of the one holds the other as well; figures of two divers are independent."""
    lifter, lifted = weighed(way.giver), weighed(way.receiver)
    heavy = lifted.heavy
    if lifter.lift is None or heavy is None or lifter.spare is None:
        return HeldByOther(way, None, None)
    down = scaled(of_another(heavy, f"{way.receiver.name}: "), -1)
    return HeldByOther(
        way,
        total((lifter.lift, down), "the other's lift less what pulls down"),
        total((lifter.spare, down), "lift less what pulls both down"),
    )


def missing_of_weighed(found: Weighed) -> Iterator[Missing]:
    """Name what would say more of lead and lift."""
    if found.balance is not None and found.lift is None:
        for item in found.member.assessment.kit.items:
            if item.kind in ("wing", "jacket"):
                yield Missing(found.member.file, item.tag, "lift", "how much it lifts")
