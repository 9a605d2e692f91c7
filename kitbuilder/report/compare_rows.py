"""What does the same in several kits, in words: a block of lines for each function, with a cell of each kit."""

from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.findings import Amount
from kitbuilder.assess.gas.mixes import gas_name_of
from kitbuilder.assess.gear.sameness import BODY, BORE, ENDS, KIND, LENGTH, MAKE
from kitbuilder.kit.items import Cylinder, Drysuit, FirstStage, Hose, Item, Suit
from kitbuilder.plans.part_differences import ADAPTERS, BUOYANCY, DEVICE, FILLING, FIT, GAS, MASS, Side
from kitbuilder.plans.side_by_side import Row, SideBySide
from kitbuilder.report.check import water_words
from kitbuilder.report.hose_fit import hose_fit_words
from kitbuilder.report.page import Cell, Estimate, Sentence

NONE = "none"


class CompareLine(NamedTuple):
    """A line: what it is about, and a cell for each kit."""

    label: str
    cells: tuple[Cell, ...]
    differs: bool


class Block(NamedTuple):
    """The lines about one function, the first of which names the parts."""

    label: str
    lines: tuple[CompareLine, ...]


def kit_blocks(found: SideBySide, *, everything: bool) -> list[Block]:
    """Give what the kits are: layout, and water and wearer where they differ or everything is shown; a block each."""
    lines = [
        _line("layout", [kit.kit.header.layout for kit in found.kits]),
        _line("water", [water_words(kit) for kit in found.kits]),
    ]
    if any(kit.kit.linked.diver for kit in found.kits):
        lines.append(_line("worn by", [_diver(kit) for kit in found.kits]))
    return [Block(line.label, (line,)) for line in lines if everything or line.differs or line is lines[0]]


def row_blocks(found: SideBySide, *, everything: bool) -> tuple[Block, ...]:
    """Give a block for each row of parts.

    Args:
        found: The kits.
        everything: Whether rows and lines in which the kits are the same are there too.
    """
    rows = (row for row in found.rows if everything or not row.is_equal)
    return tuple(Block(function_words(row), tuple(_lines_of(row, everything=everything))) for row in rows)


def function_words(row: Row) -> str:
    """Name what a row is about: "breathed and given"."""
    return " and ".join(row.functions)


def _lines_of(row: Row, *, everything: bool) -> Iterator[CompareLine]:
    yield CompareLine(function_words(row), tuple(map(_head, row.sides)), not row.is_equal)
    has_hose = any(side and side.hose for side in row.sides)
    details = _of_hoses(row) if has_hose else _of_items(row)
    for is_essential, line in details:
        if any(line.cells) and (is_essential or everything or (line.differs and None not in row.sides)):
            yield line


def _of_hoses(row: Row) -> Iterator[tuple[bool, CompareLine]]:
    """Give the lines about a hose and what it feeds, each with whether it stands even where the kits are the same."""
    yield True, _detail(row, "length and body", _build, LENGTH, BODY, KIND)
    yield False, _detail(row, "bore", _bore, BORE)
    yield False, _detail(row, "make", _make, MAKE)
    yield False, _detail(row, "leads to", _device, DEVICE)
    yield False, _detail(row, "ends", _ends, ENDS, ADAPTERS, KIND)
    yield False, _detail(row, "fit", _fit, FIT, KIND)
    yield False, _detail(row, "mass, buoyancy", _weight, MASS, BUOYANCY)


def _of_items(row: Row) -> Iterator[tuple[bool, CompareLine]]:
    yield True, _detail(row, "gas", _gas, GAS, FILLING)
    yield False, _detail(row, "make", _make, MAKE)
    yield False, _detail(row, "mass, buoyancy", _weight, MASS, BUOYANCY)


def _line(label: str, cells: Sequence[Cell]) -> CompareLine:
    return CompareLine(label, tuple(cells), any(cell != cells[0] for cell in cells))


def _detail(row: Row, label: str, of: Callable[[Side], Cell], *reasons: str) -> CompareLine:
    cells = tuple(None if side is None else of(side) for side in row.sides)
    return CompareLine(f"  {label}", cells, row.differs(*reasons))


# ---- cells ----


def _diver(assessment: Assessment) -> Cell:
    diver = assessment.kit.linked.diver
    if diver is None:
        return "no diver file"
    mass = diver.header.mass_kg
    return (str(diver.header.name), *((", ", Amount(mass, "body mass")) if mass else ()))


def _head(side: Side | None) -> Cell:
    if side is None:
        return NONE
    item = side.item
    match item:
        case Hose() if side.hose:
            return item.tag
        case FirstStage() | Cylinder():
            return (item.tag, ": ", *item_words(item))
    lift = side.lift(side.kit.water)
    return (*item_words(item), *((", lift ", Estimate(lift, "lead")) if lift else ()))


def item_words(item: Item) -> Sentence:
    """Say what an item is: its preset, else what its file says of it, else its tag."""
    preset = getattr(item, "preset", None)
    match item:
        case Hose():
            return (Amount(item.length_m, "length"), f" {item.body}, {item.role}")
        case Suit():
            return (item.cut, ", ", Amount(item.thickness_m, "thickness"))
        case Drysuit():
            undersuit = (f", undersuit {item.undersuit}",) if item.undersuit else ()
            return (preset or item.tag, *undersuit)
        case Cylinder() if not preset and item.volume_m3 is not None:
            metal = (f" {item.metal}",) if item.metal else ()
            return (Amount(item.volume_m3, "volume"), *metal)
    return (preset or item.tag,)


def _build(side: Side) -> Cell:
    if (figures := side.hose) is None:
        return "no hose"
    bare = " without its ends" if figures.hose.measured == "hose only" else ""
    return (Amount(figures.hose.length_m, "length"), f" {figures.hose.body}{bare}")


def _bore(side: Side) -> Cell:
    bore = side.hose.hose.bore_m if side.hose else None
    return None if bore is None else (Amount(bore, "bore"),)


def _make(side: Side) -> Cell:
    return getattr(side.item, "make", None)


def _device(side: Side) -> Cell:
    return item_words(side.device) if side.device else None


def _ends(side: Side) -> Cell:
    if side.hose is None:
        return None
    hose = side.hose.hose
    parts = (hose.from_adapter, hose.from_end, "to", hose.to_end, hose.to_adapter)
    return " ".join(part for part in parts if part)


def _fit(side: Side) -> Cell:
    return hose_fit_words(side.hose) if side.hose else None


def _weight(side: Side) -> Cell:
    if side.weight is None:
        return (Estimate(side.mass, "mass"),) if side.mass else "not known"
    measures = ("hose mass", "hose buoyancy") if side.hose else ("mass", "buoyancy")
    return (Estimate(side.weight.mass, measures[0]), ", ", Estimate(side.weight.buoyancy, measures[1]))


def _gas(side: Side) -> Cell:
    if not isinstance(side.item, Cylinder):
        return None
    gas, vessel = gas_name_of(side.item), side.vessel
    if vessel is None:
        return gas
    return (gas, ", ", Amount(vessel.filled_pa, "pressure"), ", reserve ", Amount(vessel.reserve_pa, "pressure"))
