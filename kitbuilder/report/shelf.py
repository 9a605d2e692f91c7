"""The kits of a folder: a row for each, and what there is to say about the one under the cursor."""

from collections.abc import Sequence
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.findings import Amount
from kitbuilder.assess.gear.due import format_day
from kitbuilder.foreign import visible
from kitbuilder.kit.trip import Trip
from kitbuilder.kitfile.problems import Problem
from kitbuilder.pictures.range_bar import draw_range, scale_end, scale_head
from kitbuilder.pictures.ticks import RoundTick
from kitbuilder.report.balance import lead_estimate, lead_words
from kitbuilder.report.findings import counted, subject
from kitbuilder.report.layout import lay_out, list_rows
from kitbuilder.report.lines import Line
from kitbuilder.report.numbers import System, unit_size
from kitbuilder.report.page import (
    Cell,
    Column,
    Estimate,
    Fact,
    Facts,
    Node,
    Page,
    Row,
    Section,
    Sentence,
    Statement,
    Statements,
    Table,
    Tag,
    joined,
    text,
)
from kitbuilder.report.sorting import SHELF_COLUMNS
from kitbuilder.report.words import BALANCE_CAUTION, cut, ended

WIDE = 110
"""Columns from which a row has a longer bar and says how many findings there are."""
BAR, LONG_BAR = 10, 16
"""Cells of a bar."""
FINDING = 24
"""Characters of the reason why a file cannot be read, at most."""
STEPS_SHOWN = 2
"""Of what would narrow the lead."""


UNSAVED, CHANGED = "* ", "~ "
SIGNS = {UNSAVED: "has edits that are not saved", CHANGED: "was changed by another program while it was shown"}
"""What stands before the name of a kit or a trip for what happened to its file."""


class ShelfKit(NamedTuple):
    """A kit file on the shelf."""

    name: str
    """Of the file."""
    assessment: Assessment | None
    problems: Sequence[Problem] = ()
    """Why it cannot be read."""
    mark: int = 0
    """Which of the marked kits it is, from 1; 0 for none of them."""
    is_unsaved: bool = False
    """Whether there are edits of it that were not saved."""
    is_changed: bool = False
    """Whether another program changed it while it was shown."""

    @property
    def title(self) -> Tag:
        """The name of the kit, or of a file that cannot be read; a sign before it for what happened to the file."""
        sign = UNSAVED if self.is_unsaved else CHANGED if self.is_changed else ""
        return Tag(f"{sign}{self.assessment.kit.header.name if self.assessment else self.name}")


class ShelfTrip(NamedTuple):
    """A trip file on the shelf."""

    name: str
    """Of the file."""
    trip: Trip | None
    problems: Sequence[Problem] = ()
    """Why it cannot be read."""
    sign: str = ""
    """What stands before its name for what happened to the file."""

    @property
    def row(self) -> Row:
        """Its cells among those of the kits: when it begins stands where a kit has its worst finding."""
        name = Tag(f"{self.sign}{self.trip.header.name if self.trip else self.name}")
        if self.trip is None:
            why = cut(str(self.problems[0]), FINDING) if self.problems else ""
            return [name, None, None, None, None, "not read", why]
        first = self.trip.header.from_
        return [name, None, None, None, None, "trip", first.isoformat() if first else None]


def shelf_rows(
    kits: Sequence[ShelfKit], width: int, system: System, *, plain: bool, trips: Sequence[ShelfTrip] = ()
) -> tuple[Line, list[Line]]:
    """Lay the rows out, with their heads: mass, lead as a number and as a bar on one scale, the worst finding.

    Once a kit is marked, each has a box in front; marks are numbered, since the first and the second are not alike.
    """
    scale = _scale(kits, system)
    cells = LONG_BAR if width >= WIDE else BAR
    columns = [
        Column("", "kit", may_wrap=True),
        Column("", "layout", is_repeated=True),
        Column("", "mass", unit_in_head=True),
        Column("", "lead", unit_in_head=True),
        Column("", scale_head("0", "lead", str(scale.number), cells)),
        Column("", "worst"),
        Column("", "finding", may_wrap=True),
    ]
    rows = [_with_none(_row(kit, scale.place, cells, is_wide=width >= WIDE, plain=plain)) for kit in kits]
    rows += [trip.row for trip in trips]
    if any(kit.mark for kit in kits):
        columns = [Column("", "   "), *columns]
        boxes = [*(f"[{kit.mark or ' '}]" for kit in kits), *("" for _ in trips)]
        rows = [[box, *row] for box, row in zip(boxes, rows, strict=True)]
    return list_rows(Table("", columns, rows), width, system)


def _with_none(row: Row) -> Row:
    """Write "none" for the lead of a kit that is too heavy without any."""
    place = SHELF_COLUMNS["lead"]
    lead = row[place]
    is_none = isinstance(lead, Estimate) and lead.figure.value < 0
    return [*row[:place], "none", *row[place + 1 :]] if is_none else row


def shelf_page(kits: Sequence[ShelfKit], trips: Sequence[ShelfTrip] = ()) -> Page:
    """Build the page of the kits and trips of a folder, for a document: rows without bars, with names of files."""
    rows = [_with_none(_row(kit, 1.0, 1, is_wide=True, plain=True)) for kit in kits] + [trip.row for trip in trips]
    files = [*(kit.name for kit in kits), *(trip.name for trip in trips)]
    first, *others = SHELF_COLUMNS.items()
    heads = [first[0], "file", *(head for head, _ in others)]
    columns = [
        Column(
            "",
            head,
            may_wrap=head in ("kit", "file", "finding"),
            unit_in_head=head in ("mass", "lead"),
            is_repeated=head == "layout",
        )
        for head in heads
    ]
    cells = [
        [row[first[1]], Tag(file), *(row[place] for _, place in others)] for row, file in zip(rows, files, strict=True)
    ]
    signs = {str(row[0])[:2] for row in cells}
    legend = [text(f"{sign}{meaning}.") for sign, meaning in SIGNS.items() if sign in signs]
    return Page([Table("", columns, cells), Section("", legend)])


def shelf_columns(kits: Sequence[ShelfKit], trips: Sequence[ShelfTrip] = ()) -> dict[str, Sequence[Cell]]:
    """Give what the kits can be sorted by; trips and what cannot be read come last in all but their names."""
    rows = [*(_row(kit, 1.0, 1, is_wide=False, plain=True) for kit in kits), *(trip.row for trip in trips)]
    return {head: [row[place] for row in rows] for head, place in SHELF_COLUMNS.items()}  # type: ignore[misc]


def _scale(kits: Sequence[ShelfKit], system: System) -> RoundTick:
    """Find the end of the scale of lead that all kits share [kg]."""
    balances = [kit.assessment.balance for kit in kits if kit.assessment]
    return scale_end([balance.lead for balance in balances if balance], unit_size("lead", system))


def _row(kit: ShelfKit, scale: float, cells: int, *, is_wide: bool, plain: bool) -> Row:
    found = kit.assessment
    if found is None:
        # Cut here: a long reason would leave the other kits no room for their columns. All of it stands below.
        why = cut(str(kit.problems[0]), FINDING) if kit.problems else ""
        return [kit.title, None, None, None, None, "not read", why]
    mass = Estimate(found.everything.mass, "lead")
    row: Row = [kit.title, found.kit.header.layout, mass]
    if found.balance is None:
        return [*row, "not known", None, *_worst(found, is_wide=is_wide)]
    bar = draw_range(found.balance.lead, scale, cells, plain=plain)
    return [*row, lead_estimate(found.balance), bar, *_worst(found, is_wide=is_wide)]


def _worst(found: Assessment, *, is_wide: bool) -> Row:
    """Give the signal word of the worst finding, and what it is about."""
    if not found.findings:
        return ["none", None]
    first, *others = found.findings
    more = f", {len(others)} more" if others and is_wide else ""
    return [first.signal, f"{first.rule}{more}"]


# ---- below the list ----


def preview_title(kit: ShelfKit) -> str:
    """Say which file is under the cursor, and what was found in it."""
    state = (" · has edits that are not saved" if kit.is_unsaved else "") + (
        " · changed by another program" if kit.is_changed else ""
    )
    if kit.assessment is None:
        return f"{visible(kit.name)}{state} · cannot be read"
    return f"{visible(kit.name)}{state} · findings: {counted(kit.assessment.findings)}"


def preview_lines(kit: ShelfKit, width: int, height: int, system: System) -> list[Line]:
    """Lay out the lead, what narrows it and the worst findings, as many as there are lines for."""
    if kit.assessment is None:
        return lay_out(Page([text(visible(problem.located(kit.name))) for problem in kit.problems]), width, system)[
            :height
        ]
    found = kit.assessment
    parts: list[Node] = [_lead(found), text(BALANCE_CAUTION)] if found.balance else [text(NO_LEAD)]
    lines = lay_out(Page(parts[:1]), width, system)
    last = lay_out(Page(parts[1:]), width, system)
    shown = lay_out(Page([_worst_first(found, 1)]), width, system)
    for count in range(2, len(found.findings) + 1):
        below = lay_out(Page([_worst_first(found, count)]), width, system)
        if len(lines) + len(below) + len(last) > height:
            break
        shown = below
    return [*lines, *shown[: max(height - len(lines) - len(last), 0)], *last]


def _worst_first(found: Assessment, count: int) -> Statements:
    """Say what is wrong, of the worst findings; why and what to do stand on the bench."""
    entries = []
    for finding in found.findings[:count]:
        name = subject(finding, found.kit)
        about = name if finding.item is None else Tag(name)
        entries.append(Statement((about, ": ", *ended(finding.what)), mark=finding.signal))
    return Statements("", entries)


def trip_preview(found: ShelfTrip, width: int, height: int, system: System) -> list[Line]:
    """Lay out what a trip file says: kits, days, what is rented or left, bags and legs."""
    trip = found.trip
    if trip is None:
        parts: list[Node] = [text(visible(problem.located(found.name))) for problem in found.problems]
        return lay_out(Page(parts), width, system)[:height]
    first, last = trip.header.from_, trip.header.to
    days = f"{format_day(first)} to {format_day(last)}" if first and last else ""
    entries: dict[str, Sequence[str]] = {
        "kits": [Tag(name) for name in trip.header.kits],
        "when": [days] if days else [],
        "rented": [Tag(entry.label) if entry.tag or entry.item else entry.label for entry in trip.rents],
        "left": [Tag(entry.label) for entry in trip.leaves],
        "bags": [Tag(entry.tag) for entry in trip.bags],
        "legs": [Tag(entry.tag) for entry in trip.legs],
    }
    rows = [Fact("", label, joined(((each,) for each in named), ", ")) for label, named in entries.items() if named]
    return lay_out(Page([Facts(rows), text("Enter packs it.")]), width, system)[:height]


NO_LEAD = "The lead is not known: no cylinder of this kit has a preset or all of its stamps."


def _lead(found: Assessment) -> Facts:
    balance = found.balance
    assert balance is not None, "asked only where there is one"
    take: Sentence = () if balance.too_heavy else ("; take ", balance.pieces.words)
    lead: Sentence = (*lead_words(balance), *take)
    carried: Sentence = ("; the kit carries ", Amount(balance.buoyancy_model.lead_kg, "lead"))
    steps = [
        (f"{step.what}: ± ", Amount(step.spread_after_kg, "lead"))
        for step in balance.measurement_priorities[:STEPS_SHOWN]
    ]
    rows = [Fact("", "lead", (*lead, *carried))]
    rows += [Fact("", "narrow it", joined(steps, "; "))] if steps else []
    return Facts(rows)
