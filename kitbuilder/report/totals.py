"""Mass and buoyancy of the hoses, of the kit, and of one item."""

from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.figures import Weight
from kitbuilder.kit.items import Hose
from kitbuilder.report.page import Column, Estimate, Row, Sentence, Table
from kitbuilder.report.words import counted_items

SHORT_LABEL = 12
"""Characters of a short label, at most."""


class TotalRow(NamedTuple):
    """Mass and buoyancy of several items together."""

    label: str
    short: str
    """The label where room is scarce; empty for a row that can be left out there."""
    weight: Weight


def total_rows(assessment: Assessment) -> tuple[TotalRow, ...]:
    """Give the totals: the hoses as they are, the hoses if all had one body, for each body, and the kit."""
    hoses = counted_items(len(assessment.hoses), "hose")
    rows = [TotalRow(f"{hoses} as they are", hoses, assessment.all_hoses)]
    if len(assessment.by_body) > 1:
        rows += [TotalRow(f"of them {body}", "", weight) for body, weight in assessment.by_body.items()]
    for body, weight in assessment.if_all.items():
        short = f"if {body}"
        rows.append(TotalRow(f"if all were {body}", short if len(short) <= SHORT_LABEL else body, weight))
    known, floating, count = assessment.weighed, assessment.floating, len(assessment.weights)
    items = counted_items(count, "item") if known == count else f"{known} of {count}"
    label = f"all {items}" if known == count else f"{items} items"
    if floating < known - assessment.spares:
        label = f"{label}, buoyancy of {floating}"
    return (*rows, TotalRow(label, items, assessment.everything))


def totals_table(assessment: Assessment) -> Table:
    """Build the table of all totals, for the text; JSON has them by name."""
    return _table([(row.label, row.weight) for row in total_rows(assessment)])


def brief_totals(assessment: Assessment, item: int | None, room: int) -> Table:
    """Build the table of totals where room is scarce, an item that is shown in the same unit first.

    Args:
        assessment: The kit.
        item: The number of the item that is looked at; None for the kit itself.
        room: Rows that there is room for. Where there are more, those by body are left out, then the last of those
            were all hoses of one body.
    """
    rows = total_rows(assessment)
    own = [] if item is None or _is_hose(assessment, item) else _own_row(assessment, item)
    if len(own) + len(rows) > room:
        hoses, *if_all, everything = (row for row in rows if row.short)
        rows = (hoses, *if_all[: max(room - len(own) - 2, 0)], everything)
    return _table([(row.short or row.label, row.weight) for row in rows], own)


def hose_words(assessment: Assessment, item: int | None) -> Sentence:
    """Say mass and buoyancy of the hose that is looked at, in small units; nothing of another item."""
    figures = None if item is None else assessment.hose_figures(item)
    if figures is None:
        return ()
    mass, buoyancy = figures.weight.mass, figures.weight.buoyancy
    return "this hose  ", Estimate(mass, "hose mass"), ", ", Estimate(buoyancy, "hose buoyancy")


def estimates(weight: Weight) -> tuple[Estimate, Estimate]:
    """Give mass and buoyancy of several items together, or of one that is no hose."""
    return Estimate(weight.mass, "mass"), Estimate(weight.buoyancy, "buoyancy")


def _is_hose(assessment: Assessment, item: int) -> bool:
    return isinstance(assessment.kit.items[item], Hose)


def _own_row(assessment: Assessment, item: int) -> list[Row]:
    """Build the row of an item of which at least the mass is known."""
    mass, weight = assessment.masses[item], assessment.weights[item]
    if mass is None:
        return []
    return [["this item", Estimate(mass, "mass"), Estimate(weight.buoyancy, "buoyancy") if weight else "not known"]]


def _table(weights: list[tuple[str, Weight]], above: list[Row] | None = None) -> Table:
    columns = [
        Column("", " ", may_wrap=True),
        Column("", "mass", unit_in_head=True),
        Column("", "buoyancy", unit_in_head=True),
    ]
    rows: list[Row] = [[label, *estimates(weight)] for label, weight in weights]
    rows = [*(above or []), *rows]
    return Table("", columns, rows)
