"""Where the figures of an item or of the lead come from, and what their spread is made of."""

from collections.abc import Iterator

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.buoyancy.balance import Balance
from kitbuilder.assess.figures import Figure, Weight, sources_of
from kitbuilder.assess.findings import Amount
from kitbuilder.assess.hoses.hose_weight import ends_of, service_of
from kitbuilder.catalogue import Value, catalogue
from kitbuilder.kit.items import Cylinder, Device, FirstStage, Hose
from kitbuilder.kit.spare import Spare, in_hand
from kitbuilder.report.page import Column, Estimate, Node, Page, Row, Section, Table, Text, text
from kitbuilder.report.words import CAUTIONS

TRUST = (
    "The lead makes diver and kit neutral at the stop, with the reserve in the cylinders, an empty wing and the breath "
    "half way. The range that ± gives covers 95 % of real divers and kits: it comes from body, "
    "suit, cylinders and water, each with what is known of it. One float check at the end of a dive narrows it more "
    "than all of these together; weighing items narrows it a little more.",
    "Foam under pressure: the sources contradict each other, and the spread covers them all. Trim: the places are "
    "usual ones, the body is a rigid one, and a diver levels out by posture and fins.",
)
"""What the balance assumes."""


def origins_page(assessment: Assessment, item: int | None) -> Page:
    """Build the page of an item, or of the kit when None: each figure, its spread in parts, and what it rests on."""
    if item is None:
        water = assessment.water
        rests_on = [text(f"Water: {water.name}; density {water.density.origin}.")]
        return Page([*_weight_parts(assessment.everything, ""), Section("", rests_on)])
    record, weight = in_hand(assessment.kit.items[item]), assessment.weights[item]
    figures = assessment.hose_figures(item)
    rests_on = list(_catalogue_lines(figures.hose if figures else record))
    mass = assessment.masses[item]
    if mass is None:
        return Page([text("Neither a preset nor a weighed mass gives what it weighs."), Section("", rests_on)])
    if isinstance(assessment.kit.items[item], Spare):
        out_of_it = text("A spare stays out of the water: only its mass counts.")
        return Page([*_figure_parts("Mass", mass, "mass", "mass"), out_of_it, Section("", rests_on)])
    if weight is None:
        source = "all of its stamps" if isinstance(record, Cylinder) else "a weighing in fresh water"
        unknown = text(f"Neither a preset nor {source} gives how it floats.")
        return Page([*_figure_parts("Mass", mass, "mass", "mass"), unknown, Section("", rests_on)])
    return Page([*_weight_parts(weight, "hose " if isinstance(record, Hose) else ""), Section("", rests_on)])


def lead_origins_page(balance: Balance | None) -> Page:
    """Build the page of the lead: the parts of its spread, what float checks leave of the body's own, and cautions."""
    figures = [
        *(_figure_parts("Lead", balance.lead, "lead", "lead") if balance else []),
        *(_figure_parts("Body alone", balance.body, "lift", "lead") if balance else []),
    ]
    return Page([*figures, *(Section("", [text(paragraph)]) for paragraph in (*TRUST, CAUTIONS))])


def _weight_parts(weight: Weight, small: str) -> list[Node]:
    return [
        *_figure_parts("Mass", weight.mass, f"{small}mass", f"{small}mass"),
        *_figure_parts("Buoyancy", weight.buoyancy, f"{small}buoyancy", f"{small}mass"),
    ]


def _figure_parts(name: str, figure: Figure, measure: str, size_measure: str) -> list[Node]:
    """Build one figure with its origin, and a table of what its spread is made of."""
    sources = sources_of(figure)
    rows: list[Row] = [[Amount(size, size_measure), source] for source, size in sources.main]
    smaller = [text(f"and {sources.others} smaller", indent=2)] if sources.others else []
    table = Table("", [Column("", "part of ±"), Column("", "comes from", may_wrap=True)], rows)
    origin = Section("", [text(f"{name} ", Estimate(figure, measure), f": {figure.origin}.")])
    return [origin, *([table] if rows else []), Section("", smaller)]


def _catalogue_lines(item: object) -> Iterator[Text]:
    trade = catalogue()
    if isinstance(item, Hose):
        body, ends = trade.bodies[service_of(item), item.body], ends_of(item)
        name = f"{body.service} {body.name}"
        yield from _values(name, mass_per_metre=body.mass_per_length, outside_diameter=body.outside_diameter)
        for fitting in (ends.at_first_stage, ends.at_device):
            yield from _values(fitting.name, mass=fitting.mass)
    elif isinstance(item, FirstStage | Device) and item.preset:
        preset = trade.presets[item.kind, item.preset]
        values = {"mass": preset.mass, "density": preset.density, "buoyancy": preset.buoyancy_salt}
        yield from _values(preset.name, **{name: value for name, value in values.items() if value})


def _values(of: str, **values: Value) -> Iterator[Text]:
    for name, value in values.items():
        yield text(f"{of}, {name.replace('_', ' ')}: {value.origin}.")
