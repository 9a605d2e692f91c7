"""The items of a gear file that a kit is built from: are they there, once, in date, and what the kit says they are."""

from collections import Counter
from collections.abc import Iterator

from kitbuilder.assess.findings import Amount, Finding, RuleResults, Signal, Unchecked, Words, words
from kitbuilder.assess.gas.oxygen import format_part
from kitbuilder.assess.gas.oxygen_clean import GasContact, asks_for_clean, format_thresholds
from kitbuilder.assess.gear.due import (
    dues_of,
    format_needs_region,
    format_term,
    intervals_for,
    needs_region,
    without_date,
)
from kitbuilder.assess.gear.gear import format_due, why_due
from kitbuilder.assess.gear.sameness import BORE, HOSE_ONLY, LENGTH, HoseRecord, record_of, unlike
from kitbuilder.assess.gear.shortage import allocate_from
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.registry import rule
from kitbuilder.kit.fields import ValueKind, fields_of
from kitbuilder.kit.gear import GEAR_KINDS, OUT_OF_USE, Owned, pieces_of
from kitbuilder.kit.items import FirstStage, Hose, Item, Lead
from kitbuilder.kit.owned import differing, shared_attributes

MOST_NAMED = 6
"""Tags of the gear file that advice names."""


@rule("gear file")
def gear_file(context: Context) -> RuleResults:
    """Report a gear file that is named and cannot be used, or is not named though items are taken from it."""
    for problem in context.kit.linked.gear_problems:
        yield Finding(
            Signal.CAUTION,
            None,
            "gear",
            words(f"the gear file cannot be used: {problem}"),
            words("Nothing is known of the items that are owned: no mass, no date, no state."),
            words("Fix the gear file, or name another."),
        )
    if context.kit.header.gear is None and any(item.owned for item in context.kit.items):
        yield Finding(
            Signal.NOTICE,
            None,
            "gear",
            words("items are said to be owned, and no gear file is named"),
            words("Nothing is known of them but what the kit says."),
            words("Name the gear file, or take `owned` out."),
        )


@rule("owned nowhere")
def owned_nowhere(context: Context) -> RuleResults:
    """Report an item said to be one of the gear file, which has none such."""
    gear = context.kit.linked.gear
    if gear is None:
        return
    for number, item in enumerate(context.kit.items):
        if not item.owned or _entry(context, item) is not None:
            continue
        other = gear.item(item.owned)
        alike = [entry.tag for entry in gear.items if entry.kind == item.kind]
        yield Finding(
            Signal.CAUTION,
            number,
            "owned",
            words(
                f'"{item.owned}" is a {other.title} in the gear file, not a {item.title}'
                if other
                else f'the gear file has no {item.title} "{item.owned}"'
            ),
            words("Nothing of it is known but what the kit says."),
            words(f"Of this kind it has {_listed(alike)}."),
        )


@rule("owned twice")
def owned_twice(context: Context) -> RuleResults:
    """Report one item of the gear file in two places of the kit at once."""
    gone: Counter[str] = Counter()
    for number, item, entry in _owned_items(context):
        wanted = (item.pieces or 1) if isinstance(item, Lead) else 1
        gone[entry.tag] += wanted
        has = pieces_of(entry)
        if gone[entry.tag] > has:
            yield Finding(
                Signal.WARNING,
                number,
                "owned",
                words(_twice(context, item, gone[entry.tag], has)),
                words("An item cannot be in two places at once: this kit cannot be built from your gear."),
                words("Name another item of the gear file, or take `owned` out and get one more."),
            )


@rule("unlike the gear file")
def unlike_the_gear_file(context: Context) -> RuleResults:
    """Report an item on which kit and gear file disagree."""
    for number, item, entry in _owned_items(context):
        names = _unlike(item, entry)
        if names:
            fields = {field.attribute: field for field in fields_of(type(item))}
            yield Finding(
                Signal.CAUTION,
                number,
                fields[names[0]].key,
                words(f'it is "{entry.tag}" of the gear file, and they differ: ', *_differences(item, entry, names)),
                words("The kit's word counts here; one of the two files is wrong, or it is another item."),
                words("Correct one of them, or name the right item of the gear file."),
            )


@rule("out of use")
def out_of_use(context: Context) -> RuleResults:
    """Report an item that the gear file says is not to be dived with."""
    for number, item, entry in _owned_items(context):
        if entry.condition == OUT_OF_USE:
            notes = f": {entry.notes}" if entry.notes else ""
            yield Finding(
                Signal.WARNING,
                number,
                "owned",
                words(f'"{item.owned}" is out of use{notes}'),
                words("Somebody took it out of use for a reason."),
                words("Take another in its place, or put it in order and say so in the gear file."),
            )


@rule("not clean for oxygen")
def not_clean_for_oxygen(context: Context) -> RuleResults:
    """Report an item that gas rich in oxygen reaches, and that the gear file does not say is clean for it."""
    contacts = context.gas_contacts
    disputed: list[str] = []
    unknown: dict[str, int] = {}
    for number, item in enumerate(context.kit.items):
        contact, entry = contacts.get(item.tag), _entry(context, item)
        if contact is None or not (contact.must_be_clean or contact.is_disputed):
            continue
        if entry is None:
            unknown[item.tag] = number
        elif entry.oxygen_clean:
            continue
        elif contact.is_disputed:
            disputed.append(item.tag)
        else:
            oxygen = format_part(contact.most)
            yield Finding(
                Signal.WARNING,
                number,
                "owned",
                words(f"gas with {oxygen} of oxygen reaches it, and the gear file does not say that it is clean"),
                words(f"Oil and dust burn in gas rich in oxygen. {format_thresholds()}"),
                words("Have it cleaned for oxygen and say so in the gear file, or take one that is."),
            )
    if disputed:
        yield Finding(
            Signal.NOTICE,
            None,
            "gear",
            words(
                f"gas with up to {_richest(contacts, disputed)} of oxygen reaches items that the gear file does not "
                f"call clean for it: {', '.join(disputed)}"
            ),
            words(format_thresholds()),
            words("Ask whoever made them, or whoever fills, which of the two counts."),
        )
    if unknown:
        yield Unchecked(
            min(unknown.values()),
            "owned",
            words(
                f"whether the items that gas with up to {_richest(contacts, list(unknown))} of oxygen reaches are "
                f"clean for it, since no gear file says: {', '.join(unknown)}. {format_thresholds()}"
            ),
        )


@rule("gas not known")
def gas_not_known(context: Context) -> RuleResults:
    """Report a first stage whose cylinder is not known, in a kit with gas that asks for clean parts."""
    richest = max((contact.most for contact in context.gas_contacts.values()), default=0.0)
    if not asks_for_clean(richest):
        return
    for number, stage in enumerate(context.kit.items):
        if isinstance(stage, FirstStage) and not context.behind[stage.tag]:
            yield Unchecked(
                number,
                "on",
                words(
                    f"whether it and what hangs on it have to be clean for gas with up to {format_part(richest)} of "
                    "oxygen: on which cylinder it sits is not known"
                ),
            )


@rule("clean and used with air")
def clean_and_used_with_air(context: Context) -> RuleResults:
    """Report items that the gear file calls clean for oxygen, and that this kit uses with ordinary gas."""
    contacts = context.gas_contacts
    used = [
        item.tag
        for _, item, entry in _owned_items(context)
        if entry.oxygen_clean and item.tag in contacts and contacts[item.tag].is_ordinary
    ]
    if used:
        least = min(contacts[tag].least for tag in used)
        yield Finding(
            Signal.NOTICE,
            None,
            "gear",
            words(
                f"items that the gear file calls clean for oxygen are used with gas of {format_part(least)} oxygen: "
                f"{', '.join(used)}"
            ),
            words("Air of a common compressor carries oil. An item that it went through counts as not clean."),
            words(
                "Ask whoever fills whether this air is made for oxygen-clean gear. If it is not, set oxygen_clean to "
                "false until the items are cleaned again."
            ),
        )


@rule("due before the dive")
def due_before_the_dive(context: Context) -> RuleResults:
    """Report an item of the gear file that is due on the day of the dive."""
    day, gear = context.kit.header.day, context.kit.linked.gear
    if gear is None:
        return
    if day is None:
        yield from _day_not_given(context, gear.header.region)
        return
    for number, _item, entry in _owned_items(context):
        for due in dues_of(entry, gear.header.region):
            if due.is_due(day):
                yield Finding(
                    due.signal(day),
                    number,
                    "owned",
                    format_due(due, day),
                    why_due(due),
                    words(due.interval.do),
                    rule_of_thumb=not due.interval.is_rule,
                )
        for interval in without_date(entry, gear.header.region):
            term = format_term(interval.months)
            when = f'the gear file does not say when "{entry.tag}" was {interval.since}'
            yield Unchecked(number, "", words(f"{when}: {interval.name}, after {term}"))
        for key in needs_region(entry, gear.header.region):
            yield Unchecked(number, "", format_needs_region(entry, key))


def _day_not_given(context: Context, region: str | None) -> RuleResults:
    """Say once what cannot be said of any item without the day of the dive."""
    kept_up = [
        entry for *_, entry in _owned_items(context) if intervals_for(entry, region) or needs_region(entry, region)
    ]
    if kept_up:
        yield Unchecked(
            None,
            "day",
            words(
                "whether what is owned is serviced, inspected and tested in time: the day of the dive is not given. "
                "`kitbuilder gear` shows what is due today"
            ),
        )


@rule("more than the gear file has")
def more_than_the_gear_file_has(context: Context) -> RuleResults:
    """Report hoses, regulators, gauges, plugs, adapters or lead that the gear file does not have."""
    if context.kit.linked.gear is None:
        return
    counts: Counter[str] = Counter()
    for shortage in allocate_from(context.kit.linked.gear, context.kit).shortages:
        counts[GEAR_KINDS[shortage.kind].title] += shortage.pieces
    if counts:
        yield Finding(
            Signal.NOTICE,
            None,
            "gear",
            words(f"your gear lacks {', '.join(_counted(title, count) for title, count in counts.items())}"),
            words("The kit cannot be built from what is owned alone."),
            words("Get them, or change the kit; `kitbuilder gear` lists them with their ends and threads."),
        )


# ---- what the rules share ----


def _entry(context: Context, item: Item) -> Owned | None:
    """Find an item of the kit in the gear file; None when it has no such item of its kind."""
    gear = context.kit.linked.gear
    entry = gear.item(item.owned) if gear and item.owned else None
    return entry if entry is not None and entry.kind == item.kind else None


def _owned_items(context: Context) -> Iterator[tuple[int, Item, Owned]]:
    for number, item in enumerate(context.kit.items):
        if (entry := _entry(context, item)) is not None:
            yield number, item, entry


def _listed(tags: list[str]) -> str:
    if not tags:
        return "none"
    more = f" and {len(tags) - MOST_NAMED} more" if len(tags) > MOST_NAMED else ""
    return ", ".join(f'"{tag}"' for tag in tags[:MOST_NAMED]) + more


def _twice(context: Context, item: Item, wanted: int, has: int) -> str:
    if isinstance(item, Lead):
        return f'the kit takes {wanted} pieces of "{item.owned}", and your gear has {has}'
    first = next(other for other in context.kit.items if other.owned == item.owned and other.kind == item.kind)
    return f'"{item.owned}" is {first.tag} already'


REASON_OF = {"length_m": LENGTH, "bore_m": BORE}
"""Why one hose does not do for another, by the attribute that says so."""


def _unlike(item: Item, entry: Owned) -> list[str]:
    """Give the attributes in which both files disagree; a length and a bore however they are written."""
    says_other = {*differing(item, entry)}
    have, want = record_of(entry), record_of(item)
    if isinstance(have, HoseRecord) and isinstance(want, HoseRecord):
        reasons = unlike(have, want)
        says_other = says_other - {*REASON_OF} | {name for name in REASON_OF if REASON_OF[name] in reasons}
    return [name for name in shared_attributes(item.kind) if name in says_other]


MEASURE_OF = {
    "length": "radius",
    "mass": "mass",
    "buoyancy": "buoyancy",
    "volume": "volume",
    "pressure": "pressure",
    "density": "density",
}
"""The measure in which a quantity of a dimension is shown."""


def _differences(item: Item, entry: Owned, names: list[str]) -> Words:
    """Give each key with what either file says."""
    fields = {field.attribute: field for field in fields_of(type(item))}
    pieces: list[str | Amount] = []
    for name in names:
        field = fields[name]
        measure = MEASURE_OF.get(field.dimension) if field.kind is ValueKind.QUANTITY else None
        pieces += ["; " if pieces else "", f"{field.key.replace('_', ' ')} "]
        for record, where in ((item, " here, "), (entry, " there")):
            without = " without its ends" if name == "length_m" and _is_hose_only(record) else ""
            pieces += [_quoted(getattr(record, name), measure), f"{without}{where}"]
    return tuple(pieces)


def _is_hose_only(record: Item | Owned) -> bool:
    return isinstance(record, Hose) and record.measured == HOSE_ONLY


def _quoted(value: object, measure: str | None) -> str | Amount:
    if measure is not None and isinstance(value, float):
        return Amount(value, measure)
    if isinstance(value, bool):
        return "yes" if value else "no"
    return ", ".join(map(str, value)) if isinstance(value, tuple) else f"{value}"


def _richest(contacts: dict[str, GasContact], tags: list[str]) -> str:
    return format_part(max(contacts[tag].most for tag in tags))


def _counted(title: str, count: int) -> str:
    plural = title if count == 1 or title == "lead" else f"{title}s"
    return f"{count} {'pieces of lead' if title == 'lead' and count > 1 else plural}"
