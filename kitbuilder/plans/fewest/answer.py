"""The set that was found: its hoses, which runs they serve, why each is needed, and how certain that is."""

from collections.abc import Sequence
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.figures import Figure, total
from kitbuilder.assess.fit.verdict import must_measure
from kitbuilder.assess.gas.oxygen_clean import loses_cleanliness
from kitbuilder.assess.gear.owners import Owners, owners_of
from kitbuilder.plans.fewest.candidates import CandidateHose, HoseSources, Spec
from kitbuilder.plans.fewest.reasons import Reason, Unserved
from kitbuilder.plans.fewest.runs import Run

COUNT, MASS, PRICE = "count", "mass", "price"
ORDERS = {"fewest": (COUNT, MASS, PRICE), "lightest": (MASS, COUNT, PRICE), "cheapest": (PRICE, COUNT, MASS)}
"""The usual orders, by what comes first. Of as many hoses those are taken of which fewer have to be bought."""
MASS_STEP_KG, PRICE_STEP = 1e-4, 0.01
"""Differences below these count as equal: a tenth of a gram, far below any scale, and a cent."""

PROVED, BEST_SO_FAR, NOTHING_FOUND, INFEASIBLE = "proved", "best so far", "nothing found", "infeasible"


class Assignment(NamedTuple):
    """A run that a hose of the set serves."""

    run: Run
    why: str
    """Why its length does: see `runs`."""
    odds: float | None
    """How likely it is to be long enough, from 0 to 1; None where the run is not known."""


class SetHose(NamedTuple):
    """One hose of the set."""

    candidate: CandidateHose
    tag: str
    """Of this piece in the gear file, or of the stock; empty where it has none."""
    mass: Figure
    serves: tuple[Assignment, ...]
    """At most one of each kit."""
    reason: Reason | None
    """None where no run by itself forces it, and the solver's bound is the proof."""

    @property
    def must_be_clean(self) -> bool:
        """Whether one of its runs needs a hose that is clean for oxygen."""
        return any(each.run.must_be_clean for each in self.serves)

    @property
    def soiled_by(self) -> tuple[Run, ...]:
        """The runs after which it counts as not clean, and must not serve another of its runs until it is cleaned."""
        runs = [each.run for each in self.serves]
        return tuple(run for run in runs if any(loses_cleanliness(run.contact, other.contact) for other in runs))


class Status(NamedTuple):
    """How certain it is that there is no better set."""

    word: str
    """Proved; the best found so far; nothing found; infeasible, since no run has any hose that would do."""
    bound: int
    """The lower bound of the cost that is minimised first, in hoses, tenths of a gram or cents."""
    is_first_proved: bool
    """Whether at least the cost that is minimised first is proved."""

    @property
    def bound_mass_kg(self) -> float:
        """The lower bound of the mass, where mass is minimised first [kg]."""
        return self.bound * MASS_STEP_KG

    @property
    def bound_price(self) -> float:
        """The lower bound of the price, where price is minimised first."""
        return self.bound * PRICE_STEP


class SecondBest(NamedTuple):
    """The second-best set."""

    hoses: tuple[SetHose, ...]
    without: tuple[CandidateHose, ...]
    """What the best set has and this has not, once a piece."""
    instead: tuple[CandidateHose, ...]
    """What this has and the best has not."""

    @property
    def mass(self) -> Figure:
        """Of all its hoses [kg]."""
        return _sum_of_masses(self.hoses)


class AnyBody(NamedTuple):
    """The smallest set if every hose could have any body."""

    hoses: int
    left_out: int
    """Runs that it leaves without a hose."""


class Purchase(NamedTuple):
    """Equal hoses to buy."""

    candidate: CandidateHose
    hoses: tuple[SetHose, ...]
    """The hoses of the set that they are."""

    @property
    def pieces(self) -> int:
        """How many."""
        return len(self.hoses)

    @property
    def tags(self) -> tuple[str, ...]:
        """Of the hoses of the kits whose place they take, each once."""
        return tuple(dict.fromkeys(assignment.run.hose.tag for hose in self.hoses for assignment in hose.serves))

    @property
    def odds(self) -> float | None:
        """How likely each is to be long enough, at the least, from 0 to 1; None where no run is known."""
        known = (assignment.odds for hose in self.hoses for assignment in hose.serves)
        return min((odds for odds in known if odds is not None), default=None)

    @property
    def must_measure(self) -> bool:
        """Whether the run of one of them has to be measured before it is bought."""
        return must_measure(self.odds)

    @property
    def must_be_clean(self) -> bool:
        """Whether they have to be clean for oxygen."""
        return any(hose.must_be_clean for hose in self.hoses)

    @property
    def price(self) -> float | None:
        """For all of them, in the currency of the stock; None when the stock gives no price."""
        return None if self.candidate.price is None else self.candidate.price * self.pieces


class FewestPlan(NamedTuple):
    """The least set of hoses for some kits."""

    kits: tuple[tuple[str, Assessment], ...]
    runs: tuple[Run, ...]
    sources: HoseSources
    order: tuple[str, ...]
    any_body: bool
    hoses: tuple[SetHose, ...]
    """LP before HP, the shortest first."""
    unserved_runs: tuple[Unserved, ...]
    """The runs that have none, in the order of the kits."""
    status: Status
    second: SecondBest | None
    """None when there is none, or none that costs little more."""
    if_any_body: AnyBody | None
    """None when bodies are free already, or it was not found in time."""

    @property
    def owners(self) -> Owners:
        """Whose the kits are."""
        return owners_of(kit.kit for _, kit in self.kits)

    @property
    def owned(self) -> tuple[SetHose, ...]:
        """The hoses that are there."""
        return tuple(hose for hose in self.hoses if hose.candidate.is_owned)

    @property
    def bought(self) -> tuple[SetHose, ...]:
        """The hoses that have to be bought."""
        return tuple(hose for hose in self.hoses if not hose.candidate.is_owned)

    @property
    def purchases(self) -> tuple[Purchase, ...]:
        """The hoses that have to be bought, equal ones together, in the order of the set."""
        alike: dict[tuple[str, Spec, bool], list[SetHose]] = {}
        for hose in self.bought:
            alike.setdefault((hose.tag, hose.candidate.spec, hose.must_be_clean), []).append(hose)
        return tuple(Purchase(hoses[0].candidate, tuple(hoses)) for hoses in alike.values())

    @property
    def served(self) -> int:
        """How many runs have a hose."""
        return len(self.runs) - len(self.unserved_runs)

    @property
    def mass(self) -> Figure:
        """Of all hoses of the set [kg]."""
        return _sum_of_masses(self.hoses)

    @property
    def price(self) -> float:
        """Of what has to be bought, as far as it is given, in the currency of the stock."""
        return _sum_of_prices(self.hoses)

    @property
    def known_price(self) -> float | None:
        """The price of what has to be bought, as far as it is given; None when no price of it is."""
        return self.price if len(self.bought) > self.without_price else None

    @property
    def without_price(self) -> int:
        """How many hoses have to be bought whose price is not given."""
        return sum(hose.candidate.price is None for hose in self.bought)

    @property
    def is_forced(self) -> bool:
        """Whether a run forces every hose, so that a reader can see that no fewer will do."""
        return bool(self.hoses) and all(hose.reason for hose in self.hoses)


def _sum_of_masses(hoses: Sequence[SetHose]) -> Figure:
    return total((hose.mass for hose in hoses), "sum of the hoses")


def _sum_of_prices(hoses: Sequence[SetHose]) -> float:
    return round(sum(hose.candidate.price or 0.0 for hose in hoses), 2)
