"""The page of `kitbuilder spares`: the spare parts to bring, and what each is for."""

from collections.abc import Iterator, Sequence

from kitbuilder.catalogue.spares import GROUPS
from kitbuilder.kit.trip import SPARES
from kitbuilder.plans.spares import SpareLine, SparesList
from kitbuilder.report.linked import not_used
from kitbuilder.report.page import (
    Column,
    Estimate,
    Fact,
    Facts,
    Node,
    Page,
    Row,
    Section,
    Statement,
    Statements,
    Table,
    Tag,
    Text,
    Values,
    joined,
    only_data,
    text,
)
from kitbuilder.report.shapes import COUNT, FIGURE, TEXT, listed, one_of, record
from kitbuilder.report.words import CAUTIONS

LISTED = listed(
    record(
        group=one_of(*GROUPS),
        pieces=COUNT,
        spare=TEXT,
        mass_kg=FIGURE,
        fits=listed(TEXT),
        serves=listed(TEXT),
        why=TEXT,
        origin=TEXT,
    )
)
SHAPE = record(
    kits=listed(TEXT),
    level=one_of(*SPARES),
    mass_kg=FIGURE,
    spares=LISTED,
    in_kits=listed(record(kit=TEXT, tag=TEXT)),
    not_listed=listed(record(kit=TEXT, why=TEXT)),
)

NOTHING = "No spares at this level."
LARGER_NEED = (
    "One list for all kits: what serves several is listed once, with the larger need. Who carries what is for you to "
    "agree."
)
FROM_MEMORY = (
    "Numbers and masses are common practice, from memory: weigh the bag. The inside of a regulator is for a technician."
)
LEAST_SHOWN_KG = 0.001
"""A mass below it is not worth a number on paper."""


def spares_page(found: SparesList, names: Sequence[str], problems: Sequence[str] = ()) -> Page:
    """Build the page of a list of spares.

    Args:
        found: The list.
        names: The kits, by the names that their files give them.
        problems: What is wrong with linked files, a sentence each.
    """
    return Page(
        [
            only_data(("kits", Values([Tag(file) for file in found.files])), ("level", found.level)),
            *(text(file, ": ", name) for file, name in zip(found.files, names, strict=True)),
            not_used(problems),
            Section("", [Facts([Fact("mass_kg", f"spares, {found.level}", Estimate(found.mass, "mass"))])]),
            *spares_tables(found),
            _not_listed(found),
            Section("", list(_notes(found))),
            Section("", [text(CAUTIONS)]),
        ]
    )


def spares_tables(found: SparesList) -> Iterator[Node]:
    """Build the tables of what to bring, one for each group, and of what the kit files have already."""
    yield spares_data(found)
    has_several = len(found.files) > 1
    columns = [
        Column("", "spare", may_wrap=True),
        Column("", "mass"),
        Column("", "for", may_wrap=True),
        Column("", "kit" if has_several else "", may_wrap=True),
    ]
    for group in GROUPS:
        if lines := found.of_group(group):
            yield Table("", columns, [_row(line, found) for line in lines], title=f"{group[:1].upper()}{group[1:]}")
    if not found.lines:
        yield text(NOTHING)
    rows: list[Row] = [[Tag(file), Tag(tag)] for file, tag in found.in_kits]
    title = "In the kit files already" if rows else ""
    yield Table("in_kits", [Column("kit", "kit"), Column("tag", "spare")], rows, title=title)


def _row(line: SpareLine, found: SparesList) -> Row:
    mass = Estimate(line.mass.even, "hose mass") if line.mass.value >= LEAST_SHOWN_KG else "below 1 g"
    serves = "all" if line.serves == found.files else ", ".join(line.serves)
    return [(line.pieces, " × ", *line.what), mass, ", ".join(line.fits) or line.why, serves]


def spares_data(found: SparesList) -> Table:
    """Build the table of all lines for programs."""
    columns = [Column(key, "") for key in ("group", "pieces", "spare", "mass_kg", "fits", "serves", "why", "origin")]
    rows: list[Row] = [
        [
            line.group,
            line.pieces,
            line.what,
            Estimate(line.mass, "mass"),
            Values([Tag(fit) for fit in line.fits]),
            Values([Tag(file) for file in line.serves]),
            line.why,
            line.origin,
        ]
        for line in found.lines
    ]
    return Table("spares", columns, rows)


def _not_listed(found: SparesList) -> Statements:
    entries = []
    for file in dict.fromkeys(file for file, _ in found.not_built):
        reasons = [why for named, why in found.not_built if named == file]
        head = (Tag(file), ": no O-rings and no tools are listed, because its joints contradict themselves.")
        why = joined(reasons, " ")
        entries.append(Statement(head, [*reasons], only_data(("kit", Tag(file)), ("why", why)).rows))
    return Statements("not_listed", entries)


def _notes(found: SparesList) -> Iterator[Text]:
    if len(found.files) > 1:
        yield text(LARGER_NEED)
    if found.lines:
        yield text(FROM_MEMORY)
