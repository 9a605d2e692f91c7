"""The lead of a kit beside the trade's rule of thumb, and what makes the difference."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from kitbuilder.assess.assembly import is_stage
from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.buoyancy.balance import Balance
from kitbuilder.assess.buoyancy.buoyancy_model import RESERVE, BuoyancyPart, gas_at, lead_sinks, total_buoyancy
from kitbuilder.assess.buoyancy.cylinder_weight import Vessel, work_out_vessel
from kitbuilder.assess.findings import Amount, Tag, Words
from kitbuilder.assess.water import Water
from kitbuilder.catalogue.entries import Value
from kitbuilder.catalogue.rules_of_thumb import rules_of_thumb
from kitbuilder.kit.items import Cylinder, Drysuit, Item, Other, Suit

USUAL_CYLINDER = "aluminium 11.1 L 207"
"""The preset of the cylinder that the rules take for granted, nearly empty."""
PLATES = "back-plate"
"""How the presets of plates begin."""
USUAL_WATER = "ocean"
Counted = (Cylinder, Suit, Drysuit)
"""The kinds of item that have a term of their own."""
SUIT, CYLINDERS, PLATE, OTHERS, WATER, BODY = "suit", "cylinders", "plate", "other items", "water", "body"
"""The terms that a rule of thumb and the balance may differ in."""
WORTH_NAMING_KG = 0.5


class RuleTerm(NamedTuple):
    """One part of the rule of thumb, such as a tenth of the mass of the body."""

    name: str
    """`BODY`, `SUIT`, `CYLINDERS` or `WATER`."""
    what: Words
    low_kg: float
    high_kg: float


class Difference(NamedTuple):
    """By how much more lead than the rule the balance asks for because of one term, and why."""

    name: str
    """`SUIT`, `CYLINDERS`, `PLATE`, `OTHERS` or `BODY`."""
    lead_kg: float
    why: Words


class RuleOfThumb(NamedTuple):
    """The rule of thumb for a kit, and what the balance of the kit counts otherwise."""

    terms: tuple[RuleTerm, ...]
    differences: tuple[Difference, ...]
    """Those worth naming, the largest first."""

    @property
    def low_kg(self) -> float:
        """The least lead that the rule gives; no less than none."""
        return max(0.0, sum(term.low_kg for term in self.terms))

    @property
    def high_kg(self) -> float:
        """The most lead that the rule gives; no less than none."""
        return max(0.0, sum(term.high_kg for term in self.terms))


def plan_rule_of_thumb(assessment: Assessment, exposure: str) -> RuleOfThumb | None:
    """Set the lead of a kit beside the rule of thumb; None where the lead cannot be worked out.

    Args:
        assessment: The kit.
        exposure: What keeps the diver warm, a word of `styles.toml`.
    """
    balance = assessment.balance
    if balance is None:
        return None
    water = assessment.kit.header.water or USUAL_WATER
    terms = tuple(_terms(balance, exposure, water))
    return RuleOfThumb(terms, _differences(balance, terms))


def _terms(balance: Balance, exposure: str, water: str) -> Iterator[RuleTerm]:
    rules, mass_kg = rules_of_thumb(), balance.buoyancy_model.body.mass.value
    suit = rules.exposures[exposure]
    if suit.share.high:
        what = (f"{_percent(suit.share)} of a body mass of ", Amount(mass_kg, "body mass"))
        yield RuleTerm(BODY, what, suit.share.low * mass_kg, suit.share.high * mass_kg)
    yield from _term(SUIT, exposure, suit.more)
    for number, metal in enumerate(vessel.metal for vessel in _in_order(balance)):
        rule = rules.metals[metal]
        yield from _term(CYLINDERS, f"{'further' if number else 'first'} cylinder: {metal}", rule[min(number, 1)])
    yield from _term(WATER, f"{water} water", rules.waters[water])


def _term(name: str, what: str, value: Value) -> Iterator[RuleTerm]:
    """Give a term, unless it adds nothing."""
    if value.low or value.high:
        yield RuleTerm(name, (what,), value.low, value.high)


def _percent(share: Value) -> str:
    ends = dict.fromkeys(f"{end * 100:.3g}" for end in (share.low, share.high))
    return f"{' to '.join(ends)} %"


def _in_order(balance: Balance) -> list[Vessel]:
    """Give the cylinders, stages last: the first is the one that the rule takes for granted."""
    kit, vessels = balance.buoyancy_model.kit, balance.buoyancy_model.vessels
    return [vessel for _, vessel in sorted(vessels, key=lambda pair: is_stage(kit, pair[0]))]


def _differences(balance: Balance, terms: Sequence[RuleTerm]) -> tuple[Difference, ...]:
    """Give the terms of the difference between balance and rule that are worth naming; all of them add up to it."""
    known = (
        Difference(SUIT, _of_foam(balance), ("The rule is for the surface; at the stop the water squeezes the foam.",)),
        Difference(
            CYLINDERS,
            _of_cylinders(balance) - _middle(terms, CYLINDERS),
            ("Each by its metal and mass with the reserve left; the rule knows only the metal.",),
        ),
        Difference(PLATE, _lead_for(balance, _plates(balance)), ("The rule takes a kit without a plate.",)),
        Difference(
            OTHERS,
            _lead_for(balance, _others(balance)) - rules_of_thumb().others.value,
            ("The rule takes one regulator, a jacket and fins. ", *_heaviest(balance)),
        ),
    )
    left = balance.lead.value - _middle(terms) - sum(each.lead_kg for each in known)
    rest = Difference(BODY, left, ("Build, breath and warm clothing; the rule takes a usual build and a full breath.",))
    worth = (each for each in (*known, rest) if abs(each.lead_kg) >= WORTH_NAMING_KG)
    return tuple(sorted(worth, key=lambda each: -abs(each.lead_kg)))


def _middle(terms: Sequence[RuleTerm], name: str | None = None) -> float:
    """Give the middle of the rule, or of its terms of a name [kg]."""
    return sum((term.low_kg + term.high_kg) / 2 for term in terms if name in (None, term.name))


def _of_foam(balance: Balance) -> float:
    """Say how much less lead is needed at the stop than at the surface, as a number below zero [kg]."""
    model = balance.buoyancy_model
    at_stop, at_surface = (total_buoyancy(model, depth, RESERVE).value for depth in (balance.stop.depth_m, 0.0))
    return (at_stop - at_surface) / lead_sinks(model.water)


def _of_cylinders(balance: Balance) -> float:
    """Say how much more lead the cylinders with their reserve ask for than the one of the rule [kg]."""
    model = balance.buoyancy_model
    usual = work_out_vessel(Cylinder(tag="usual", preset=USUAL_CYLINDER), model.water)
    assert usual is not None, "the preset has all that a vessel needs"
    own = sum(_nearly_empty(vessel, model.water) for _, vessel in model.vessels)
    return (own - _nearly_empty(usual, model.water)) / lead_sinks(model.water)


def _nearly_empty(vessel: Vessel, water: Water) -> float:
    """Give the buoyancy of a cylinder with its reserve [kgf]."""
    return vessel.empty.buoyancy.value - gas_at(vessel, RESERVE, water).value


def _lead_for(balance: Balance, parts: Sequence[BuoyancyPart]) -> float:
    """Say how much lead some parts ask for, below zero for those that sink [kg]."""
    return sum(part.floats.value for part in parts) / lead_sinks(balance.buoyancy_model.water)


def _plates(balance: Balance) -> list[BuoyancyPart]:
    return [part for part, item in _items(balance) if _is_plate(item)]


def _others(balance: Balance) -> list[BuoyancyPart]:
    """Give what is no plate, no cylinder and no suit."""
    return [part for part, item in _items(balance) if not (_is_plate(item) or isinstance(item, Counted))]


def _items(balance: Balance) -> Iterator[tuple[BuoyancyPart, Item]]:
    model = balance.buoyancy_model
    return ((part, model.kit.items[part.item]) for part in model.parts if part.item is not None)


def _is_plate(item: Item) -> bool:
    return isinstance(item, Other) and (item.preset or "").startswith(PLATES)


def _heaviest(balance: Balance) -> Words:
    """Name the two other items that sink most."""
    items = balance.buoyancy_model.kit.items
    most = sorted(_others(balance), key=lambda part: part.floats.value)[:2]
    tags = [Tag(items[part.item].tag) for part in most if part.item is not None]
    if len(tags) < 2:
        return ()
    return ("Here ", tags[0], " and ", tags[1], " sink most.")
