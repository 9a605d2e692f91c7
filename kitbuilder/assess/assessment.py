"""One kit, worked out: every figure and every finding that screens and reports show."""

from collections.abc import Iterator
from typing import NamedTuple

from kitbuilder.assess.body import DiverBody, assess_body
from kitbuilder.assess.buoyancy.balance import Balance, work_out_balance
from kitbuilder.assess.buoyancy.cylinder_weight import missing_of
from kitbuilder.assess.buoyancy.item_weight import mass_alone
from kitbuilder.assess.buoyancy.weigh_alone import weigh_alone
from kitbuilder.assess.figures import Figure, Weight, total, total_weight
from kitbuilder.assess.findings import Finding, Signal, Unchecked, words
from kitbuilder.assess.fit.hose_figures import BODIES, HoseFigures, work_out_hose
from kitbuilder.assess.fit.measures import Wearer, wearer_of
from kitbuilder.assess.fit.routes import lay_hose
from kitbuilder.assess.rules import RULES
from kitbuilder.assess.rules.context import Context, make_context
from kitbuilder.assess.water import Water, assess_water
from kitbuilder.kit.items import Cylinder, Hose, Item
from kitbuilder.kit.lines import Lines
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kit.spare import Spare, in_hand

SLIPS = {"unlike its preset", "unlike its body", "heavier in water", "lighter than its metal", "string against route"}
"""The rules that doubt a value: a slip of the unit or the comma is likelier than such an item."""


class Assessment(NamedTuple):
    """What there is to say about a kit."""

    kit: ResolvedKit
    water: Water
    wearer: Wearer
    hoses: tuple[HoseFigures, ...]
    weights: tuple[Weight | None, ...]
    """Of each item, in the order of the kit, a cylinder filled; None of a spare, and where mass or buoyancy is not
    known."""
    masses: tuple[Figure | None, ...]
    """Of each item, a cylinder filled where its volume is known; None without preset, weighing and stamp [kg]."""
    all_hoses: Weight
    by_body: dict[str, Weight]
    """The hoses of each body there is."""
    if_all: dict[str, Weight]
    """All hoses, were they all of one body."""
    everything: Weight
    """The mass of all items whose mass is known, and the buoyancy of all whose buoyancy is known."""
    balance: Balance | None
    """None when nothing is known of a cylinder, or there is none."""
    findings: tuple[Finding, ...]
    """The worst first, then in the order of the kit."""
    unchecked: tuple[Unchecked, ...]

    @property
    def worst(self) -> Signal | None:
        """The worst signal word among the findings."""
        return self.findings[0].signal if self.findings else None

    @property
    def weighed(self) -> int:
        """How many items have a mass that is known."""
        return sum(mass is not None for mass in self.masses)

    @property
    def floating(self) -> int:
        """How many items have a buoyancy that is known."""
        return sum(weight is not None for weight in self.weights)

    @property
    def spares(self) -> int:
        """How many items are spares with a mass that is known; they have no buoyancy that counts."""
        pairs = zip(self.kit.items, self.masses, strict=True)
        return sum(isinstance(item, Spare) and mass is not None for item, mass in pairs)

    def hose_figures(self, item: int) -> HoseFigures | None:
        """Give the figures of a hose, by its number in the kit."""
        return next((figures for figures in self.hoses if figures.number == item), None)

    def doubt(self, item: int | None, key: str) -> Finding | None:
        """Give the finding that takes a value for a slip; None when none does."""
        of_value = (finding for finding in self.findings if (finding.item, finding.key) == (item, key))
        return next((finding for finding in of_value if finding.rule in SLIPS), None)

    def worst_by_item(self) -> dict[int | None, Signal]:
        """Give the worst signal word of each item that has a finding; None for the kit as a whole."""
        return {finding.item: finding.signal for finding in reversed(self.findings)}


def assess(kit: ResolvedKit) -> Assessment:
    """Work out one kit with all that it refers to."""
    water, body, wearer = assess_water(kit.header), assess_body(kit.linked.diver), wearer_of(kit)
    by_tag = {item.tag: item for item in kit.items}
    hoses = tuple(
        work_out_hose(number, item, water, lay_hose(item, kit, wearer), by_tag)
        for number, item in enumerate(kit.items)
        if isinstance(item, Hose)
    )
    weights = tuple(_item_weights(kit, hoses, water, body))
    by_body = _by_body(hoses)
    all_hoses = total_weight(by_body.values(), "sum of the hoses")
    pairs = tuple(zip(kit.items, weights, strict=True))
    masses = tuple(weight.mass if weight else _mass(item, water, body) for item, weight in pairs)
    others = [number for number, item in enumerate(kit.items) if not isinstance(item, Hose)]
    other_masses = (mass for number in others if (mass := masses[number]))
    other_buoyancies = (weight.buoyancy for number in others if (weight := weights[number]))
    if_all = {body: total_weight((hose.weights[body] for hose in hoses), f"all hoses {body}") for body in BODIES}
    balance = work_out_balance(kit, water)
    findings, unchecked = _run_rules(make_context(kit, water, wearer, hoses, if_all, weights, balance))
    return Assessment(
        kit=kit,
        water=water,
        wearer=wearer,
        hoses=hoses,
        weights=weights,
        masses=masses,
        all_hoses=all_hoses,
        by_body=by_body,
        if_all=if_all,
        everything=Weight(
            total((all_hoses.mass, *other_masses), "sum of all items"),
            total((all_hoses.buoyancy, *other_buoyancies), "sum of all items"),
        ),
        balance=balance,
        findings=tuple(sorted(findings, key=lambda finding: _rank(finding, len(kit.items)))),
        unchecked=(*unchecked, *_without_weight(kit, weights, masses)),
    )


def _rank(finding: Finding, last: int) -> tuple[int, int]:
    """Order the worst first, then as in the kit, then what concerns the whole kit."""
    return -finding.signal, last if finding.item is None else finding.item


def _item_weights(
    kit: ResolvedKit, hoses: tuple[HoseFigures, ...], water: Water, body: DiverBody
) -> Iterator[Weight | None]:
    of_hose = {figures.number: figures.weight for figures in hoses}
    for number, item in enumerate(kit.items):
        yield of_hose[number] if isinstance(item, Hose) else weigh_alone(item, water, body)


def _mass(item: Item, water: Water, body: DiverBody) -> Figure | None:
    """Give the mass of an item that counts without its buoyancy [kg]; None where it is not known."""
    if not isinstance(item, Spare):
        return mass_alone(item)
    weight = weigh_alone(item.item, water, body)
    return weight.mass if weight else mass_alone(item.item)


def _by_body(hoses: tuple[HoseFigures, ...]) -> dict[str, Weight]:
    there = {figures.hose.body for figures in hoses}
    return {
        body: total_weight((figures.weight for figures in hoses if figures.hose.body == body), f"hoses of {body}")
        for body in BODIES
        if body in there
    }


def _run_rules(context: Context) -> tuple[list[Finding], list[Unchecked]]:
    findings: list[Finding] = []
    unchecked: list[Unchecked] = []
    lines = context.kit.lines
    for name, run in RULES.items():
        for result in run(context):
            if isinstance(result, Finding):
                findings.append(result._replace(rule=name, line=lines.of(result.item, result.key)))
            else:
                unchecked.append(result._replace(rule=name, line=_line_to_set(result, lines)))
    return findings, unchecked


def _line_to_set(item: Unchecked, lines: Lines) -> int | None:
    return lines.of(item.item, item.key) if item.key else None


def _without_weight(
    kit: ResolvedKit, weights: tuple[Weight | None, ...], masses: tuple[Figure | None, ...]
) -> tuple[Unchecked, ...]:
    missing = (
        Unchecked(number, _missing_key(in_hand(item)), words(_missing_for_weight(in_hand(item))), "totals")
        for number, (item, weight, mass) in enumerate(zip(kit.items, weights, masses, strict=True))
        if weight is None and not isinstance(item, Hose) and not (isinstance(item, Spare) and mass)
    )
    return tuple(item._replace(line=_line_to_set(item, kit.lines)) for item in missing)


def _missing_key(item: Item) -> str:
    return (missing_of(item) if isinstance(item, Cylinder) else None) or "preset"


def _missing_for_weight(item: Item) -> str:
    if isinstance(item, Cylinder):
        if mass_alone(item) is None:
            return "mass and buoyancy: the cylinder has neither a preset nor all of its stamps"
        return (
            "buoyancy and gas: the cylinder has neither a preset nor all of its stamps, so only its mass without gas "
            "counts"
        )
    if getattr(item, "mass_kg", None) is None:
        return "mass: the item has neither a preset nor a weighed mass"
    return "buoyancy: the item has neither a preset nor a buoyancy weighed in fresh water, so only its mass counts"
