"""The answer of `kitbuilder swaps` as JSON: its shape, and the cells of a swap and of a set."""

from collections.abc import Sequence

from kitbuilder.assess.fit.verdict import OUTCOMES
from kitbuilder.kit.item_edit import ItemEdit
from kitbuilder.kit.items import Kit
from kitbuilder.kitfile.item_edits import written_edits
from kitbuilder.plans.swaps.options import KINDS, RENTED, Option
from kitbuilder.plans.swaps.swaps import Effect, HoseChange, Swap, Swaps
from kitbuilder.report.findings import FINDING, finding_entries
from kitbuilder.report.page import Cell, Column, Duration, Estimate, Interval, Node, Price, Row, Table, Tag, Values
from kitbuilder.report.shapes import (
    COUNT,
    FIGURE,
    FLAG,
    INTERVAL,
    NUMBER,
    TEXT,
    any_of,
    listed,
    one_of,
    optional,
    record,
)

RENTED_THERE = "rented there"
EDITS = listed(record(item=optional(TEXT), key=TEXT, value=optional(any_of(TEXT, FLAG))))
EFFECT = {
    "saved_kg": FIGURE,
    "lead_change_kg": optional(FIGURE),
    "edits": EDITS,
    "findings": listed(FINDING),
    "findings_gone": listed(FINDING),
}
"""What changes do, in JSON."""
FIT = optional(one_of(*OUTCOMES))
SWAP = record(
    tags=listed(TEXT),
    kind=one_of(*KINDS),
    instead=TEXT,
    gives_up=TEXT,
    alone=FLAG,
    price=optional(NUMBER),
    hoses=listed(
        record(
            tag=TEXT,
            fit_now=FIT,
            fit_then=FIT,
            stand_off_now_m=optional(INTERVAL),
            stand_off_then_m=optional(INTERVAL),
            empty_now_s=optional(INTERVAL),
            empty_then_s=optional(INTERVAL),
        )
    ),
    **EFFECT,
)
OF_KIT = record(
    file=TEXT,
    name=TEXT,
    bag_kg=FIGURE,
    not_weighed=listed(TEXT),
    swaps=listed(SWAP),
    hoses_saved_kg=optional(FIGURE),
    sets=listed(record(letter=TEXT, swaps=listed(COUNT), price=NUMBER, without_price=COUNT, **EFFECT)),
    front=record(found=COUNT, whole=FLAG),
    currency=TEXT,
)
SHAPE = any_of(OF_KIT, record(file=TEXT, name=TEXT, kits=listed(OF_KIT)))
"""Of a kit, or of a trip with its kits."""
SWAP_KEYS: tuple[str, ...] = tuple(SWAP["properties"])
"""The keys of a swap, in the order of its cells."""


def swap_data(swap: Swap, found: Swaps) -> list[Cell | Node]:
    """Give the cells for the keys of `SWAP`, in its order."""
    option = swap.option
    return [
        Values([Tag(tag) for tag in swap.tags]),
        option.kind,
        _plain_instead(option),
        option.gives_up,
        option.is_alone,
        None if option.price is None else Price(option.price, ""),
        Table("", HOSE_COLUMNS, [_hose_row(hose) for hose in swap.effect.hoses]),
        *effect_data(swap.effect, option.edits, found),
    ]


def _plain_instead(option: Option) -> str:
    return RENTED_THERE if option.kind == RENTED else option.new


HOSE_KEYS = ("tag", "fit_now", "fit_then", "stand_off_now_m", "stand_off_then_m", "empty_now_s", "empty_then_s")
HOSE_COLUMNS = [Column(key, "") for key in HOSE_KEYS]


def _hose_row(hose: HoseChange) -> Row:
    return [
        Tag(hose.tag),
        *(each.outcome if each else None for each in hose.verdict),
        *(Interval(each, "length") if each else None for each in hose.stand_off),
        *(Duration(each) if each else None for each in hose.emptying),
    ]


def effect_data(effect: Effect, edits: Sequence[ItemEdit], found: Swaps) -> list[Cell | Node]:
    """Give the cells for the keys of `EFFECT`, in its order."""
    kit = found.before.kit
    return [
        Estimate(effect.saved, "mass"),
        Estimate(effect.lead, "lead change") if effect.lead else None,
        _edits(edits, kit.unresolved),
        finding_entries(effect.new, kit),
        finding_entries(effect.gone, kit),
    ]


def _edits(edits: Sequence[ItemEdit], kit: Kit) -> Table:
    """Give the keys to set in the kit file; a value of null takes the key out."""
    rows: list[Row] = [
        [None if number is None else Tag(kit.items[number].tag), key, _toml(value)]
        for number, values in written_edits(kit, edits)
        for key, value in values.items()
    ]
    return Table("", [Column("item", ""), Column("key", ""), Column("value", "")], rows)


def _toml(value: object) -> Cell:
    assert value is None or isinstance(value, bool | str)
    return value
