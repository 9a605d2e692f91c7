"""One kit, worked out: every figure and every finding that screens and reports show."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from kitbuilder.assess.context import Context, HoseFigures, make_context
from kitbuilder.assess.figures import Weight, total_weight
from kitbuilder.assess.findings import Finding, Signal, Unchecked, words
from kitbuilder.assess.fit import fit_hose
from kitbuilder.assess.hose_weight import weigh_hose
from kitbuilder.assess.rules import RULES
from kitbuilder.assess.thing_weight import weigh_thing
from kitbuilder.assess.water import Water, assess_water
from kitbuilder.kit.things import Hose, Kit

BODIES = ("rubber", "braided", "polyurethane")


@dataclass(frozen=True, slots=True)
class Assessment:
    """What there is to say about a kit."""

    kit: Kit
    water: Water
    hoses: tuple[HoseFigures, ...]
    weights: tuple[Weight | None, ...]
    """Of each thing, in the order of the kit; None where neither preset nor scale tells."""
    all_hoses: Weight
    by_body: dict[str, Weight]
    """The hoses of each body there is."""
    if_all: dict[str, Weight]
    """All hoses, were they all of one body."""
    everything: Weight
    """All things whose weight is known."""
    findings: tuple[Finding, ...]
    """The worst first, then in the order of the kit."""
    unchecked: tuple[Unchecked, ...]

    @property
    def worst(self) -> Signal | None:
        """The worst signal word among the findings."""
        return self.findings[0].signal if self.findings else None

    def hose_figures(self, thing: int) -> HoseFigures | None:
        """The figures of a hose, by its number in the kit."""
        return next((figures for figures in self.hoses if figures.number == thing), None)

    def count(self, signal: Signal) -> int:
        """How many findings have a signal word."""
        return sum(finding.signal is signal for finding in self.findings)


def assess(kit: Kit) -> Assessment:
    """Work out one kit."""
    water = assess_water(kit.header)
    weighed = {
        number: {body: weigh_hose(hose, body, water) for body in BODIES}
        for number, hose in enumerate(kit.things)
        if isinstance(hose, Hose)
    }
    hoses = tuple(_hose_figures(kit, number, weights) for number, weights in weighed.items())
    if_all = {
        body: total_weight((weights[body] for weights in weighed.values()), f"all hoses {body}") for body in BODIES
    }
    weights = tuple(_thing_weights(kit, hoses, water))
    context = make_context(kit, water, hoses, if_all)
    findings, unchecked = _run_rules(context)
    unchecked += _without_weight(kit, weights)
    return Assessment(
        kit=kit,
        water=water,
        hoses=hoses,
        weights=weights,
        all_hoses=total_weight((figures.weight for figures in hoses), "sum of the hoses"),
        by_body=_by_body(hoses),
        if_all=if_all,
        everything=total_weight((weight for weight in weights if weight), "sum of all things"),
        findings=tuple(sorted(findings, key=lambda finding: _rank(finding, len(kit.things)))),
        unchecked=unchecked,
    )


def _rank(finding: Finding, last: int) -> tuple[int, int]:
    """The worst first, then in the order of the kit, then what concerns the whole kit."""
    return -finding.signal, last if finding.thing is None else finding.thing


def _hose_figures(kit: Kit, number: int, weights: dict[str, Weight]) -> HoseFigures:
    hose = kit.things[number]
    assert isinstance(hose, Hose)
    return HoseFigures(number, hose, weights[hose.body], fit_hose(hose))


def _thing_weights(kit: Kit, hoses: tuple[HoseFigures, ...], water: Water) -> Iterator[Weight | None]:
    of_hose = {figures.number: figures.weight for figures in hoses}
    for number, thing in enumerate(kit.things):
        yield of_hose[number] if number in of_hose else weigh_thing(thing, water)


def _by_body(hoses: tuple[HoseFigures, ...]) -> dict[str, Weight]:
    there = {figures.hose.body for figures in hoses}
    return {
        body: total_weight((figures.weight for figures in hoses if figures.hose.body == body), f"hoses of {body}")
        for body in BODIES
        if body in there
    }


def _run_rules(context: Context) -> tuple[list[Finding], tuple[Unchecked, ...]]:
    findings: list[Finding] = []
    unchecked: list[Unchecked] = []
    for name, run in RULES.items():
        for result in run(context):
            if isinstance(result, Finding):
                findings.append(replace(result, rule=name))
            else:
                unchecked.append(replace(result, rule=name))
    return findings, tuple(unchecked)


def _without_weight(kit: Kit, weights: tuple[Weight | None, ...]) -> tuple[Unchecked, ...]:
    return tuple(
        Unchecked(number, "preset", words("what it weighs: it has neither a preset nor a weighed mass"), "totals")
        for number, (thing, weight) in enumerate(zip(kit.things, weights, strict=True))
        if weight is None and not isinstance(thing, Hose)
    )
