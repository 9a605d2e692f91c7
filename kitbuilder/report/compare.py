"""The page of `kitbuilder compare`: kits side by side, their sums with the difference, and what does what in each."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.figures import Figure
from kitbuilder.assess.findings import Amount, Finding
from kitbuilder.kit.items import Hose
from kitbuilder.kitfile.differences import Difference, Way
from kitbuilder.plans.part_differences import Side
from kitbuilder.plans.side_by_side import SideBySide, Total
from kitbuilder.report.compare_rows import NONE, Block, CompareLine, function_words, kit_block, row_blocks
from kitbuilder.report.findings import subject
from kitbuilder.report.linked import not_used, problems_of
from kitbuilder.report.page import (
    Cell,
    Column,
    Estimate,
    Facts,
    Node,
    Page,
    Row,
    Scalar,
    Section,
    Sentence,
    Statement,
    Statements,
    Table,
    Tag,
    Text,
    Values,
    is_sentence,
    joined,
    only_data,
    text,
)
from kitbuilder.report.shapes import FIGURE, FLAG, NUMBER, SIGNAL, TEXT, listed, one_of, optional, record
from kitbuilder.report.words import CAUTIONS, counted_items, ended

TOTALS = {
    "hoses_mass_kg": ("mass of the hoses", "hose mass", "hose buoyancy"),
    "hoses_buoyancy_kgf": ("buoyancy of the hoses", "hose buoyancy", "hose buoyancy"),
    "everything_mass_kg": ("mass of all items", "mass", "buoyancy"),
    "everything_buoyancy_kgf": ("buoyancy of all items", "buoyancy", "buoyancy"),
    "lead_needed_kg": ("lead for the stop", "lead", "lift"),
    "lead_carried_kg": ("lead carried", "lead", "lift"),
    "lead_droppable_kg": ("of it droppable", "lead", "lift"),
}
"""Each sum by its key: its label, its measure, and that of a difference, which has a sign."""
EXACT = ("lead_carried_kg", "lead_droppable_kg")
"""Sums without a spread: what the file says."""
_FIGURES = {key: optional(NUMBER if key in EXACT else FIGURE) if key.startswith("lead") else FIGURE for key in TOTALS}
PART = record(
    file=TEXT,
    tag=TEXT,
    kind=TEXT,
    leads_to=optional(TEXT),
    length_m=optional(NUMBER),
    body=optional(TEXT),
    mass_kg=optional(FIGURE),
    buoyancy_kgf=optional(FIGURE),
)
"""What does a thing in one kit; a kit without one is left out."""
SHAPE = record(
    kits=listed(record(file=TEXT, name=TEXT, layout=TEXT, water=TEXT, diver=optional(TEXT), **_FIGURES)),
    less_first=listed(record(file=TEXT, **_FIGURES)),
    rows=listed(
        record(functions=listed(TEXT), equal=FLAG, differs_in=listed(TEXT), kits=listed(PART)),
    ),
    findings_not_in_all=listed(record(file=TEXT, signal=SIGNAL, rule=TEXT, item=optional(TEXT), what=TEXT)),
    changes=optional(
        listed(record(way=one_of(*(way.value for way in Way)), item=TEXT, key=TEXT, before=TEXT, after=TEXT))
    ),
)
DIFFERS = "*"
LEGEND = (
    "* differs: in kind, or in a figure by more than its spread. A difference is taken from the first kit; what the "
    "kits share cancels out. Kept: the second stage breathed once the other one is given."
)
VERSIONS = ("before", "now")
NOT_KNOWN, NOT_GIVEN = "not known", "not given"
TOP = "kit"
"""What the keys at the top of a kit file belong to."""


class Comparison(NamedTuple):
    """Kits to show, and how."""

    found: SideBySide
    files: tuple[str, ...]
    """As they were given."""
    changes: tuple[Difference, ...] | None = None
    """What the second file says otherwise, where both are versions of one kit; None where they are not."""
    everything: bool = False
    """Whether what is the same is shown too."""
    is_beside: bool | None = None
    """Whether each kit has a column; by default where there are two."""

    @property
    def kits(self) -> tuple[Assessment, ...]:
        """The kits."""
        return self.found.kits

    @property
    def has_columns(self) -> bool:
        """Whether each kit has a column; else the kits stand below each other."""
        return len(self.files) == 2 if self.is_beside is None else self.is_beside

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the kits, numbered where two have the same; of versions, which one is the older."""
        if self.changes is not None:
            return VERSIONS
        names = tuple(kit.kit.header.name for kit in self.kits)
        if len(set(names)) == len(names):
            return names
        return tuple(f"{number} {name}" for number, name in enumerate(names, 1))


def compare_page(shown: Comparison) -> Page:
    """Build the page: what changed between versions, the sums, the parts by function, and the findings of some."""
    return Page(
        [
            _data(shown),
            _which(shown),
            not_used(linked_problems(shown)),
            *changes_parts(shown),
            totals_table(shown),
            *row_parts(shown),
            *finding_parts(shown),
            Section("", [text(LEGEND)]),
            Section("", [text(CAUTIONS)]),
        ]
    )


def changes_page(shown: Comparison) -> Page:
    """Build what changed between two versions alone, for a page over the kit that is open."""
    return Page([*changes_parts(shown), totals_table(shown), *row_parts(shown), *finding_parts(shown)])


def linked_problems(shown: Comparison) -> tuple[str, ...]:
    """Give what is wrong with the linked files of the kits, each with the name of its kit."""
    return problems_of(zip(shown.files, (kit.kit for kit in shown.kits), strict=True))


def _which(shown: Comparison) -> Text:
    named = [(Tag(kit.kit.header.name), f" ({file})") for kit, file in zip(shown.kits, shown.files, strict=True)]
    if shown.changes is not None:
        return text(*named[0], ", and ", *named[1], " as another version of it")
    return text(*joined(named, " beside "))


# ---- the sums ----


def totals_table(shown: Comparison) -> Table:
    """Build the table of what the kits weigh and need, and how that differs from the first kit."""
    totals = shown.found.totals
    if shown.has_columns:
        differences = [Column("", "difference")] if len(shown.kits) == 2 else []
        return Table("", [*_columns(shown), *differences], [_total_row(total, bool(differences)) for total in totals])
    columns = [Column("", " "), Column("", " ", names_row=True), Column("", "figure"), Column("", "less the first")]
    return Table("", columns, [row for total in totals for row in _total_rows(total, shown)])


def _total_row(total: Total, with_difference: bool) -> Row:
    label, *_ = TOTALS[total.name]
    sides = (_value(total, place) or NOT_KNOWN for place in range(len(total.figures)))
    changes = [_change(total, 0)] if with_difference else []
    return [DIFFERS if total.differs else "", label, *sides, *changes]


def _total_rows(total: Total, shown: Comparison) -> Iterator[Row]:
    label, *_ = TOTALS[total.name]
    yield ["", label, None, None]
    for place, name in enumerate(shown.names):
        change = _change(total, place - 1) if place else None
        mark = DIFFERS if place and total.changes[place - 1].differs else ""
        yield [mark, f"  {name}", _value(total, place) or NOT_KNOWN, change]


def _value(total: Total, place: int) -> Estimate | Amount | None:
    return _shown(total, total.figures[place], TOTALS[total.name][1])


def _change(total: Total, number: int) -> Estimate | Amount | None:
    """Give how the figure of a kit differs from that of the first one, by its number among the others."""
    return _shown(total, total.changes[number].change, TOTALS[total.name][2])


def _shown(total: Total, figure: Figure | None, measure: str) -> Estimate | Amount | None:
    if figure is None:
        return None
    return Amount(figure.value, measure) if total.name in EXACT else Estimate(figure, measure)


# ---- the parts ----


def row_parts(shown: Comparison) -> list[Node]:
    """Build what the kits are and what does what in each, and name what is the same in all."""
    blocks = [
        kit_block(shown.found, everything=shown.everything),
        *row_blocks(shown.found, everything=shown.everything),
    ]
    table = blocks_table(shown, blocks)
    same = shown.found.equal_rows
    if not same or shown.everything:
        return [table]
    if len(same) == len(shown.found.rows):
        return [table, text(f"All {counted_items(len(same), 'row')} are the same.")]
    names = ", ".join(dict.fromkeys(map(function_words, same)))
    verb = "is" if len(same) == 1 else "are"
    return [table, Section("", [text(f"{counted_items(len(same), 'row')} {verb} the same: {names}.")])]


def blocks_table(shown: Comparison, blocks: Sequence[Block]) -> Table:
    """Build the table of blocks: a column for each kit, or a row for each kit under each function."""
    if shown.has_columns:
        return Table("", _columns(shown), [*_beside(blocks, len(shown.kits))])
    columns = [Column("", " "), Column("", " ", names_row=True), Column("", " ", may_wrap=True)]
    return Table("", columns, [*_below(blocks, shown.names)])


def _beside(blocks: Sequence[Block], kits: int) -> Iterator[Row]:
    before = 0
    for block in blocks:
        if before and max(before, len(block.lines)) > 1:  # what takes one line stands close
            yield [None] * (2 + kits)
        before = len(block.lines)
        for line in block.lines:
            yield [DIFFERS if line.differs else "", line.label, *line.cells]


def _below(blocks: Sequence[Block], names: Sequence[str]) -> Iterator[Row]:
    for block in blocks:
        yield [DIFFERS if block.lines[0].differs else "", block.label, None]
        has_some = [place for place in range(len(names)) if block.lines[0].cells[place] != NONE]
        for place in has_some:
            yield ["", f"  {names[place]}", joined(_cells_of(block.lines, place), "; ")]
        if len(has_some) < len(names):
            others = ", ".join(name for place, name in enumerate(names) if place not in has_some)
            yield ["", f"  {NONE}", others]


def _cells_of(lines: Sequence[CompareLine], place: int) -> Iterator[Sentence]:
    for line in lines:
        cell = line.cells[place]
        if cell is not None:
            yield cell if is_sentence(cell) else (_scalar(cell),)


def _scalar(cell: Cell) -> Scalar:
    assert cell is not None
    assert not is_sentence(cell)
    return cell


def _columns(shown: Comparison) -> list[Column]:
    names = (Column("", name, may_wrap=True) for name in shown.names)
    return [Column("", " "), Column("", " ", names_row=True), *names]


# ---- findings, and changes between versions ----


def finding_parts(shown: Comparison) -> list[Node]:
    """Build the findings of each kit that not every kit has; of versions, those that are gone and those that are new.

    In short: what to do about them stands in the answer about the kit itself.
    """
    only = "gone", "new"
    sections: list[Node] = []
    for place, (kit, name) in enumerate(zip(shown.kits, shown.names, strict=True)):
        findings = shown.found.findings[place]
        title = f"Findings only in {name}" if len(shown.kits) == 2 else f"Findings of {name} that not all have"
        if shown.changes is not None:
            title = f"Findings that are {only[place]}"
        entries = [_finding(finding, kit) for finding in findings]
        sections.append(Statements("", entries, title=f"{title}: {len(entries)}" if entries else title, empty="none"))
    return sections


def _finding(finding: Finding, kit: Assessment) -> Statement:
    about = subject(finding, kit.kit)
    what = ended(finding.what)
    return Statement((about if finding.item is None else Tag(about), ": ", *what), mark=finding.signal)


def changes_parts(shown: Comparison) -> list[Node]:
    """Build the list of what the second file says otherwise; nothing where the files are no versions of one kit."""
    if shown.changes is None:
        return []
    columns = [Column("", head, may_wrap=True) for head in ("item", "key", *VERSIONS)]
    rows: list[Row] = [
        [
            _item(change),
            change.key or change.way.value,
            change.before,
            change.after or ("not given" if change.key else ""),
        ]
        for change in shown.changes
    ]
    title = f"Changes: {len(rows)}" if rows else "Changes"
    return [Table("", columns, rows, title=title, empty="none; the two files say the same")]


def _item(change: Difference) -> str:
    return change.tag or TOP


# ---- for programs ----


def _data(shown: Comparison) -> Facts:
    changes = None if shown.changes is None else _change_data(shown.changes)
    return only_data(
        ("kits", _kits(shown)),
        ("less_first", _less_first(shown)),
        ("rows", _rows(shown)),
        ("findings_not_in_all", _findings(shown)),
        ("changes", changes),
    )


def _kits(shown: Comparison) -> Table:
    keys = ("file", "name", "layout", "water", "diver", *TOTALS)
    rows: list[Row] = []
    for place, (file, kit) in enumerate(zip(shown.files, shown.kits, strict=True)):
        header, diver = kit.kit.header, kit.kit.linked.diver
        figures = [_value(total, place) for total in shown.found.totals]
        rows.append([file, header.name, header.layout, kit.water.name, diver.header.name if diver else None, *figures])
    return Table("kits", [Column(key, "") for key in keys], rows)


def _less_first(shown: Comparison) -> Table:
    rows: list[Row] = [
        [file, *(_shown(total, total.changes[place].change, TOTALS[total.name][1]) for total in shown.found.totals)]
        for place, file in enumerate(shown.files[1:])
    ]
    return Table("less_first", [Column(key, "") for key in ("file", *TOTALS)], rows)


def _rows(shown: Comparison) -> Table:
    columns = [Column(key, "") for key in ("functions", "equal", "differs_in", "kits")]
    rows: list[Row] = [
        [Values(row.functions), row.is_equal, Values(row.differs_in), _parts(row.sides, shown.files)]
        for row in shown.found.rows
    ]
    return Table("rows", columns, rows)


def _parts(sides: Sequence[Side | None], files: Sequence[str]) -> Table:
    columns = [Column(key, "") for key in PART["properties"]]
    return Table("kits", columns, [_part(side, file) for side, file in zip(sides, files, strict=True) if side])


def _part(side: Side, file: str) -> Row:
    item, weight = side.item, side.weight
    hose = item if isinstance(item, Hose) else None
    measures = ("hose mass", "hose buoyancy") if hose else ("mass", "buoyancy")
    return [
        file,
        item.tag,
        item.kind,
        side.device.tag if side.device else None,
        Amount(hose.length_m, "length") if hose else None,
        hose.body if hose else None,
        Estimate(weight.mass, measures[0]) if weight else None,
        Estimate(weight.buoyancy, measures[1]) if weight else None,
    ]


def _findings(shown: Comparison) -> Table:
    columns = [Column(key, "") for key in ("file", "signal", "rule", "item", "what")]
    rows: list[Row] = [
        [file, finding.signal, finding.rule, _subject(finding, kit), ended(finding.what)]
        for file, kit, findings in zip(shown.files, shown.kits, shown.found.findings, strict=True)
        for finding in findings
    ]
    return Table("findings_not_in_all", columns, rows)


def _subject(finding: Finding, kit: Assessment) -> str | None:
    return None if finding.item is None else subject(finding, kit.kit)


def _change_data(changes: Sequence[Difference]) -> Table:
    columns = [Column(key, "") for key in ("way", "item", "key", "before", "after")]
    return Table(
        "changes", columns, [[each.way.value, _item(each), each.key, each.before, each.after] for each in changes]
    )
