"""The page of `kitbuilder compare`: two kits side by side, their totals with the difference, and hose by hose."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.findings import Amount
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.kit.items import Hose
from kitbuilder.plans.side_by_side import Compared, Pair, SideBySide
from kitbuilder.report.check import water_words
from kitbuilder.report.hose_fit import hose_fit_words
from kitbuilder.report.linked import not_used, problems_of
from kitbuilder.report.page import (
    Cell,
    Column,
    Estimate,
    Facts,
    Page,
    Row,
    Section,
    Table,
    Tag,
    Values,
    only_data,
    text,
)
from kitbuilder.report.shapes import FIGURE, FLAG, NUMBER, TEXT, listed, optional, record
from kitbuilder.report.words import CAUTIONS

_TOTALS = {
    "hoses_mass_kg": FIGURE,
    "hoses_buoyancy_kgf": FIGURE,
    "everything_mass_kg": FIGURE,
    "everything_buoyancy_kgf": FIGURE,
    "lead_needed_kg": optional(FIGURE),
}
_KIT = record(file=TEXT, name=TEXT, layout=TEXT, water=TEXT, diver=optional(TEXT), **_TOTALS)
_HOSE = optional(record(tag=TEXT, length_m=NUMBER, body=TEXT, mass_kg=FIGURE, buoyancy_kgf=FIGURE))
SHAPE = record(
    left=_KIT,
    right=_KIT,
    right_less_left=record(**_TOTALS),
    pairs=listed(record(role=TEXT, left=_HOSE, right=_HOSE, equal=FLAG, differs_in=listed(TEXT))),
)
DIFFERS = "*"
LEGEND = "* differs. A difference is right minus left; what both kits share cancels out."
NOT_KNOWN = "not known"


class PairLine(NamedTuple):
    """One row of the table: what it is about, and a cell for each kit."""

    label: str
    left: Cell
    right: Cell
    differs: bool


def compare_page(found: SideBySide, names: tuple[str, str]) -> Page:
    """Build the page: totals and lead, then the kits and their hoses, differences first.

    Args:
        found: The kits.
        names: Their files, as they were given.
    """
    left, right = (
        (Tag(side.kit.header.name), f" ({file})") for side, file in zip((found.left, found.right), names, strict=True)
    )
    return Page(
        [
            only_data(
                ("left", _kit(names[0], found.left)),
                ("right", _kit(names[1], found.right)),
                ("right_less_left", _changes(found)),
                ("pairs", _pairs(found)),
            ),
            text(*left, " beside ", *right),
            not_used(linked_problems(found, names)),
            totals_table(found),
            lines_table(found, kit_lines(found), *(pair_lines(pair) for pair in found.pairs)),
            text(LEGEND),
            Section("", [text(CAUTIONS)]),
        ]
    )


def linked_problems(found: SideBySide, names: tuple[str, str]) -> tuple[str, ...]:
    """Give what is wrong with the linked files of both kits, each with the name of its kit."""
    return problems_of(zip(names, (found.left.kit, found.right.kit), strict=True))


# ---- the totals ----


def totals_table(found: SideBySide) -> Table:
    """Build the table of what the kits weigh and need: both figures, and the right one less the left one."""
    columns = [*_columns(found), Column("", "difference")]
    return Table("", columns, [_total(*total) for total in _totals(found)])


def _totals(found: SideBySide) -> Iterator[tuple[str, Compared, str, str]]:
    """Give what is compared, its figures, and the measures of a figure and of the difference."""
    yield "mass of the hoses", found.hoses_mass, "mass", "buoyancy"
    yield "buoyancy of the hoses", found.hoses_buoyancy, "buoyancy", "buoyancy"
    yield "mass of all items", found.mass, "mass", "buoyancy"
    yield "buoyancy of all items", found.buoyancy, "buoyancy", "buoyancy"
    yield "lead for the stop", found.lead, "lead", "lift"


def _total(label: str, total: Compared, measure: str, change_measure: str) -> Row:
    sides = (NOT_KNOWN if side is None else Estimate(side, measure) for side in (total.left, total.right))
    change = None if total.change is None else Estimate(total.change, change_measure)
    return [DIFFERS if total.differs else "", label, *sides, change]


# ---- the kits and their hoses ----


def lines_table(found: SideBySide, *groups: Sequence[PairLine]) -> Table:
    """Build the table of lines for both kits, an empty row between two groups of them."""
    rows: list[Row] = []
    for group in groups:
        if rows and group:
            rows.append([None, None, None, None])
        rows += [[DIFFERS if line.differs else "", line.label, line.left, line.right] for line in group]
    return Table("", _columns(found), rows, empty="Nothing differs.")


def kit_lines(found: SideBySide) -> list[PairLine]:
    """Give what the kits are: layout, water and, if either kit says, who wears it."""
    left, right = found.left, found.right
    lines = [
        _line("layout", left.kit.header.layout, right.kit.header.layout),
        _line("water", water_words(left), water_words(right)),
    ]
    if left.kit.linked.diver or right.kit.linked.diver:
        lines.append(_line("worn by", _diver(left), _diver(right)))
    return lines


def pair_lines(pair: Pair) -> list[PairLine]:
    """Give what there is to compare of two hoses of one role; for equal hoses, only what they are."""
    left, right = pair.left, pair.right
    head = PairLine(pair.role, _tag(left), _tag(right), not pair.is_equal)
    build = PairLine("  length and body", _build(left), _build(right), pair.build_differs)
    if pair.is_equal:
        return [head, build]
    return [
        head,
        build,
        PairLine("  ends", _ends(left), _ends(right), pair.ends_differ),
        PairLine("  fit", _fit(left), _fit(right), pair.fit_differs),
        PairLine("  mass, buoyancy", _weight(left), _weight(right), pair.weight_differs),
    ]


def _columns(found: SideBySide) -> list[Column]:
    names = (side.kit.header.name for side in (found.left, found.right))
    return [
        Column("", " "),
        Column("", " ", names_row=True),
        *(Column("", name, may_wrap=True) for name in names),
    ]


def _line(label: str, left: Cell, right: Cell) -> PairLine:
    return PairLine(label, left, right, left != right)


def _diver(assessment: Assessment) -> Cell:
    diver = assessment.kit.linked.diver
    if diver is None:
        return "no diver file"
    mass = diver.header.mass_kg
    return (str(diver.header.name), *((", ", Amount(mass, "body mass")) if mass else ()))


def _tag(figures: HoseFigures | None) -> str:
    return figures.hose.tag if figures else "none"


def _build(figures: HoseFigures | None) -> Cell:
    if figures is None:
        return None
    bare = " without its ends" if figures.hose.measured == "hose only" else ""
    return (Amount(figures.hose.length_m, "length"), f" {figures.hose.body}{bare}")


def _ends(figures: HoseFigures | None) -> Cell:
    if figures is None:
        return None
    hose: Hose = figures.hose
    parts = (hose.from_adapter, hose.from_end, "to", hose.to_end, hose.to_adapter)
    return " ".join(part for part in parts if part)


def _fit(figures: HoseFigures | None) -> Cell:
    return None if figures is None else hose_fit_words(figures)


def _weight(figures: HoseFigures | None) -> Cell:
    if figures is None:
        return None
    return (Estimate(figures.weight.mass, "hose mass"), ", ", Estimate(figures.weight.buoyancy, "hose buoyancy"))


# ---- for programs ----


def _kit(file: str, assessment: Assessment) -> Facts:
    header, diver, hoses = assessment.kit.header, assessment.kit.linked.diver, assessment.all_hoses
    return only_data(
        ("file", file),
        ("name", header.name),
        ("layout", header.layout),
        ("water", assessment.water.name),
        ("diver", diver.header.name if diver else None),
        ("hoses_mass_kg", Estimate(hoses.mass, "mass")),
        ("hoses_buoyancy_kgf", Estimate(hoses.buoyancy, "buoyancy")),
        ("everything_mass_kg", Estimate(assessment.everything.mass, "mass")),
        ("everything_buoyancy_kgf", Estimate(assessment.everything.buoyancy, "buoyancy")),
        ("lead_needed_kg", Estimate(assessment.balance.lead, "lead") if assessment.balance else None),
    )


def _changes(found: SideBySide) -> Facts:
    totals = (found.hoses_mass, found.hoses_buoyancy, found.mass, found.buoyancy, found.lead)
    measures = ("mass", "buoyancy", "mass", "buoyancy", "lead")
    return only_data(
        *(
            (key, None if total.change is None else Estimate(total.change, measure))
            for key, total, measure in zip(_TOTALS, totals, measures, strict=True)
        )
    )


def _pairs(found: SideBySide) -> Table:
    columns = [Column(key, "") for key in ("role", "left", "right", "equal", "differs_in")]
    rows: list[Row] = [
        [pair.role, _hose(pair.left), _hose(pair.right), pair.is_equal, Values(pair.differs_in)] for pair in found.pairs
    ]
    return Table("pairs", columns, rows)


def _hose(figures: HoseFigures | None) -> Facts | None:
    if figures is None:
        return None
    return only_data(
        ("tag", figures.hose.tag),
        ("length_m", Amount(figures.hose.length_m, "length")),
        ("body", figures.hose.body),
        ("mass_kg", Estimate(figures.weight.mass, "hose mass")),
        ("buoyancy_kgf", Estimate(figures.weight.buoyancy, "hose buoyancy")),
    )
