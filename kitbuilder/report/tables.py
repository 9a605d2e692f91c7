"""Rows that screens and reports share, so that they agree to the last digit."""

from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.figures import Figure, Weight
from kitbuilder.assess.findings import Signal
from kitbuilder.assess.fit.fit import RIGHT, SHORT, Fit, StockOption
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.foreign import visible
from kitbuilder.kit.items import Cylinder, Hose
from kitbuilder.report.numbers import System, digits, shown, spread_digits, unit, with_range, with_spread
from kitbuilder.report.words import counted_items

SHORT_LABEL = 12
"""Characters of a short label, at most."""


class Cell(NamedTuple):
    """A figure as text: value, spread and unit apart, so that a column can be aligned on the decimal point."""

    value: str
    spread: str
    unit: str

    def __str__(self) -> str:
        """As in a report: "  282 ±   46 g"."""
        return f"{self.value:>6} ± {self.spread:>4} {self.unit}"


class WeightRow(NamedTuple):
    """Mass and buoyancy of something."""

    label: str
    short: str
    """The label where room is scarce; empty for a row that can be left out there."""
    mass: Cell
    buoyancy: Cell


def format_water(assessment: Assessment, system: System) -> str:
    """The water and its density: "ocean water, 1026 kg/m³"."""
    return f"{assessment.water.name} water, {shown(assessment.water.density.value, 'density', system)}"


def hose_weight_row(figures: HoseFigures, system: System) -> WeightRow:
    """Mass and buoyancy of one hose."""
    tag = visible(figures.hose.tag)
    return _row(tag, tag, figures.weight, "hose ", system)


def item_weight_row(assessment: Assessment, item: int, system: System) -> WeightRow | None:
    """Mass and buoyancy of one item, hoses in small units; None when it is not known."""
    weight, record = assessment.weights[item], assessment.kit.items[item]
    if weight is None:
        return None
    short, prefix = ("this hose", "hose ") if isinstance(record, Hose) else ("this item", "")
    full = ", full" if isinstance(record, Cylinder) else ""
    return _row(f"this {record.title}{full}", short, weight, prefix, system)


def total_rows(assessment: Assessment, system: System) -> tuple[WeightRow, ...]:
    """The hoses as they are, by body, were they all of one body; and everything in the kit."""
    hoses = counted_items(len(assessment.hoses), "hose")
    rows = [_row(f"{hoses} as they are", hoses, assessment.all_hoses, "", system)]
    if len(assessment.by_body) > 1:
        rows += [_row(f"  of them {body}", "", weight, "", system) for body, weight in assessment.by_body.items()]
    for body, weight in assessment.if_all.items():
        short = f"if {body}"
        rows.append(_row(f"if all were {body}", short if len(short) <= SHORT_LABEL else body, weight, "", system))
    known, count = sum(weight is not None for weight in assessment.weights), len(assessment.weights)
    items = counted_items(count, "item") if known == count else f"{known} of {count}"
    label = f"all {items}" if known == count else f"{items} items"
    return (*rows, _row(label, items, assessment.everything, "", system))


def format_fit(fit: Fit | None, system: System) -> str:
    """How a hose fits, in a few words."""
    if fit is None:
        return "run not measured"
    words = _format_fit(fit, system)
    return f"{words}, estimated" if fit.is_estimated else words


def _format_fit(fit: Fit, system: System) -> str:
    if fit.verdict == SHORT:
        return f"too short by {shown(-fit.slack.value, 'length', system)}"
    if fit.slack_by_design == "stowed":
        return f"{fit.verdict}: {shown(fit.slack.value, 'length', system)} to stow"
    if fit.slack_by_design:
        return f"{fit.verdict}: {shown(fit.slack.value, 'length', system)} to spare"
    if fit.stand_off is None:
        return "too long: hangs in a loop"
    return f"{fit.verdict}: stands {with_range(fit.stand_off, 'length', system)} off"


def fit_rows(hose: Hose, fit: Fit | None, system: System) -> tuple[tuple[str, str], ...]:
    """What is known of a hose on its run, a label and a value a row."""
    if fit is None:
        return (("fit", "measure the run to see slack and stand-off"),)
    verdict = f"{fit.verdict}, estimated" if fit.is_estimated else fit.verdict
    rows = [("fit", verdict), ("slack", with_spread(fit.slack, "slack", system))]
    if fit.rest_is_measured:
        rows.append(("slack at rest", with_spread(fit.rest_slack, "slack", system)))
    if fit.stand_off is not None:
        rows.append(("stand-off", with_range(fit.stand_off, "length", system)))
    if fit.tightest_radius_m is not None:
        rows.append(("tightest bend", f"{shown(fit.tightest_radius_m, 'radius', system)} radius"))
    rows += [
        (f"stock {'shorter' if option is fit.shorter else 'longer'}", format_stock(option, system))
        for option in (fit.shorter, fit.longer)
        if option is not None
    ]
    if fit.verdict != RIGHT and not hose.stowed_m:
        best = shown(fit.best_stock.length_m, "length", system) if fit.best_stock else "none: have one made"
        rows.append(("stock that fits", best))
    return tuple(rows)


def format_picture(fit: Fit, system: System) -> tuple[str, ...]:
    """What belongs to the picture of a hose, in two short lines: slack and span, then the stock lengths around it."""
    slack = f"slack {digits(fit.rest_slack.value, 'slack', system)}±{spread_digits(fit.rest_slack, 'slack', system)}"
    bend = f", bend {digits(fit.tightest_radius_m, 'radius', system)}" if fit.tightest_radius_m is not None else ""
    lines = [f"{slack}, span {digits(fit.span_m, 'length', system)}{bend} {unit('length', system)}"]
    options = (("-", fit.shorter), ("+", fit.longer))
    stock = [f"{sign} {format_stock(option, system, brief=True)}" for sign, option in options if option]
    return (*lines, "  ".join(stock))


def format_stock(option: StockOption, system: System, *, brief: bool = False) -> str:
    """What a stock length would give: "70 cm: 15 cm off"; brief, the unit stands once."""
    length, amount = shown(option.length_m, "length", system), digits if brief else shown
    if option.slack_m < 0:
        return f"{length}: {amount(-option.slack_m, 'length', system)} short"
    if option.stand_off_m is None and option.verdict == RIGHT:
        return f"{length}: {amount(option.slack_m, 'length', system)} to spare"
    if option.stand_off_m is None:
        return f"{length}: a loop"
    return f"{length}: {amount(option.stand_off_m, 'length', system)} off"


def counted(assessment: Assessment) -> str:
    """How many findings there are of each signal word: "1 danger, 2 cautions"."""
    parts = [
        counted_items(count, signal.word.lower())
        for signal in sorted(Signal, reverse=True)
        if (count := assessment.count(signal))
    ]
    return ", ".join(parts) or "none"


def _row(label: str, short: str, weight: Weight, prefix: str, system: System) -> WeightRow:
    return WeightRow(
        label,
        short,
        _cell(weight.mass, f"{prefix}mass", system),
        _cell(weight.buoyancy, f"{prefix}buoyancy", system),
    )


def _cell(figure: Figure, measure: str, system: System) -> Cell:
    return Cell(digits(figure.value, measure, system), spread_digits(figure, measure, system), unit(measure, system))
