"""The page of `kitbuilder gear`: what is due, what is owned and where it is used, what each kit still needs."""

from collections.abc import Iterator, Sequence

from kitbuilder.assess.findings import Amount
from kitbuilder.assess.gear.due import Due, dates_of, dues_of, next_dues
from kitbuilder.assess.gear.gear import GearReport
from kitbuilder.assess.gear.shortage import Shortage
from kitbuilder.assess.hoses.hose_weight import ends_of
from kitbuilder.kit.gear import (
    CONDITIONS,
    GEAR_KINDS,
    IN_ORDER,
    Counted,
    Gear,
    Owned,
    OwnedAdapter,
    OwnedAssembly,
    pieces_of,
)
from kitbuilder.plans.gear import Needs, Use, Uses
from kitbuilder.report.findings import FINDING, UNCHECKED, brief_entry, finding_entries, unchecked_entries
from kitbuilder.report.owned import date_words, owned_words, piece_words, state_words, use_words
from kitbuilder.report.page import (
    Cell,
    Column,
    Fact,
    Facts,
    Node,
    Page,
    Row,
    Section,
    Sentence,
    Statement,
    Statements,
    StockLength,
    Table,
    Tag,
    Values,
    joined,
    only_data,
    text,
)
from kitbuilder.report.shapes import COUNT, DAY, FLAG, NUMBER, TEXT, listed, mapped, one_of, optional, record
from kitbuilder.report.shopping import END_SHAPE, end_data, format_end
from kitbuilder.report.words import CAUTIONS, GEAR_CAUTION, counted_items

SHAPE = record(
    file=TEXT,
    name=TEXT,
    holds=one_of("gear"),
    day=DAY,
    region=optional(TEXT),
    items=listed(
        record(
            tag=TEXT,
            kind=one_of(*GEAR_KINDS),
            line=optional(COUNT),
            what=TEXT,
            pieces=COUNT,
            condition=one_of(*CONDITIONS),
            oxygen_clean=FLAG,
            kept_in=optional(TEXT),
            parts=listed(TEXT),
            dates=mapped(DAY),
            due=listed(record(name=TEXT, since=TEXT, on=DAY, region=optional(TEXT), is_due=FLAG, origin=TEXT)),
            used=listed(record(file=TEXT, tag=TEXT)),
        )
    ),
    next_due=listed(record(tag=TEXT, name=TEXT, on=DAY, is_due=FLAG)),
    findings=listed(FINDING),
    not_checked=listed(UNCHECKED),
    kits=listed(
        record(
            file=TEXT,
            name=TEXT,
            taken=mapped(TEXT),
            to_buy=listed(
                record(
                    kind=TEXT,
                    pieces=COUNT,
                    what=optional(TEXT),
                    **{"for": listed(TEXT)},
                    oxygen_clean=FLAG,
                    mass_kg=optional(NUMBER),
                    length_m=optional(NUMBER),
                    measured=optional(TEXT),
                    body=optional(TEXT),
                    first_stage_end=optional(END_SHAPE),
                    device_end=optional(END_SHAPE),
                )
            ),
        )
    ),
)

NOTHING_OWNED = "nothing in it yet"
NO_KITS = "No kit of this folder names this gear file."
NOTHING_TO_BUY = "nothing, all of it is owned"

KitNeeds = Sequence[tuple[str, Needs]]
"""What each kit that names the gear file needs, by its file name."""


def gear_page(file: str, report: GearReport, uses: Uses, needs: KitNeeds) -> Page:
    """Build the page of a gear file: findings first, then what is due when, what to buy, all items.

    Args:
        file: The name of the gear file.
        report: What there is to say about it on a day.
        uses: Where its items are used.
        needs: What the kits that name it need more.
    """
    header, items = report.gear.header, report.gear.items
    rules = f"rules of {header.region}" if header.region else "common practice only"
    return Page(
        [
            only_data(("file", file), ("name", Tag(header.name)), ("holds", "gear"), ("day", report.day)),
            only_data(("region", header.region), ("items", _items_data(report, uses)), ("kits", _kits_data(needs))),
            text(file),
            text(f"{header.name} · {counted_items(len(items), 'item')} · on ", report.day, f" · {rules}"),
            finding_entries(report.findings, report.gear),
            next_due_table(report),
            unchecked_entries(report.unchecked, report.gear),
            needs_section(needs),
            *(_kind_tables(report.gear, uses) if items else [Section("", [text(f"Items: {NOTHING_OWNED}")])]),
            Section("", [text(CAUTIONS)]),
        ]
    )


# ---- parts of the screen ----


def owned_list(gear: Gear) -> Table:
    """Build the list of the gear file itself and of its items, a row each: the tag, and what it is."""
    rows: list[Row] = [["gear", Tag(gear.header.name)]]
    rows += [[Tag(item.tag), owned_words(item)] for item in gear.items]
    return Table("", [Column("", "item", may_wrap=True, names_row=True), Column("", "what it is", may_wrap=True)], rows)


def item_page(report: GearReport, number: int, uses: Uses) -> Page:
    """Build all there is to say about one item: where it is used, its state and its dates, and its findings."""
    item = report.gear.items[number]
    dates = (Fact("", key, words) for key, words in date_words(item, report.gear).items())
    rows = [Fact("", "used", use_words(uses.get(item.tag, ()))), Fact("", "state", state_words(item)), *dates]
    return Page([text(GEAR_CAUTION), _results(report, number), Facts([row for row in rows if row.value])])


def gear_file_page(report: GearReport, needs: KitNeeds) -> Page:
    """Build what there is to say about the gear file itself: what is due when, and what its kits need more."""
    return Page([text(GEAR_CAUTION), _results(report, None), next_due_table(report), needs_section(needs)])


def _results(report: GearReport, number: int | None) -> Statements:
    return Statements("", [brief_entry(result, report.gear, with_why=True) for result in report.of_item(number)])


def next_due_table(report: GearReport) -> Table:
    """Build what is due next of each item, the soonest first."""
    columns = [
        Column("tag", "item", may_wrap=True),
        Column("on", "due on"),
        Column("name", "what", may_wrap=True),
        Column("", " "),
        Column("is_due", ""),
    ]
    rows: list[Row] = [
        [Tag(item.tag), due.on, due.interval.name, _how_due(due, report), due.is_due(report.day)]
        for _, item, due in next_dues(report.gear)
    ]
    return Table("next_due", columns, rows, title="Due next, the soonest first", empty="no item has a due date")


def _how_due(due: Due, report: GearReport) -> str:
    """Say whether upkeep is due on the day of the report, or soon after."""
    return "due" if due.is_due(report.day) else "soon" if due.is_due_soon(report.day) else ""


# ---- items ----


def _kind_tables(gear: Gear, uses: Uses) -> Iterator[Table]:
    """Build a table for the items of each kind, with the columns that any of them fills."""
    for kind in GEAR_KINDS.values():
        items = [item for item in gear.items if isinstance(item, kind)]
        if items:
            yield _kind_table(f"{kind.title}, {len(items)}", items, gear, uses)


def _kind_table(title: str, items: Sequence[Owned], gear: Gear, uses: Uses) -> Table:
    dates = [date_words(item, gear) for item in items]
    keys = dict.fromkeys(key for item in items for key in dates_of(item))
    cells: dict[str, list[Cell]] = {
        "item": [Tag(item.tag) for item in items],
        "pieces": [pieces_of(item) if isinstance(item, Counted) else None for item in items],
        "what": [_what_and_state(item) for item in items],
        **{key: [words.get(key) for words in dates] for key in keys},
        "used in": [_used_in(item, uses.get(item.tag, ())) for item in items],
    }
    filled = {head: column for head, column in cells.items() if any(column)}
    columns = [Column("", head, may_wrap=head != "item") for head in filled]
    return Table("", columns, list(zip(*filled.values(), strict=True)), title=title)


def _what_and_state(item: Owned) -> Sentence:
    """Say what one piece is, unless the title of its table says so already, and its state."""
    words, state = piece_words(item), state_words(item)
    parts = [*([] if words == (item.title,) else [words]), *([(state,)] if state else [])]
    return joined(parts, "; ")


def _used_in(item: Owned, used: Sequence[Use]) -> str:
    return "" if isinstance(item, Counted) and not used else use_words(used)


def _items_data(report: GearReport, uses: Uses) -> Table:
    keys = (
        "tag",
        "kind",
        "line",
        "what",
        "pieces",
        "condition",
        "oxygen_clean",
        "kept_in",
        "parts",
        "dates",
        "due",
        "used",
    )
    rows: list[Row] = [
        [
            Tag(item.tag),
            item.kind,
            report.lines.of(number, None),
            owned_words(item),
            pieces_of(item),
            item.condition or IN_ORDER,
            bool(item.oxygen_clean),
            item.kept_in,
            Values([Tag(tag) for tag in item.parts] if isinstance(item, OwnedAssembly) else []),
            only_data(*dates_of(item).items()),
            _dues_data(item, report),
            _uses_data(uses.get(item.tag, ())),
        ]
        for number, item in enumerate(report.gear.items)
    ]
    return Table("items", [Column(key, "") for key in keys], rows)


def _dues_data(item: Owned, report: GearReport) -> Table:
    keys = ("name", "since", "on", "region", "is_due", "origin")
    rows: list[Row] = [
        [
            due.interval.name,
            due.interval.since,
            due.on,
            due.interval.region or None,
            due.is_due(report.day),
            due.interval.origin,
        ]
        for due in dues_of(item, report.gear.header.region)
    ]
    return Table("due", [Column(key, "") for key in keys], rows)


def _uses_data(uses: Sequence[Use]) -> Table:
    return Table("used", [Column("file", ""), Column("tag", "")], [[use.file, Tag(use.tag)] for use in uses])


# ---- what to buy ----


def needs_section(needs: KitNeeds) -> Section:
    """Build what to buy for each kit that names the gear file."""
    if not needs:
        return Section("", [text(NO_KITS)])
    whole = [text(file, f": {NOTHING_TO_BUY}") for file, need in needs if not need.shortages]
    lists: list[Node] = [
        Statements("", [_shortage_entry(shortage) for shortage in need.shortages], title=f"{file}, {need.name}")
        for file, need in needs
        if need.shortages
    ]
    return Section("To buy, for each kit by itself", [*whole, *lists])


def _shortage_entry(shortage: Shortage) -> Statement:
    clean = ", clean for oxygen" if shortage.must_be_clean else ""
    body: list[Sentence] = []
    if shortage.hose is not None:
        ends = ends_of(shortage.hose)
        body += [(f"{format_end(ends.at_first_stage)} to {format_end(ends.at_device)}",)]
    if shortage.tags:
        body.append(("For ", *joined(((Tag(tag),) for tag in shortage.tags), ", ")))
    return Statement((shortage.pieces, " × ", *_shortage_words(shortage), clean), body)


def _shortage_words(shortage: Shortage) -> Sentence:
    title, hose = GEAR_KINDS[shortage.kind].title, shortage.hose
    if hose is not None:
        apart = " without its ends" if hose.measured == "hose only" else ""
        return (f"{title}, ", StockLength(hose.length_m), f"{apart}, {hose.body}")
    if shortage.kind == OwnedAdapter.kind:
        return (shortage.what,)
    if shortage.mass_kg is not None:
        return (f"{title}, ", Amount(shortage.mass_kg, "lead"), " each")
    return (f"{title}, {shortage.what}" if shortage.what else title,)


def _kits_data(needs: KitNeeds) -> Table:
    rows: list[Row] = [
        [file, Tag(need.name), only_data(*((tag, Tag(owned)) for tag, owned in need.taken)), _to_buy_data(need)]
        for file, need in needs
    ]
    return Table("kits", [Column(key, "") for key in ("file", "name", "taken", "to_buy")], rows)


def _to_buy_data(need: Needs) -> Table:
    keys = ("kind", "pieces", "what", "for", "oxygen_clean", "mass_kg")
    of_a_hose = ("length_m", "measured", "body", "first_stage_end", "device_end")
    rows: list[Row] = [
        [
            shortage.kind,
            shortage.pieces,
            shortage.what or None,
            Values([Tag(tag) for tag in shortage.tags]),
            shortage.must_be_clean,
            None if shortage.mass_kg is None else Amount(shortage.mass_kg, "lead"),
            *_hose_data(shortage, len(of_a_hose)),
        ]
        for shortage in need.shortages
    ]
    return Table("to_buy", [Column(key, "") for key in (*keys, *of_a_hose)], rows)


def _hose_data(shortage: Shortage, keys: int) -> Row:
    hose = shortage.hose
    if hose is None:
        return [None] * keys
    ends = ends_of(hose)
    length, measured = Amount(hose.length_m, "length"), hose.measured or "end to end"
    return [length, measured, hose.body, end_data(ends.at_first_stage), end_data(ends.at_device)]
