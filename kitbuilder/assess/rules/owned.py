"""The things of a locker that a kit is built from: are they there, once, in date, and what the kit says they are."""

from collections import Counter
from collections.abc import Iterator

from kitbuilder.assess.findings import Amount, Finding, Signal, Unchecked, Words, words
from kitbuilder.assess.gas.feeds import oxygen_reaching
from kitbuilder.assess.gear.due import dues_of, term_words, without_date
from kitbuilder.assess.gear.lacking import take_from
from kitbuilder.assess.gear.locker import due_words, why_due
from kitbuilder.assess.gear.sameness import BORE, HOSE_ONLY, LENGTH, HoseRecord, record_of, unlike
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.registry import Result, rule
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.fields import Kind, fields_of
from kitbuilder.kit.locker import LOCKER_KINDS, OUT_OF_USE, Owned, pieces_of
from kitbuilder.kit.owned import differing, shared_attributes
from kitbuilder.kit.things import Hose, Lead, Thing

MOST_NAMED = 6
"""Tags of the locker that advice names."""


@rule("locker file")
def locker_file(context: Context) -> Result:
    """A locker file that is named and cannot be used, or is not named though things are taken from it."""
    for problem in context.kit.linked.locker_problems:
        yield Finding(
            Signal.CAUTION,
            None,
            "locker",
            words(f"the locker file: {problem}"),
            words("Nothing is known of the things that are owned: no mass, no date, no state."),
            words("Mend the locker file, or name another."),
        )
    if context.kit.header.locker is None and any(thing.owned for thing in context.kit.things):
        yield Finding(
            Signal.NOTICE,
            None,
            "locker",
            words("things are said to be owned, and no locker file is named"),
            words("Nothing is known of them but what the kit says."),
            words("Name the locker file, or take `owned` out."),
        )


@rule("owned nowhere")
def owned_nowhere(context: Context) -> Result:
    """A thing said to be one of the locker, which has none such."""
    locker = context.kit.linked.locker
    if locker is None:
        return
    for number, thing in enumerate(context.kit.things):
        if not thing.owned or _entry(context, thing) is not None:
            continue
        other = locker.thing(thing.owned)
        alike = [entry.tag for entry in locker.things if entry.kind == thing.kind]
        yield Finding(
            Signal.CAUTION,
            number,
            "owned",
            words(
                f'"{thing.owned}" is a {other.title} in the locker, not a {thing.title}'
                if other
                else f'the locker has no {thing.title} "{thing.owned}"'
            ),
            words("Nothing of it is known but what the kit says."),
            words(f"Of this kind it has {_listed(alike)}."),
        )


@rule("owned twice")
def owned_twice(context: Context) -> Result:
    """One thing of the locker in two places of the kit at once."""
    gone: Counter[str] = Counter()
    for number, thing, entry in _owned_things(context):
        wanted = (thing.pieces or 1) if isinstance(thing, Lead) else 1
        gone[entry.tag] += wanted
        has = pieces_of(entry)
        if gone[entry.tag] > has:
            yield Finding(
                Signal.WARNING,
                number,
                "owned",
                words(_twice(context, thing, gone[entry.tag], has)),
                words("A thing cannot be in two places at once: this kit cannot be built from the locker."),
                words("Name another thing of the locker, or take `owned` out and get one more."),
            )


@rule("unlike the locker")
def unlike_the_locker(context: Context) -> Result:
    """A thing of which kit and locker say different things."""
    for number, thing, entry in _owned_things(context):
        names = _unlike(thing, entry)
        if names:
            fields = {field.attribute: field for field in fields_of(type(thing))}
            yield Finding(
                Signal.CAUTION,
                number,
                fields[names[0]].key,
                words(f'it is "{entry.tag}" of the locker, and they differ: ', *_differences(thing, entry, names)),
                words("The kit's word counts here; one of the two files is wrong, or it is another thing."),
                words("Correct one of them, or name the right thing of the locker."),
            )


@rule("out of use")
def out_of_use(context: Context) -> Result:
    """A thing that the locker says is not to be dived with."""
    for number, thing, entry in _owned_things(context):
        if entry.condition == OUT_OF_USE:
            notes = f": {entry.notes}" if entry.notes else ""
            yield Finding(
                Signal.WARNING,
                number,
                "owned",
                words(f'"{thing.owned}" is out of use{notes}'),
                words("Somebody took it out of use for a reason."),
                words("Take another in its place, or put it in order and say so in the locker."),
            )


@rule("not clean for oxygen")
def not_clean_for_oxygen(context: Context) -> Result:
    """A thing that gas rich in oxygen reaches, and that the locker does not say is clean for it."""
    if context.kit.linked.locker is None:
        return
    limit = catalogue().limits["oxygen_clean_from"]
    doubtful: list[str] = []
    richest = 0.0
    reaches = oxygen_reaching(context.kit)
    for number, thing in enumerate(context.kit.things):
        oxygen = reaches.get(thing.tag, 0.0)
        entry = _entry(context, thing)
        if entry is None or entry.oxygen_clean or oxygen <= limit.low:
            continue
        if oxygen <= limit.value:
            doubtful.append(thing.tag)
            richest = max(richest, oxygen)
            continue
        yield Finding(
            Signal.WARNING,
            number,
            "owned",
            words(
                f"gas with {_percent(oxygen)} of oxygen reaches it, and the locker does not say that it is clean for it"
            ),
            words(f"Oil and dust burn in gas rich in oxygen. {_thresholds()}"),
            words("Have it cleaned for oxygen and say so in the locker, or take one that is."),
        )
    if doubtful:
        yield Finding(
            Signal.NOTICE,
            None,
            "locker",
            words(
                f"gas with up to {_percent(richest)} of oxygen reaches things that the locker does not say are clean "
                f"for it: {', '.join(doubtful)}"
            ),
            words(_thresholds()),
            words("Ask whoever made them, or whoever fills, which of the two counts."),
        )


@rule("due before the dive")
def due_before_the_dive(context: Context) -> Result:
    """A thing of the locker that is due on the day of the dive."""
    day, locker = context.kit.header.day, context.kit.linked.locker
    if day is None or locker is None:
        return
    for number, _thing, entry in _owned_things(context):
        for due in dues_of(entry, locker.header.region):
            if due.is_due(day):
                yield Finding(
                    due.signal(day),
                    number,
                    "owned",
                    due_words(due, day),
                    why_due(due),
                    words(due.interval.do),
                    rule_of_thumb=not due.interval.is_rule,
                )
        for interval in without_date(entry, locker.header.region):
            term = term_words(interval.months)
            when = f'when "{entry.tag}" was {interval.since} is not told in the locker'
            yield Unchecked(number, "", words(f"{when}: {interval.name}, after {term}"))


@rule("more than the locker has")
def more_than_the_locker_has(context: Context) -> Result:
    """Hoses, regulators, gauges, plugs, adapters or lead that the locker does not have."""
    if context.kit.linked.locker is None:
        return
    counts: Counter[str] = Counter()
    for lack in take_from(context.kit.linked.locker, context.kit).lacks:
        counts[LOCKER_KINDS[lack.kind].title] += lack.pieces
    if counts:
        yield Finding(
            Signal.NOTICE,
            None,
            "locker",
            words(f"the locker lacks {', '.join(_counted(title, count) for title, count in counts.items())}"),
            words("The kit cannot be built from what is owned alone."),
            words("Get them, or change the kit; `kitbuilder locker` lists them with their ends and threads."),
        )


# ---- what the rules share ----


def _entry(context: Context, thing: Thing) -> Owned | None:
    """What the locker says of a thing; None when it has no such thing of its kind."""
    locker = context.kit.linked.locker
    entry = locker.thing(thing.owned) if locker and thing.owned else None
    return entry if entry is not None and entry.kind == thing.kind else None


def _owned_things(context: Context) -> Iterator[tuple[int, Thing, Owned]]:
    for number, thing in enumerate(context.kit.things):
        if (entry := _entry(context, thing)) is not None:
            yield number, thing, entry


def _listed(tags: list[str]) -> str:
    if not tags:
        return "none"
    more = f" and {len(tags) - MOST_NAMED} more" if len(tags) > MOST_NAMED else ""
    return ", ".join(f'"{tag}"' for tag in tags[:MOST_NAMED]) + more


def _twice(context: Context, thing: Thing, wanted: int, has: int) -> str:
    if isinstance(thing, Lead):
        return f'the kit takes {wanted} pieces of "{thing.owned}", and the locker has {has}'
    first = next(other for other in context.kit.things if other.owned == thing.owned and other.kind == thing.kind)
    return f'"{thing.owned}" is {first.tag} already'


REASON_OF = {"length_m": LENGTH, "bore_m": BORE}
"""Why one hose does not do for another, by the attribute that says so."""


def _unlike(thing: Thing, entry: Owned) -> list[str]:
    """The attributes of which both files say different things; a length and a bore however they are written."""
    says_other = {*differing(thing, entry)}
    have, want = record_of(entry), record_of(thing)
    if isinstance(have, HoseRecord) and isinstance(want, HoseRecord):
        reasons = unlike(have, want)
        says_other = says_other - {*REASON_OF} | {name for name in REASON_OF if REASON_OF[name] in reasons}
    return [name for name in shared_attributes(thing.kind) if name in says_other]


MEASURE_OF = {
    "length": "radius",
    "mass": "mass",
    "buoyancy": "buoyancy",
    "volume": "volume",
    "pressure": "pressure",
    "density": "density",
}
"""The measure in which a quantity of a dimension is told."""


def _differences(thing: Thing, entry: Owned, names: list[str]) -> Words:
    """Each key with what either file says."""
    fields = {field.attribute: field for field in fields_of(type(thing))}
    pieces: list[str | Amount] = []
    for name in names:
        field = fields[name]
        measure = MEASURE_OF.get(field.dimension) if field.kind is Kind.QUANTITY else None
        pieces += ["; " if pieces else "", f"{field.key.replace('_', ' ')} "]
        for record, where in ((thing, " here, "), (entry, " there")):
            without = " without its ends" if name == "length_m" and _is_hose_only(record) else ""
            pieces += [_told(getattr(record, name), measure), f"{without}{where}"]
    return tuple(pieces)


def _is_hose_only(record: Thing | Owned) -> bool:
    return isinstance(record, Hose) and record.measured == HOSE_ONLY


def _told(value: object, measure: str | None) -> str | Amount:
    if measure is not None and isinstance(value, float):
        return Amount(value, measure)
    if isinstance(value, bool):
        return "yes" if value else "no"
    return ", ".join(map(str, value)) if isinstance(value, tuple) else f"{value}"


def _thresholds() -> str:
    """Both limits, and where they come from."""
    limit = catalogue().limits["oxygen_clean_from"]
    return f"Two limits are in use, {_percent(limit.low)} and {_percent(limit.value)} ({limit.origin})."


def _percent(part: float) -> str:
    return f"{part * 100:.3g} %"


def _counted(title: str, count: int) -> str:
    plural = title if count == 1 or title == "lead" else f"{title}s"
    return f"{count} {'pieces of lead' if title == 'lead' and count > 1 else plural}"
