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
from kitbuilder.assess.gear.gear import format_due
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
            words("Nothing is known of the owned items: no mass, no date, no condition."),
            words("Fix the gear file, or name another one."),
        )
    if context.kit.header.gear is None and any(item.owned for item in context.kit.items):
        yield Finding(
            Signal.NOTICE,
            None,
            "gear",
            words("items name what is owned, but the kit names no gear file"),
            words("Only what the kit says of these items is known."),
            words("Name the gear file as `gear`, or remove `owned` from the items."),
        )


@rule("owned nowhere")
def owned_nowhere(context: Context) -> RuleResults:
    """Report an item that names an entry which the gear file does not have."""
    gear = context.kit.linked.gear
    if gear is None:
        return
    for number, item in enumerate(context.kit.items):
        if not item.owned or _entry(context, item) is not None:
            continue
        other = gear.item(item.owned)
        same_kind = [entry.tag for entry in gear.items if entry.kind == item.kind]
        yield Finding(
            Signal.CAUTION,
            number,
            "owned",
            words(
                f'"{item.owned}" is a {other.title} in the gear file, not a {item.title}'
                if other
                else f'the gear file has no {item.title} "{item.owned}"'
            ),
            words("Only what the kit says of this item is known."),
            words(f"Correct `owned`. The gear file has: {_listed(same_kind)}."),
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
                words("An item cannot be in two places, so the kit cannot be built from your gear."),
                words("Name another item of the gear file. Or remove `owned`, and buy one more."),
            )


@rule("unlike the gear file")
def unlike_the_gear_file(context: Context) -> RuleResults:
    """Report an item on which kit and gear file disagree."""
    for number, item, entry in _owned_items(context):
        if item.rented:
            yield Finding(
                Signal.CAUTION,
                number,
                "rented",
                words(f'the item is marked as rented, and also as "{entry.tag}" of the gear file'),
                words("It is left out of what is brought along, but mass and buoyancy are taken from the owned item."),
                words("Remove `owned` or `rented`."),
            )
        names = _unlike(item, entry)
        if names:
            fields = {field.attribute: field for field in fields_of(type(item))}
            yield Finding(
                Signal.CAUTION,
                number,
                fields[names[0]].key,
                words(
                    f'kit and gear file say different things about "{entry.tag}": ', *_differences(item, entry, names)
                ),
                words("Here the kit counts. One of the two files is wrong, or they mean different items."),
                words("Correct one of the files, or name the right item as `owned`."),
            )


@rule("out of use")
def out_of_use(context: Context) -> RuleResults:
    """Report an item that the gear file says must not be used."""
    for number, item, entry in _owned_items(context):
        if entry.condition == OUT_OF_USE:
            notes = f": {entry.notes}" if entry.notes else ""
            yield Finding(
                Signal.WARNING,
                number,
                "owned",
                words(f'the gear file says that "{item.owned}" is out of use{notes}'),
                words("Somebody took it out of use for a reason."),
                words("Use another item. Or repair this one, and change its `condition` in the gear file."),
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
                words(
                    f"gas with {oxygen} oxygen reaches the item, and the gear file does not say that it is oxygen-clean"
                ),
                words(f"Oil and dust burn in oxygen-rich gas. {format_thresholds()}"),
                words("Use a clean item. Or have this one cleaned, and write `oxygen_clean = true` in the gear file."),
            )
    if disputed:
        yield Finding(
            Signal.NOTICE,
            None,
            "gear",
            words(
                f"gas with up to {_richest(contacts, disputed)} oxygen reaches items that are not known to be "
                f"oxygen-clean: {', '.join(disputed)}"
            ),
            words(format_thresholds()),
            words("Ask the manufacturer or the filling station which limit counts."),
        )
    if unknown:
        yield Unchecked(
            min(unknown.values()),
            "owned",
            words(
                f"whether items are clean that gas with up to {_richest(contacts, list(unknown))} oxygen reaches: "
                f"{', '.join(unknown)}. {format_thresholds()} Name their entries in a gear file"
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
                    f"whether the first stage, and what it feeds, has to be clean for gas with up to "
                    f"{format_part(richest)} oxygen: it is not known on which cylinder it sits"
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
            words(f"oxygen-clean items are used with gas of {format_part(least)} oxygen: {', '.join(used)}"),
            words("Air from an ordinary compressor carries oil, so these items then count as not clean."),
            words(
                "Ask the filling station whether its air is made for oxygen-clean gear. If it is not, write "
                "`oxygen_clean = false` until the items are cleaned again."
            ),
        )


@rule("upkeep due")
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
                    words(due.interval.why),
                    words(due.interval.do),
                    rule_of_thumb=not due.interval.is_rule,
                )
        for interval in without_date(entry, gear.header.region):
            term = format_term(interval.months)
            what = (
                f'{interval.name}, due after {term}: the gear file does not say when "{entry.tag}" was {interval.since}'
            )
            yield Unchecked(number, "", words(what))
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
                "whether owned items are due for service, inspection or test: the day of the dive is not given. "
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
        missing = ", ".join(_counted(title, count) for title, count in counts.items())
        yield Finding(
            Signal.NOTICE,
            None,
            "gear",
            words(f"your gear does not have enough for this kit; missing: {missing}"),
            words("The kit cannot be built from your gear alone."),
            words("Buy what is missing, or change the kit. `kitbuilder gear` lists it with ends and threads."),
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
        return f'the kit uses {wanted} pieces of "{item.owned}", but your gear has only {has}'
    first = next(other for other in context.kit.items if other.owned == item.owned and other.kind == item.kind)
    return f'"{item.owned}" of the gear file is already used as "{first.tag}"'


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
    """Give each key with what each of the two files says."""
    fields = {field.attribute: field for field in fields_of(type(item))}
    pieces: list[str | Amount] = []
    for name in names:
        field = fields[name]
        measure = MEASURE_OF.get(field.dimension) if field.kind is ValueKind.QUANTITY else None
        pieces += ["; " if pieces else "", f"{field.key.replace('_', ' ')} "]
        for record, where in ((item, " in the kit, "), (entry, " in the gear file")):
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
