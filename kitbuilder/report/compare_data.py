"""Kits side by side for programs."""

from collections.abc import Sequence

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.findings import Amount, Finding
from kitbuilder.kit.items import Hose
from kitbuilder.kitfile.differences import Difference, Way
from kitbuilder.plans.part_differences import Side
from kitbuilder.plans.side_by_side import Total
from kitbuilder.report.comparison import EXACT, TOTALS, Comparison, total_shown, total_value
from kitbuilder.report.findings import subject
from kitbuilder.report.page import Column, Estimate, Facts, Row, Table, Values, only_data
from kitbuilder.report.shapes import FIGURE, FLAG, NUMBER, SIGNAL, TEXT, listed, one_of, optional, record
from kitbuilder.report.words import ended

_FIGURES = {key: NUMBER if key in EXACT else FIGURE for key in TOTALS} | {"lead_needed_kg": optional(FIGURE)}
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
        listed(
            record(
                way=one_of(*(way.value for way in Way)),
                item=optional(TEXT),
                key=optional(TEXT),
                before=optional(TEXT),
                after=optional(TEXT),
            )
        )
    ),
)


def compare_data(shown: Comparison) -> Facts:
    """Give all that a comparison says: the kits, how the others differ from the first, the rows, and the findings."""
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
        figures = [total_value(total, place) for total in shown.found.totals]
        rows.append([file, header.name, header.layout, kit.water.name, diver.header.name if diver else None, *figures])
    return Table("kits", [Column(key, "") for key in keys], rows)


def _less_first(shown: Comparison) -> Table:
    rows: list[Row] = [
        [file, *(_change(total, place) for total in shown.found.totals)] for place, file in enumerate(shown.files[1:])
    ]
    return Table("less_first", [Column(key, "") for key in ("file", *TOTALS)], rows)


def _change(total: Total, place: int) -> Estimate | Amount | None:
    return total_shown(total, total.changes[place].change, TOTALS[total.name][1])


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
        Estimate(side.mass, measures[0]) if side.mass else None,
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
    rows: list[Row] = [
        [each.way.value, *(word or None for word in (each.tag, each.key, each.before, each.after))] for each in changes
    ]
    return Table("changes", columns, rows)
