"""What `kitbuilder gear` prints: what is owned, what is due, where it is used, what to get; as text or as JSON."""

from collections.abc import Iterator, Sequence
from textwrap import wrap
from typing import Any

from kitbuilder.assess.findings import Finding, Signal, Unchecked
from kitbuilder.assess.gear.due import dates_of, dues_of, format_day
from kitbuilder.assess.gear.gear import GearReport
from kitbuilder.assess.gear.shortage import Shortage
from kitbuilder.assess.hoses.hose_weight import ends_of
from kitbuilder.catalogue import Fitting, catalogue
from kitbuilder.foreign import visible
from kitbuilder.kit.fields import Field, ValueKind
from kitbuilder.kit.gear import (
    GEAR_KINDS,
    IN_ORDER,
    Counted,
    Gear,
    ORing,
    Owned,
    OwnedAdapter,
    OwnedHose,
    OwnedLead,
    OwnedSuit,
    Plug,
    pieces_of,
)
from kitbuilder.plans.gear import Needs, Use, Uses
from kitbuilder.report.form import Choice, FormRow, form_rows
from kitbuilder.report.lengths import stock_length
from kitbuilder.report.numbers import System, shown
from kitbuilder.report.words import counted_items, cut, sentence

WIDTH = 100
"""Columns of the text."""
TAG_WIDTH = 22

NOTHING_OWNED = "nothing in it yet"
NO_KITS = "No kit of this folder names this gear file."
NOTHING_TO_GET = "nothing: all of it is here"
NOT_USED = "in no kit"

KitNeeds = Sequence[tuple[str, Needs]]
"""What each kit that names the gear file needs, by its file name."""


# ---- words that the screen shares ----


def format_owned(item: Owned, system: System) -> str:
    """What an item is: "61 cm rubber, LP 3/8 to second stage 9/16"; how many, of what is counted."""
    if isinstance(item, OwnedHose):
        length = shown(item.length_m, "length", system)
        return f"{length} {item.body}, {item.from_end} to {item.to_end}"
    if isinstance(item, OwnedSuit):
        return f"{item.cut}, {shown(item.thickness_m, 'thickness', system)}"
    if isinstance(item, Counted):
        return f"{pieces_of(item)} × {_format_piece(item, system)}"
    return getattr(item, "preset", None) or getattr(item, "inlet", None) or item.title


def format_state(item: Owned) -> str:
    """Its state and where it is kept; empty when it is in order and nothing is told."""
    parts = [
        "" if item.condition in (None, IN_ORDER) else f"{item.condition}",
        "clean for oxygen" if item.oxygen_clean else "",
        f"kept in {visible(item.kept_in)}" if item.kept_in else "",
    ]
    return "; ".join(part for part in parts if part)


def date_rows(item: Owned, gear: Gear) -> tuple[str, ...]:
    """Each date of an item, and when what counts from it is due: "serviced 2 March 2026: due 2 March 2027"."""
    dues = dues_of(item, gear.header.region)
    rows = []
    for key, told in dates_of(item).items():
        due = [f"{format_day(due.on)} ({_asked(due.interval.region)})" for due in dues if due.interval.since == key]
        rows.append(": due ".join([f"{key} {format_day(told)}", *([", ".join(due)] if due else [])]))
    return tuple(rows)


def format_use(uses: Sequence[Use]) -> str:
    """Where an item is used: "cold-single.toml (first), sidemount.toml (right)"."""
    return ", ".join(f"{visible(use.file)} ({visible(use.tag)})" for use in uses) or NOT_USED


def format_shortage(shortage: Shortage, system: System) -> str:
    """What to get, with its ends or threads: "1 × hose, 75 cm (30 in), rubber: LP 3/8 (male 3/8-24 UNF) to ..."."""
    return f"{shortage.pieces} × {_lacking(shortage, system)}{', clean for oxygen' if shortage.must_be_clean else ''}"


def format_result(result: Finding | Unchecked, system: System) -> str:
    """A finding, or what could not be looked at, on a line: what, why and what to do."""
    if isinstance(result, Unchecked):
        return sentence(result.because, system)
    return " ".join(sentence(part, system) for part in (result.what, result.why, result.do))


def counted_signals(look: GearReport) -> str:
    """How many findings there are of each signal word: "1 warning, 3 cautions"."""
    counts = [(signal, sum(finding.signal is signal for finding in look.findings)) for signal in reversed(Signal)]
    return ", ".join(counted_items(count, signal.word.lower()) for signal, count in counts if count) or "none"


def owned_choices(gear: Gear | None, kind: str, system: System) -> tuple[Choice, ...]:
    """The items of a gear file that an item of a kit may be; none without a gear file."""
    entries = gear.items if gear else ()
    return tuple(Choice(entry.tag, format_owned(entry, system)) for entry in entries if entry.kind == kind)


def default_in_gear(item: Owned | None, field: Field, system: System) -> str:
    """What is taken for a key that a gear file does not have."""
    if item is None:
        return "custom alone" if field.key == "region" else ""
    if field.kind is ValueKind.DATE:
        return "not told"
    if field.key in TAKEN:
        return TAKEN[field.key]
    preset = catalogue().presets.get((item.kind, getattr(item, "preset", None) or ""))
    if preset is None:
        return ""
    match field.key:
        case "mass":
            return f"{shown(preset.mass.low, 'mass', system)} to {shown(preset.mass.high, 'mass', system)}, preset"
        case "inlet":
            return f"{preset.inlet}, preset" if preset.inlet else ""
        case "ports":
            return f"{', '.join(row.split(' ', 1)[0] for row in preset.ports)}; preset"
    return ""


TAKEN = {
    "condition": "in order, unless said",
    "oxygen_clean": "no, unless said",
    "pieces": "1, unless said",
    "measured": "end to end, as usual",
}
"""What is taken for a key of any kind."""


def gear_rows(gear: Gear, raw_values: dict[str, str], item: int | None, system: System) -> tuple[FormRow, ...]:
    """The rows of the form of an item of a gear file; beside a date stands when what counts from it is due first."""
    entry = None if item is None else gear.items[item]
    rows = form_rows(gear, raw_values, item, system, lambda field: default_in_gear(entry, field, system))
    due = {} if entry is None else {due.interval.since: due for due in reversed(dues_of(entry, gear.header.region))}
    return tuple(
        row._replace(note=f"due {format_day(due[row.field.key].on)}") if row.field.key in due else row for row in rows
    )


def item_lines(look: GearReport, number: int | None, system: System) -> list[str]:
    """What was found about one item, or about the gear file itself, a line each."""
    return [
        f"{result.signal.word if isinstance(result, Finding) else 'Not checked'}: {format_result(result, system)}"
        for result in look.of_item(number)
    ]


def detail_lines(look: GearReport, number: int, uses: Uses, system: System) -> list[str]:
    """All there is to say about one item: where it is used, its findings, its state and its dates."""
    item = look.gear.items[number]
    lines = [f"Used: {format_use(uses.get(item.tag, ()))}", *item_lines(look, number, system)]
    return lines + [f"{row[:1].upper()}{row[1:]}" for row in (format_state(item), *date_rows(item, look.gear)) if row]


def _format_piece(item: Counted, system: System) -> str:
    if isinstance(item, Plug):
        return item.thread
    if isinstance(item, OwnedAdapter):
        return item.adapter
    if isinstance(item, ORing):
        return f"O-ring {item.size}"
    assert isinstance(item, OwnedLead)
    return shown(item.mass_kg, "lead", system)


def _asked(region: str) -> str:
    return f"rule, {region}" if region else "custom"


def _lacking(shortage: Shortage, system: System) -> str:
    title = GEAR_KINDS[shortage.kind].title
    if shortage.hose is not None:
        ends = ends_of(shortage.hose)
        length = stock_length(shortage.hose.length_m, system)
        apart = " without its ends" if shortage.hose.measured == "hose only" else ""
        both = f"{_format_end(ends.at_first_stage)} to {_format_end(ends.at_device)}"
        return f"{title}, {length}{apart}, {shortage.hose.body}: {both}"
    if shortage.kind == OwnedAdapter.kind:
        return shortage.what
    if shortage.mass_kg is not None:
        return f"{title}, {shown(shortage.mass_kg, 'lead', system)} a piece"
    return f"{title}, {shortage.what}" if shortage.what else title


def _format_end(end: Fitting) -> str:
    return f"{end.name} ({end.gender} {end.joint})"


# ---- the text ----


def gear_text(file: str, look: GearReport, uses: Uses, needs: KitNeeds, system: System) -> str:
    """A gear file for people.

    Args:
        file: The name of the gear file.
        look: What there is to say about it on a day.
        uses: Where its items are used.
        needs: What the kits that name it need more.
        system: The reader's units.
    """
    header = look.gear.header
    rules = f"rules of {header.region}" if header.region else "no rules but custom"
    lines = [
        visible(file),
        f"{visible(header.name)} · {counted_items(len(look.gear.items), 'item')} · on {format_day(look.day)} · {rules}",
        *_item_lines(look, uses, system),
        "",
        f"Findings: {counted_signals(look)}",
        *(row for finding in look.findings for row in _finding_lines(finding, look, system)),
    ]
    if look.unchecked:
        lines += ["", f"Not checked: {len(look.unchecked)}"]
        lines += [row for result in look.unchecked for row in _unchecked_lines(result, look, system)]
    return "\n".join([*lines, "", *need_lines(needs, system), ""])


def _item_lines(look: GearReport, uses: Uses, system: System) -> Iterator[str]:
    if not look.gear.items:
        yield f"  {NOTHING_OWNED}"
    for record in GEAR_KINDS.values():
        items = [item for item in look.gear.items if isinstance(item, record)]
        if items:
            yield from ("", f"{record.title}, {len(items)}")
        for item in items:
            yield from _one_item(item, look.gear, uses.get(item.tag, ()), system)


def _one_item(item: Owned, gear: Gear, used: Sequence[Use], system: System) -> Iterator[str]:
    tag = cut(item.tag, TAG_WIDTH)
    yield from _hung(f"  {tag:<{TAG_WIDTH}}  ", format_owned(item, system))
    more = [*date_rows(item, gear), format_state(item)]
    if used or not isinstance(item, Counted):
        more.append(format_use(used))
    for row in more:
        if row:
            yield from _hung(" " * (TAG_WIDTH + 4), row)


def _hung(head: str, text: str, width: int = WIDTH) -> Iterator[str]:
    """A text beside a head, its other lines below its first."""
    first, *rest = wrap(text, max(width - len(head), 20)) or [""]
    yield f"{head}{first}".rstrip()
    yield from (" " * len(head) + row for row in rest)


def _finding_lines(finding: Finding, look: GearReport, system: System) -> Iterator[str]:
    thumb = ", a rule of thumb" if finding.rule_of_thumb else ""
    yield f"  {finding.signal.word:<8} {_tag(finding, look)}: {finding.rule} (line {finding.line}{thumb})"
    for part in (finding.what, finding.why, finding.do):
        yield from _hung(" " * 11, sentence(part, system))


def _unchecked_lines(result: Unchecked, look: GearReport, system: System) -> Iterator[str]:
    where = f"Set {result.key} (line {result.line})."
    yield from _hung("  ", f"{_tag(result, look)}: {sentence(result.because, system)} {where}")


def _tag(result: Finding | Unchecked, look: GearReport) -> str:
    return "gear" if result.item is None else visible(look.gear.items[result.item].tag)


def need_lines(needs: KitNeeds, system: System, width: int = WIDTH) -> Iterator[str]:
    """What to get for each kit that names the gear file."""
    if not needs:
        yield NO_KITS
        return
    yield "To get, for each kit by itself"
    for file, need in needs:
        if not need.shortages:
            yield from _hung(f"  {visible(file)}: ", NOTHING_TO_GET, width)
            continue
        yield f"  {visible(file)}, {visible(need.name)}"
        for shortage in need.shortages:
            what_for = f"; for {', '.join(visible(tag) for tag in shortage.tags)}" if shortage.tags else ""
            yield from _hung("    ", f"{format_shortage(shortage, system)}{what_for}", width)


# ---- for programs ----


def gear_json(file: str, look: GearReport, uses: Uses, needs: KitNeeds, system: System) -> dict[str, Any]:
    """A gear file for programs: SI units, days as ISO 8601."""
    header = look.gear.header
    return {
        "file": file,
        "name": header.name,
        "holds": "gear",
        "day": look.day.isoformat(),
        "region": header.region,
        "items": [_item_json(number, item, look, uses, system) for number, item in enumerate(look.gear.items)],
        "findings": [_finding_json(finding, look, system) for finding in look.findings],
        "not_checked": [_unchecked_json(result, look, system) for result in look.unchecked],
        "kits": [_needs_json(kit, need) for kit, need in needs],
    }


def _item_json(number: int, item: Owned, look: GearReport, uses: Uses, system: System) -> dict[str, Any]:
    return {
        "tag": item.tag,
        "kind": item.kind,
        "line": look.lines.of(number, None),
        "what": format_owned(item, system),
        "pieces": pieces_of(item),
        "condition": item.condition or IN_ORDER,
        "oxygen_clean": bool(item.oxygen_clean),
        "kept_in": item.kept_in,
        "dates": {key: told.isoformat() for key, told in dates_of(item).items()},
        "due": [
            {
                "name": due.interval.name,
                "since": due.interval.since,
                "on": due.on.isoformat(),
                "region": due.interval.region or None,
                "is_due": due.is_due(look.day),
                "origin": due.interval.origin,
            }
            for due in dues_of(item, look.gear.header.region)
        ],
        "used": [use._asdict() for use in uses.get(item.tag, ())],
    }


def _finding_json(finding: Finding, look: GearReport, system: System) -> dict[str, Any]:
    return {
        "signal": finding.signal.word.lower(),
        "rule": finding.rule,
        "rule_of_thumb": finding.rule_of_thumb,
        "item": _tag(finding, look),
        "key": finding.key,
        "line": finding.line,
        "what": sentence(finding.what, system),
        "why": sentence(finding.why, system),
        "do": sentence(finding.do, system),
    }


def _unchecked_json(result: Unchecked, look: GearReport, system: System) -> dict[str, Any]:
    return {
        "rule": result.rule,
        "item": _tag(result, look),
        "key": result.key,
        "line": result.line,
        "because": sentence(result.because, system),
    }


def _needs_json(file: str, needs: Needs) -> dict[str, Any]:
    return {
        "file": file,
        "name": needs.name,
        "taken": dict(needs.taken),
        "to_get": [_lack_json(shortage) for shortage in needs.shortages],
    }


def _lack_json(shortage: Shortage) -> dict[str, Any]:
    row: dict[str, Any] = {
        "kind": shortage.kind,
        "pieces": shortage.pieces,
        "what": shortage.what or None,
        "for": list(shortage.tags),
        "mass_kg": shortage.mass_kg,
        "oxygen_clean": shortage.must_be_clean,
    }
    if shortage.hose is None:
        return row
    ends = ends_of(shortage.hose)
    return row | {
        "length_m": shortage.hose.length_m,
        "measured": shortage.hose.measured or "end to end",
        "body": shortage.hose.body,
        "first_stage_end": _end_json(ends.at_first_stage),
        "device_end": _end_json(ends.at_device),
    }


def _end_json(end: Fitting) -> dict[str, str]:
    return {"name": end.name, "joint": end.joint, "gender": end.gender}
