"""The list of what can be added: what it is, its kind, what it weighs and how it floats."""

from collections.abc import Sequence

from kitbuilder.assess.body import DiverBody
from kitbuilder.assess.buoyancy.weigh_alone import weigh_alone
from kitbuilder.assess.water import Water
from kitbuilder.kitfile.additions import Addition, first_item
from kitbuilder.report.page import Cell, Column, Estimate, Table


def additions_table(additions: Sequence[Addition], layout: str, water: Water, body: DiverBody) -> Table:
    """Build one row for each addition, as it would be before anything of it is measured.

    Args:
        additions: What can be added.
        layout: That of the kit; it decides how long a hose usually is.
        water: The water it floats in.
        body: The body that wears a suit.
    """
    columns = [
        Column("", "item", may_wrap=True),
        Column("", "kind", role="note"),
        Column("", "mass dry", unit_in_head=True),
        Column("", "buoyancy", unit_in_head=True),
    ]
    rows = [(addition.name, addition.title, *_weight(addition, layout, water, body)) for addition in additions]
    return Table("", columns, rows)


def _weight(addition: Addition, layout: str, water: Water, body: DiverBody) -> tuple[Cell, Cell]:
    item = first_item(addition, layout)
    weight = weigh_alone(item, water, body) if item else None
    if weight is None:
        return None, None
    # With one spread: a range with two ends takes the room of the name.
    return Estimate(weight.mass.even, "mass"), Estimate(weight.buoyancy.even, "buoyancy")
