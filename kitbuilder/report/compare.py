"""The page of `kitbuilder compare`: kits side by side, their sums with the difference, and what does what in each."""

from collections.abc import Iterator, Sequence

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.findings import Amount, Finding
from kitbuilder.plans.side_by_side import Total
from kitbuilder.report.compare_data import compare_data
from kitbuilder.report.compare_rows import Block, CompareLine, function_words, kit_blocks, row_blocks
from kitbuilder.report.comparison import TOTALS, VERSIONS, Comparison, is_marked, total_shown, total_value
from kitbuilder.report.findings import subject
from kitbuilder.report.linked import not_used, problems_of
from kitbuilder.report.page import (
    Cell,
    Column,
    Estimate,
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
    is_sentence,
    joined,
    text,
)
from kitbuilder.report.words import CAUTIONS, counted_items, ended

DIFFERS = "*"
LEGEND = (
    "* differs: in kind, or in a figure by more than its spread. A difference is taken from the first kit; what the "
    "kits share cancels out. It is rounded by itself, so that it can be one off in its last digit from the difference "
    "of the figures shown. Kept: the second stage breathed once the other one is given."
)
TOP = "kit"
"""What the keys at the top of a kit file belong to."""
NOT_KNOWN, NOT_GIVEN = "not known", "not given"


def compare_page(shown: Comparison) -> Page:
    """Build the page: what changed between versions, the parts by function, the sums, and the findings of some.

    The screen has the same order.
    """
    return Page(
        [
            compare_data(shown),
            _which(shown),
            not_used(linked_problems(shown)),
            *changes_parts(shown),
            *row_parts(shown),
            totals_table(shown),
            *finding_parts(shown),
            Section("", [text(LEGEND)]),
            Section("", [text(CAUTIONS)]),
        ]
    )


def changes_page(shown: Comparison) -> Page:
    """Build what changed between two versions alone, for a page over the kit that is open."""
    columns = [Column("", " ", names_row=True), Column("", VERSIONS[1]), Column("", "change")]
    sums: list[Row] = [
        [TOTALS[total.name][0], total_value(total, 1) or NOT_KNOWN, _change(total, 0)]
        for total in shown.found.totals
        if is_marked(total, 0)
    ]
    follows = Table("", columns, sums, title="What follows", empty="every sum stays the same")
    return Page([*changes_parts(shown), follows, *finding_parts(shown), *row_parts(shown)])


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
    sides = (total_value(total, place) or NOT_KNOWN for place in range(len(total.figures)))
    changes = [_change(total, 0)] if with_difference else []
    differs = any(is_marked(total, number) for number in range(len(total.changes)))
    return [DIFFERS if differs else "", label, *sides, *changes]


def _total_rows(total: Total, shown: Comparison) -> Iterator[Row]:
    label, *_ = TOTALS[total.name]
    yield ["", label, None, None]
    for place, name in enumerate(shown.names):
        change = _change(total, place - 1) if place else None
        mark = DIFFERS if place and is_marked(total, place - 1) else ""
        yield [mark, f"  {name}", total_value(total, place) or NOT_KNOWN, change]


def _change(total: Total, number: int) -> Estimate | Amount | None:
    """Give how the figure of a kit differs from that of the first one, by its number among the others."""
    return total_shown(total, total.changes[number].change, TOTALS[total.name][2])


# ---- the parts ----


def row_parts(shown: Comparison) -> list[Node]:
    """Build what the kits are and what does what in each, and name what is the same in all."""
    blocks = [
        *kit_blocks(shown.found, everything=shown.everything),
        *row_blocks(shown.found, everything=shown.everything),
    ]
    table = blocks_table(shown, blocks)
    same = shown.found.equal_rows
    if not same or shown.everything:
        return [table]
    said = f"{counted_items(len(same), 'row')} {'is' if len(same) == 1 else 'are'} the same"
    if len(same) == len(shown.found.rows):
        return [table, text(f"No row differs: {said}.")]
    names = ", ".join(dict.fromkeys(map(function_words, same)))
    return [table, Section("", [text(f"{said}: {names}.")])]


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
        for place, name in enumerate(names):
            yield ["", f"  {name}", joined(_cells_of(block.lines, place), "; ")]


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
        [change.tag or TOP, change.key, change.before or NOT_GIVEN, change.after or NOT_GIVEN]
        if change.key
        else [change.tag or TOP, change.way.value, None, None]
        for change in shown.changes
    ]
    title = f"Changes: {len(rows)}" if rows else "Changes"
    return [Table("", columns, rows, title=title, empty="none; the two files say the same")]
