"""The answer of `kitbuilder check`: figures and findings of kits, and what other files hold."""

from collections.abc import Iterator, Sequence

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.figures import Weight
from kitbuilder.assess.findings import Amount
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.assess.gear.gear import findings_of_file
from kitbuilder.kit.diver import Diver
from kitbuilder.kit.file_kinds import Contents, FileKind
from kitbuilder.kit.gear import Gear
from kitbuilder.kit.items import LAYOUTS
from kitbuilder.kit.lines import NO_LINES, Lines
from kitbuilder.kit.resolved_trip import ResolvedTrip
from kitbuilder.kit.stock import Stock
from kitbuilder.kit.trip import Trip
from kitbuilder.plans.weigh_in import WeighIn
from kitbuilder.report.balance import BALANCE, balance_section
from kitbuilder.report.findings import FINDING, UNCHECKED, finding_entries, unchecked_entries
from kitbuilder.report.gases import GAS, gases_table
from kitbuilder.report.hose_fit import FIT, fit_details, fit_fields, hose_fit_words
from kitbuilder.report.page import (
    Column,
    Estimate,
    Fact,
    Facts,
    Node,
    Page,
    Row,
    Section,
    Sentence,
    Series,
    Statement,
    Statements,
    Table,
    Tag,
    Values,
    only_data,
    text,
)
from kitbuilder.report.shapes import (
    COUNT,
    FIGURE,
    FLAG,
    NUMBER,
    SIGNAL,
    TEXT,
    any_of,
    listed,
    mapped,
    one_of,
    optional,
    record,
)
from kitbuilder.report.totals import estimates, totals_table
from kitbuilder.report.weigh_in import WEIGH_IN, weigh_in_section
from kitbuilder.report.words import CAUTIONS, counted_items

WEIGHT = record(mass_kg=FIGURE, buoyancy_kgf=FIGURE)
HOSE = record(
    tag=TEXT,
    line=optional(COUNT),
    role=TEXT,
    body=TEXT,
    length_m=NUMBER,
    mass_kg=FIGURE,
    buoyancy_kgf=FIGURE,
    joins=optional(FLAG),
    fit=optional(FIT),
)
KIT = record(
    file=TEXT,
    holds=one_of("kit"),
    name=TEXT,
    layout=one_of(*LAYOUTS),
    water=record(name=TEXT, density_kg_m3=FIGURE),
    worst=optional(SIGNAL),
    findings=listed(FINDING),
    hoses=listed(HOSE),
    all_hoses=WEIGHT,
    by_body=mapped(WEIGHT),
    if_all=mapped(WEIGHT),
    everything=WEIGHT,
    items_weighed=COUNT,
    items_with_buoyancy=COUNT,
    items=COUNT,
    weigh_in=optional(WEIGH_IN),
    gases=listed(GAS),
    balance=optional(BALANCE),
    not_checked=listed(UNCHECKED),
)
OTHER = record(
    file=TEXT, holds=one_of("diver", "stock", "gear", "trip"), name=TEXT, entries=COUNT, findings=listed(FINDING)
)
SHAPE = record(files=listed(any_of(KIT, OTHER)))


def check_page(sections: Sequence[Section]) -> Page:
    """Build the page of all files: what there is to say about each, in order, and the cautions."""
    return Page([Series("files", sections), Section("", [text(CAUTIONS)])])


def file_section(file: str, kind: FileKind, contents: Contents, lines: Lines = NO_LINES) -> Section:
    """Build the section of a file that is not a kit: whether it can be read, its entries, and its findings."""
    count = len(contents.items)
    what = f"{kind.name} file, can be read · {counted_items(count, _entry_name(contents))}"
    data = only_data(("file", file), ("holds", kind.name), ("name", contents.header.name), ("entries", count))
    return Section("", [data, text(file), text(f"{contents.header.name} · {what}"), _findings_of(contents, lines)])


def _findings_of(contents: Contents, lines: Lines) -> Node:
    """Build the findings of a file that is not a kit; only gear and trip files have any."""
    if isinstance(contents, ResolvedTrip):
        from kitbuilder.plans.trip_spares import findings_with_spares  # not needed for a kit

        if found := findings_with_spares(contents):
            return finding_entries(found, contents)
    if isinstance(contents, Gear) and (found := findings_of_file(contents, lines)):
        return finding_entries(found, contents)
    return only_data(("findings", Values([])))


def kit_section(file: str, assessment: Assessment, weigh_in: WeighIn | None = None) -> Section:
    """Build the section of a kit: problems, hoses, mass and buoyancy, lead and trim; all items when they are wanted."""
    kit = assessment.kit
    balance: Node = balance_section(assessment.balance) if assessment.balance else only_data(("balance", None))
    return Section(
        "",
        [
            *_heading(file, assessment),
            finding_entries(assessment.findings, kit),
            _hose_table(assessment),
            Statements("", list(_misfits(assessment.hoses)), title="Hoses to measure, hold or change"),
            _totals(assessment),
            weigh_in_section(weigh_in),
            gases_table(assessment),
            balance,
            unchecked_entries(assessment.unchecked, kit),
        ],
    )


def water_words(assessment: Assessment) -> Sentence:
    """Say the water and its density: "ocean water, 1026 kg/m³"."""
    return f"{assessment.water.name} water, ", Amount(assessment.water.density.value, "density")


def _entry_name(contents: Contents) -> str:
    match contents:
        case Diver():
            return "float check"
        case Gear():
            return "item"
        case Stock():
            return "hose"
        case Trip():
            return "table"
    raise AssertionError("a kit is checked, not just read")


def _heading(file: str, assessment: Assessment) -> Iterator[Node]:
    header, water = assessment.kit.header, assessment.water
    yield text(file)
    yield text(f"{header.name} · {header.layout} · ", *water_words(assessment))
    density = Estimate(water.density, "density")
    yield only_data(
        ("file", file),
        ("holds", "kit"),
        ("name", header.name),
        ("layout", header.layout),
        ("water", only_data(("name", water.name), ("density_kg_m3", density))),
        ("worst", assessment.worst),
    )


def _hose_table(assessment: Assessment) -> Table:
    columns = [
        Column("tag", "hose", may_wrap=True),
        Column("line", ""),
        Column("role", ""),
        Column("body", ""),
        Column("length_m", "length"),
        Column("mass_kg", "mass", unit_in_head=True),
        Column("buoyancy_kgf", "buoyancy", unit_in_head=True),
        Column("joins", ""),
        Column("fit", ""),
        Column("", "fit", may_wrap=True),
    ]
    rows = [_hose_row(figures, assessment.kit.lines.of(figures.number, None)) for figures in assessment.hoses]
    return Table("hoses", columns, rows, empty="no hoses")


def _hose_row(figures: HoseFigures, line: int | None) -> Row:
    hose, weight, fit = figures.hose, figures.weight, figures.fit
    return [
        Tag(hose.tag),
        line,
        hose.role,
        hose.body,
        Amount(hose.length_m, "length"),
        Estimate(weight.mass, "hose mass"),
        Estimate(weight.buoyancy, "hose buoyancy"),
        figures.joints.joins,
        None if fit is None else fit_fields(hose, fit),
        hose_fit_words(figures),
    ]


def _misfits(hoses: Sequence[HoseFigures]) -> Iterator[Statement]:
    for figures in hoses:
        is_misfit = figures.fit is not None and not figures.fit.verdict.is_right
        if is_misfit or figures.joints.joins is False:
            words: Sentence = (Tag(figures.hose.tag), ": ", *hose_fit_words(figures))
            yield Statement(words, list(fit_details(figures.fit)) if figures.fit else [], mark="-")


def _totals(assessment: Assessment) -> Section:
    data = only_data(
        ("all_hoses", _weight(assessment.all_hoses)),
        ("by_body", _weights(assessment.by_body)),
        ("if_all", _weights(assessment.if_all)),
        ("everything", _weight(assessment.everything)),
        ("items_weighed", assessment.weighed),
        ("items_with_buoyancy", assessment.floating),
        ("items", len(assessment.weights)),
    )
    return Section("", [data, totals_table(assessment)])


def _weights(weights: dict[str, Weight]) -> Facts:
    return Facts([Fact(body, "", _weight(weight)) for body, weight in weights.items()])


def _weight(weight: Weight) -> Facts:
    mass, buoyancy = estimates(weight)
    return only_data(("mass_kg", mass), ("buoyancy_kgf", buoyancy))
