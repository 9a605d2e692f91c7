"""What `kitbuilder locker` prints: what is owned, what is due, where it is used, what to get; as text or as JSON."""

from collections.abc import Iterator, Sequence
from textwrap import wrap
from typing import Any

from kitbuilder.assess.findings import Finding, Signal, Unchecked
from kitbuilder.assess.gear.due import dates_of, day_words, dues_of
from kitbuilder.assess.gear.lacking import Lack
from kitbuilder.assess.gear.locker import LockerLook
from kitbuilder.assess.hoses.hose_weight import ends_of
from kitbuilder.catalogue import Fitting, catalogue
from kitbuilder.foreign import visible
from kitbuilder.kit.fields import Field, Kind
from kitbuilder.kit.locker import (
    IN_ORDER,
    LOCKER_KINDS,
    Counted,
    Locker,
    ORing,
    Owned,
    OwnedAdapter,
    OwnedHose,
    OwnedLead,
    OwnedSuit,
    Plug,
    pieces_of,
)
from kitbuilder.plans.locker import Needs, Use, Uses
from kitbuilder.report.fit import stock_length
from kitbuilder.report.form import Choice, FormRow, form_rows
from kitbuilder.report.numbers import System, shown
from kitbuilder.report.tables import counted_things
from kitbuilder.report.words import cut, sentence

WIDTH = 100
"""Columns of the text."""
TAG_WIDTH = 22

NOTHING_OWNED = "nothing in it yet"
NO_KITS = "No kit of this folder names this locker."
NOTHING_TO_GET = "nothing: all of it is here"
NOT_USED = "in no kit"

KitNeeds = Sequence[tuple[str, Needs]]
"""What each kit that names the locker needs, by its file name."""


# ---- words that the screen shares ----


def owned_words(thing: Owned, system: System) -> str:
    """What a thing is: "61 cm rubber, LP 3/8 to second stage 9/16"; how many, of what is counted."""
    if isinstance(thing, OwnedHose):
        length = shown(thing.length_m, "length", system)
        return f"{length} {thing.body}, {thing.from_end} to {thing.to_end}"
    if isinstance(thing, OwnedSuit):
        return f"{thing.cut}, {shown(thing.thickness_m, 'thickness', system)}"
    if isinstance(thing, Counted):
        return f"{pieces_of(thing)} × {_piece_words(thing, system)}"
    return getattr(thing, "preset", None) or getattr(thing, "inlet", None) or thing.title


def state_words(thing: Owned) -> str:
    """Its state and where it is kept; empty when it is in order and nothing is told."""
    parts = [
        "" if thing.condition in (None, IN_ORDER) else f"{thing.condition}",
        "clean for oxygen" if thing.oxygen_clean else "",
        f"kept in {visible(thing.kept_in)}" if thing.kept_in else "",
    ]
    return "; ".join(part for part in parts if part)


def date_rows(thing: Owned, locker: Locker) -> tuple[str, ...]:
    """Each date of a thing, and when what counts from it is due: "serviced 2 March 2026: due 2 March 2027"."""
    dues = dues_of(thing, locker.header.region)
    rows = []
    for key, told in dates_of(thing).items():
        due = [f"{day_words(due.on)} ({_asked(due.interval.region)})" for due in dues if due.interval.since == key]
        rows.append(": due ".join([f"{key} {day_words(told)}", *([", ".join(due)] if due else [])]))
    return tuple(rows)


def use_words(uses: Sequence[Use]) -> str:
    """Where a thing is used: "cold-single.toml (first), sidemount.toml (right)"."""
    return ", ".join(f"{visible(use.file)} ({visible(use.tag)})" for use in uses) or NOT_USED


def lack_words(lack: Lack, system: System) -> str:
    """What to get, with its ends or threads: "1 × hose, 75 cm (30 in), rubber: LP 3/8 (male 3/8-24 UNF) to ..."."""
    return f"{lack.pieces} × {_lacking(lack, system)}{', clean for oxygen' if lack.must_be_clean else ''}"


def item_words(item: Finding | Unchecked, system: System) -> str:
    """A finding, or what could not be looked at, on a line: what, why and what to do."""
    if isinstance(item, Unchecked):
        return sentence(item.because, system)
    return " ".join(sentence(part, system) for part in (item.what, item.why, item.do))


def counted_signals(look: LockerLook) -> str:
    """How many findings there are of each signal word: "1 warning, 3 cautions"."""
    counts = [(signal, sum(finding.signal is signal for finding in look.findings)) for signal in reversed(Signal)]
    return ", ".join(counted_things(count, signal.word.lower()) for signal, count in counts if count) or "none"


def owned_choices(locker: Locker | None, kind: str, system: System) -> tuple[Choice, ...]:
    """The things of a locker that a thing of a kit may be; none without a locker."""
    entries = locker.things if locker else ()
    return tuple(Choice(entry.tag, owned_words(entry, system)) for entry in entries if entry.kind == kind)


def taken_in_locker(thing: Owned | None, field: Field, system: System) -> str:
    """What is taken for a key that a locker file does not have."""
    if thing is None:
        return "custom alone" if field.key == "region" else ""
    if field.kind is Kind.DATE:
        return "not told"
    if field.key in TAKEN:
        return TAKEN[field.key]
    preset = catalogue().presets.get((thing.kind, getattr(thing, "preset", None) or ""))
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


def locker_rows(locker: Locker, written: dict[str, str], thing: int | None, system: System) -> tuple[FormRow, ...]:
    """The rows of the form of a thing of a locker; beside a date stands when what counts from it is due first."""
    entry = None if thing is None else locker.things[thing]
    rows = form_rows(locker, written, thing, system, lambda field: taken_in_locker(entry, field, system))
    due = {} if entry is None else {due.interval.since: due for due in reversed(dues_of(entry, locker.header.region))}
    return tuple(
        row._replace(note=f"due {day_words(due[row.field.key].on)}") if row.field.key in due else row for row in rows
    )


def detail_lines(look: LockerLook, number: int, uses: Uses, system: System) -> list[str]:
    """All there is to say about one thing: where it is used, its findings, its state and its dates."""
    thing = look.locker.things[number]
    lines = [f"Used: {use_words(uses.get(thing.tag, ()))}"]
    for item in look.of_thing(number):
        word = item.signal.word if isinstance(item, Finding) else "Not checked"
        lines.append(f"{word}: {item_words(item, system)}")
    return lines + [
        f"{row[:1].upper()}{row[1:]}" for row in (state_words(thing), *date_rows(thing, look.locker)) if row
    ]


def _piece_words(thing: Counted, system: System) -> str:
    if isinstance(thing, Plug):
        return thing.thread
    if isinstance(thing, OwnedAdapter):
        return thing.adapter
    if isinstance(thing, ORing):
        return f"O-ring {thing.size}"
    assert isinstance(thing, OwnedLead)
    return shown(thing.mass_kg, "lead", system)


def _asked(region: str) -> str:
    return f"rule, {region}" if region else "custom"


def _lacking(lack: Lack, system: System) -> str:
    title = LOCKER_KINDS[lack.kind].title
    if lack.hose is not None:
        ends = ends_of(lack.hose)
        length = stock_length(lack.hose.length_m, system)
        apart = " without its ends" if lack.hose.measured == "hose only" else ""
        both = f"{_end_words(ends.at_first_stage)} to {_end_words(ends.at_device)}"
        return f"{title}, {length}{apart}, {lack.hose.body}: {both}"
    if lack.kind == OwnedAdapter.kind:
        return lack.what
    if lack.mass_kg is not None:
        return f"{title}, {shown(lack.mass_kg, 'lead', system)} a piece"
    return f"{title}, {lack.what}" if lack.what else title


def _end_words(end: Fitting) -> str:
    return f"{end.name} ({end.gender} {end.joint})"


# ---- the text ----


def locker_text(file: str, look: LockerLook, uses: Uses, needs: KitNeeds, system: System) -> str:
    """A locker for people.

    Args:
        file: The name of the locker file.
        look: What there is to say about it on a day.
        uses: Where its things are used.
        needs: What the kits that name it need more.
        system: The reader's units.
    """
    header = look.locker.header
    rules = f"rules of {header.region}" if header.region else "no rules but custom"
    lines = [
        visible(file),
        f"{visible(header.name)} · {counted_things(len(look.locker.things), 'thing')} · "
        f"on {day_words(look.day)} · {rules}",
        *_thing_lines(look, uses, system),
        "",
        f"Findings: {counted_signals(look)}",
        *(row for finding in look.findings for row in _finding_lines(finding, look, system)),
    ]
    if look.unchecked:
        lines += ["", f"Not checked: {len(look.unchecked)}"]
        lines += [row for item in look.unchecked for row in _unchecked_lines(item, look, system)]
    return "\n".join([*lines, "", *need_lines(needs, system), ""])


def _thing_lines(look: LockerLook, uses: Uses, system: System) -> Iterator[str]:
    if not look.locker.things:
        yield f"  {NOTHING_OWNED}"
    for record in LOCKER_KINDS.values():
        things = [thing for thing in look.locker.things if isinstance(thing, record)]
        if things:
            yield from ("", f"{record.title}, {len(things)}")
        for thing in things:
            yield from _one_thing(thing, look.locker, uses.get(thing.tag, ()), system)


def _one_thing(thing: Owned, locker: Locker, used: Sequence[Use], system: System) -> Iterator[str]:
    tag = cut(thing.tag, TAG_WIDTH)
    yield from _hung(f"  {tag:<{TAG_WIDTH}}  ", owned_words(thing, system))
    more = [*date_rows(thing, locker), state_words(thing)]
    if used or not isinstance(thing, Counted):
        more.append(use_words(used))
    for row in more:
        if row:
            yield from _hung(" " * (TAG_WIDTH + 4), row)


def _hung(head: str, text: str, width: int = WIDTH) -> Iterator[str]:
    """A text beside a head, its other lines below its first."""
    first, *rest = wrap(text, max(width - len(head), 20)) or [""]
    yield f"{head}{first}".rstrip()
    yield from (" " * len(head) + row for row in rest)


def _finding_lines(finding: Finding, look: LockerLook, system: System) -> Iterator[str]:
    thumb = ", a rule of thumb" if finding.rule_of_thumb else ""
    yield f"  {finding.signal.word:<8} {_tag(finding, look)}: {finding.rule} (line {finding.line}{thumb})"
    for part in (finding.what, finding.why, finding.do):
        yield from _hung(" " * 11, sentence(part, system))


def _unchecked_lines(item: Unchecked, look: LockerLook, system: System) -> Iterator[str]:
    where = f"Set {item.key} (line {item.line})."
    yield from _hung("  ", f"{_tag(item, look)}: {sentence(item.because, system)} {where}")


def _tag(item: Finding | Unchecked, look: LockerLook) -> str:
    return "locker" if item.thing is None else visible(look.locker.things[item.thing].tag)


def need_lines(needs: KitNeeds, system: System, width: int = WIDTH) -> Iterator[str]:
    """What to get for each kit that names the locker."""
    if not needs:
        yield NO_KITS
        return
    yield "To get, for each kit by itself"
    for file, need in needs:
        if not need.lacks:
            yield from _hung(f"  {visible(file)}: ", NOTHING_TO_GET, width)
            continue
        yield f"  {visible(file)}, {visible(need.name)}"
        for lack in need.lacks:
            what_for = f"; for {', '.join(visible(tag) for tag in lack.tags)}" if lack.tags else ""
            yield from _hung("    ", f"{lack_words(lack, system)}{what_for}", width)


# ---- for programs ----


def locker_json(file: str, look: LockerLook, uses: Uses, needs: KitNeeds, system: System) -> dict[str, Any]:
    """A locker for programs: SI units, days as ISO 8601."""
    header = look.locker.header
    return {
        "file": file,
        "name": header.name,
        "holds": "locker",
        "day": look.day.isoformat(),
        "region": header.region,
        "things": [_thing_json(number, thing, look, uses, system) for number, thing in enumerate(look.locker.things)],
        "findings": [_finding_json(finding, look, system) for finding in look.findings],
        "not_checked": [_unchecked_json(item, look, system) for item in look.unchecked],
        "kits": [_needs_json(kit, need) for kit, need in needs],
    }


def _thing_json(number: int, thing: Owned, look: LockerLook, uses: Uses, system: System) -> dict[str, Any]:
    return {
        "tag": thing.tag,
        "kind": thing.kind,
        "line": look.lines.of(number, None),
        "what": owned_words(thing, system),
        "pieces": pieces_of(thing),
        "condition": thing.condition or IN_ORDER,
        "oxygen_clean": bool(thing.oxygen_clean),
        "kept_in": thing.kept_in,
        "dates": {key: told.isoformat() for key, told in dates_of(thing).items()},
        "due": [
            {
                "name": due.interval.name,
                "since": due.interval.since,
                "on": due.on.isoformat(),
                "region": due.interval.region or None,
                "is_due": due.is_due(look.day),
                "origin": due.interval.origin,
            }
            for due in dues_of(thing, look.locker.header.region)
        ],
        "used": [use._asdict() for use in uses.get(thing.tag, ())],
    }


def _finding_json(finding: Finding, look: LockerLook, system: System) -> dict[str, Any]:
    return {
        "signal": finding.signal.word.lower(),
        "rule": finding.rule,
        "rule_of_thumb": finding.rule_of_thumb,
        "thing": _tag(finding, look),
        "key": finding.key,
        "line": finding.line,
        "what": sentence(finding.what, system),
        "why": sentence(finding.why, system),
        "do": sentence(finding.do, system),
    }


def _unchecked_json(item: Unchecked, look: LockerLook, system: System) -> dict[str, Any]:
    return {
        "rule": item.rule,
        "thing": _tag(item, look),
        "key": item.key,
        "line": item.line,
        "because": sentence(item.because, system),
    }


def _needs_json(file: str, needs: Needs) -> dict[str, Any]:
    return {
        "file": file,
        "name": needs.name,
        "taken": dict(needs.taken),
        "to_get": [_lack_json(lack) for lack in needs.lacks],
    }


def _lack_json(lack: Lack) -> dict[str, Any]:
    row: dict[str, Any] = {
        "kind": lack.kind,
        "pieces": lack.pieces,
        "what": lack.what or None,
        "for": list(lack.tags),
        "mass_kg": lack.mass_kg,
        "oxygen_clean": lack.must_be_clean,
    }
    if lack.hose is None:
        return row
    ends = ends_of(lack.hose)
    return row | {
        "length_m": lack.hose.length_m,
        "measured": lack.hose.measured or "end to end",
        "body": lack.hose.body,
        "first_stage_end": _end_json(ends.at_first_stage),
        "device_end": _end_json(ends.at_device),
    }


def _end_json(end: Fitting) -> dict[str, str]:
    return {"name": end.name, "joint": end.joint, "gender": end.gender}
