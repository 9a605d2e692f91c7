"""The table of all items for a weigh-in: mass, buoyancy, where they come from, and shares in the lead's uncertainty."""

from kitbuilder.kit.fields import Field
from kitbuilder.kit.items import Item
from kitbuilder.plans.weigh_in import ORDERS, WeighedItem, WeighIn
from kitbuilder.report.form import Choice
from kitbuilder.report.page import (
    Column,
    Estimate,
    Fact,
    Facts,
    Node,
    Page,
    Row,
    Section,
    Share,
    Table,
    Tag,
    Text,
    only_data,
    text,
)
from kitbuilder.report.shapes import COUNT, FIGURE, FLAG, SHARE, TEXT, listed, one_of, optional, record
from kitbuilder.report.sorting import Order
from kitbuilder.report.totals import estimates, total_rows

_WEIGHT = record(mass_kg=FIGURE, buoyancy_kgf=FIGURE)
_ROW = record(
    tag=TEXT,
    line=optional(COUNT),
    kind=TEXT,
    is_rented=FLAG,
    mass_kg=optional(FIGURE),
    buoyancy_kgf=optional(FIGURE),
    share_of_lead=optional(SHARE),
)
WEIGH_IN = record(
    sorted_by=one_of(*ORDERS),
    rows=listed(_ROW),
    totals=record(bring=_WEIGHT, rented=_WEIGHT, lead=_WEIGHT, everything=_WEIGHT),
    shares_of_lead=optional(record(body=SHARE, lead_taken=SHARE, float_checks=SHARE)),
)
"""The shape of the table in JSON."""
HOW_SHARED = (
    "A share is a part of the variance of the lead. What several items have in common, such as the density of the "
    "water or the mass of cylinders of one preset, counts once: it is divided among them by how much each has of it."
)
FILLED = "Cylinders are filled. In the water: at the surface of the water of this kit."
READING_NAMES = {"mass": "mass, dry", "buoyancy": "buoyancy in fresh water"}
"""What is read off the scale, by the key that takes it."""
QUOTE = '"'
ORDER_WORDS = {
    "file": "as in the file",
    "item": "by tag",
    "mass": "the heaviest first",
    "mass-uncertainty": "the least certain mass first",
    "buoyancy": "what floats most first",
    "buoyancy-uncertainty": "the least certain buoyancy first",
    "from": "by where mass and buoyancy come from",
    "share": "what makes the lead uncertain first",
}
"""What each order does."""


ORDER_OF_HEAD = {
    "item": "item",
    "mass": "mass",
    "in water": "buoyancy",
    "share of lead ±": "share",
    "from": "from",
}
"""The order in which the table comes when the head of a column is clicked."""


def order_of(plan: WeighIn) -> Order | None:
    """Give the column that a table is sorted by, for its head; None where it is sorted by none of its columns."""
    columns = (column for column, order in ORDER_OF_HEAD.items() if order == plan.order)
    return next((Order(column) for column in columns), None)


def weigh_in_section(plan: WeighIn | None) -> Node:
    """Build the table with its totals; only null in JSON when it is not wanted."""
    if plan is None:
        return only_data(("weigh_in", None))
    table = items_table(plan)._replace(key="rows", empty="no items")
    data = only_data(("sorted_by", plan.order), ("totals", _totals_data(plan)), ("shares_of_lead", _shares_data(plan)))
    parts: list[Node] = [data, table, totals_of(plan), *_shares_of_no_item(plan)]
    return Section("All items", parts, key="weigh_in")


def items_table(plan: WeighIn) -> Table:
    """Build one row for each item, in the order of the plan."""
    columns = [
        Column("tag", "item", may_wrap=True, names_row=True),
        Column("line", ""),
        Column("kind", ""),
        Column("is_rented", ""),
        Column("mass_kg", "mass", unit_in_head=True),
        Column("buoyancy_kgf", "in water", unit_in_head=True),
        Column("share_of_lead", "share of lead ±"),
        Column("", "from", may_wrap=True, role="note"),
    ]
    return Table("", columns, [_row(plan, row) for row in plan.rows])


def items_list(plan: WeighIn) -> Table:
    """Build the same for a screen, which repeats below it where the values of the item under the cursor come from."""
    table = items_table(plan)
    return table._replace(columns=[*table.columns[:-1], table.columns[-1]._replace(is_repeated=True)])


def totals_of(plan: WeighIn) -> Table:
    """Build the table of what is brought, rented, lead, and all together: dry and in the water."""
    groups = [
        ("bring", plan.bring, True),
        ("rented", plan.rented, plan.has_rented),
        ("lead", plan.lead, plan.has_lead),
        (total_rows(plan.assessment)[-1].label, plan.assessment.everything, True),
    ]
    columns = [Column("", " "), Column("", "dry", unit_in_head=True), Column("", "in the water", unit_in_head=True)]
    return Table("", columns, [[label, *estimates(weight)] for label, weight, is_there in groups if is_there])


def weigh_in_page(plan: WeighIn) -> Page:
    """Build what stands beside the table on a screen: the totals, whose the other shares are, and what a share is."""
    return Page([totals_of(plan), *_shares_of_no_item(plan), text(FILLED)])


def order_choices() -> list[Choice]:
    """List what the table can be sorted by."""
    return [Choice(order, ORDER_WORDS[order]) for order in ORDERS]


def reading_words(field: Field) -> str:
    """Say what the scale has to read for a key, with an example."""
    return f"{field.meaning} For example {field.example.strip(QUOTE)}."


def computed_words(item: Item, reading: str) -> str:
    """Say that an item has no key for a reading."""
    kind = item.title if item.kind == "lead" else f"a {item.title}"
    return f"The {reading} of {kind} is computed, not typed."


def origin_words(row: WeighedItem) -> str:
    """Say where both values of an item come from; once where they come from the same. A spare is in no water."""
    if row.item.in_spares:
        return f"{row.mass.origin if row.mass else 'not known'}; a spare, out of the water"
    mass, buoyancy = (figure.origin if figure else "not known" for figure in (row.mass, row.buoyancy))
    return mass if mass == buoyancy else f"{mass}; in water: {buoyancy}"


def _row(plan: WeighIn, row: WeighedItem) -> Row:
    return [
        Tag(row.item.tag),
        plan.assessment.kit.lines.of(row.number, None),
        row.item.kind,
        bool(row.item.rented),
        Estimate(row.mass, "mass") if row.mass else None,
        Estimate(row.buoyancy, "buoyancy") if row.buoyancy else None,
        None if row.share is None else Share(row.share),
        origin_words(row),
    ]


def _totals_data(plan: WeighIn) -> Facts:
    together = {
        "bring": plan.bring,
        "rented": plan.rented,
        "lead": plan.lead,
        "everything": plan.assessment.everything,
    }
    rows = []
    for name, weight in together.items():
        mass, buoyancy = estimates(weight)
        rows.append(Fact(name, "", only_data(("mass_kg", mass), ("buoyancy_kgf", buoyancy))))
    return Facts(rows)


def _shares_data(plan: WeighIn) -> Facts | None:
    if plan.shares is None:
        return None
    body, lead, checks = plan.shares.body, plan.shares.lead, plan.shares.checks
    return only_data(("body", Share(body)), ("lead_taken", Share(lead)), ("float_checks", Share(checks)))


def _shares_of_no_item(plan: WeighIn) -> list[Text]:
    if plan.shares is None:
        return [text("The lead is not known yet: nothing is known of any cylinder.")]
    body, lead, checks = Share(plan.shares.body), Share(plan.shares.lead), Share(plan.shares.checks)
    counted = ("; of float checks: ", checks) if plan.shares.checks else ()
    return [text("Share of the body: ", body, "; of the lead itself: ", lead, *counted, "."), text(HOW_SHARED)]
