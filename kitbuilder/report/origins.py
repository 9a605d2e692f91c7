"""Where the figures of an item come from, and what their spread is made of."""

from collections.abc import Iterator

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.buoyancy.balance import Balance
from kitbuilder.assess.figures import Figure, Weight
from kitbuilder.assess.hoses.hose_weight import ends_of, service_of
from kitbuilder.catalogue import Value, catalogue
from kitbuilder.foreign import visible
from kitbuilder.kit.items import Device, FirstStage, Hose
from kitbuilder.report.numbers import System, digits, shown, with_spread

MOST_SHARES = 6


def origin_lines(assessment: Assessment, item: int | None, system: System) -> list[str]:
    """Each figure of an item, or of the whole kit, with its origin and the largest parts of its spread."""
    if item is None:
        weight: Weight | None = assessment.everything
        small = ""
        heading = [f"Water: {assessment.water.name}; density {assessment.water.density.origin}.", ""]
    else:
        record = assessment.kit.items[item]
        weight = assessment.weights[item]
        small = "hose " if isinstance(record, Hose) else ""
        heading = [*_catalogue_lines(record), ""]
    if weight is None:
        return ["Neither a preset nor a weighed mass tells what it weighs."]
    mass = _figure_lines("Mass", weight.mass, f"{small}mass", f"{small}mass", system)
    buoyancy = _figure_lines("Buoyancy", weight.buoyancy, f"{small}buoyancy", f"{small}mass", system)
    return [visible(line) for line in (*heading, *mass, "", *buoyancy)]


def lead_origin_lines(balance: Balance, system: System) -> list[str]:
    """What the spread of the lead is made of, and what float checks leave of the body's own."""
    lead = _figure_lines("Lead", balance.lead, "lead", "lead", system)
    body = _figure_lines("Body alone", balance.body, "lift", "lead", system)
    return [visible(line) for line in (*lead, "", *body)]


def _figure_lines(name: str, figure: Figure, measure: str, share_measure: str, system: System) -> Iterator[str]:
    yield f"{name} {with_spread(figure, measure, system)}: {figure.origin}."
    largest = [
        (source, share)
        for source, share in figure.largest_shares
        if digits(share, share_measure, system).strip("+-−0.")
    ]
    for source, share in largest[:MOST_SHARES]:
        yield f"  ± {shown(abs(share), share_measure, system):>8}  {source}"
    if len(largest) > MOST_SHARES:
        yield f"  and {len(largest) - MOST_SHARES} smaller"


def _catalogue_lines(item: object) -> Iterator[str]:
    trade = catalogue()
    if isinstance(item, Hose):
        body, ends = trade.bodies[service_of(item), item.body], ends_of(item)
        name = f"{body.service} {body.name}"
        yield from _values(name, mass_per_metre=body.mass_per_length, outside_diameter=body.outside_diameter)
        for fitting in (ends.at_first_stage, ends.at_device):
            yield from _values(fitting.name, mass=fitting.mass)
    elif isinstance(item, (FirstStage, Device)) and item.preset:
        preset = trade.presets[item.kind, item.preset]
        values = {"mass": preset.mass, "density": preset.density, "buoyancy": preset.buoyancy_salt}
        yield from _values(preset.name, **{name: value for name, value in values.items() if value})


def _values(of: str, **values: Value) -> Iterator[str]:
    for name, value in values.items():
        yield f"{of}, {name.replace('_', ' ')}: {value.origin}."
