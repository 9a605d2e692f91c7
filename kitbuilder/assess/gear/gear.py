"""A gear file by itself on a given day: what is due, what has no date, and what cannot be true."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import NamedTuple

from kitbuilder.assess.findings import Finding, RuleResults, Signal, Unchecked, Words, words
from kitbuilder.assess.gas.oxygen import format_part
from kitbuilder.assess.gas.oxygen_clean import GasContact, loses_cleanliness
from kitbuilder.assess.gear.assemblies import assembly_findings
from kitbuilder.assess.gear.due import (
    Due,
    asked_by,
    dates_of,
    dues_of,
    format_day,
    format_needs_region,
    format_term,
    needs_region,
    without_date,
)
from kitbuilder.assess.old_words import notice_old_words
from kitbuilder.kit.gear import OUT_OF_USE, Gear, Owned, OwnedAssembly
from kitbuilder.kit.lines import NO_LINES, Lines

ContactsByTag = Mapping[str, Sequence[tuple[str, GasContact]]]
"""The gases that items meet in kits, by their tags in the gear file: the file name of the kit, and the gas."""
UsesByTag = Mapping[str, Sequence[str]]
"""The file names of the kits that use an item, by its tag in the gear file."""


NO_CONTACTS: ContactsByTag = {}
"""For a gear file whose kits are not read."""


class GearReport(NamedTuple):
    """What there is to say about a gear file on a day."""

    gear: Gear
    day: date
    findings: tuple[Finding, ...]
    """The worst first, then in the order of the gear file; an item is its number there."""
    unchecked: tuple[Unchecked, ...]
    lines: Lines
    """Where the items stand in the file of the gear file."""

    def of_item(self, number: int | None) -> tuple[Finding | Unchecked, ...]:
        """Give every finding about one item; about the file itself when None."""
        every: tuple[Finding | Unchecked, ...] = (*self.findings, *self.unchecked)
        return tuple(item for item in every if item.item == number)

    @property
    def worst(self) -> dict[int | None, Signal]:
        """The worst signal word of each item that has a finding."""
        return {finding.item: finding.signal for finding in reversed(self.findings)}


def report_on_gear(
    gear: Gear, day: date, used: UsesByTag, lines: Lines = NO_LINES, contacts: ContactsByTag = NO_CONTACTS
) -> GearReport:
    """Check a gear file on a day.

    Args:
        gear: The gear file.
        day: The day on which items are to be in order.
        used: Which kits use what.
        lines: Where everything stands in the file of the gear file.
        contacts: Which gases the items meet in the kits.
    """
    every = [
        result
        for number, item in enumerate(gear.items)
        for result in (
            *_item_results(number, item, gear, day, used),
            *_soiled(number, contacts.get(item.tag, ())),
        )
    ]
    found = [
        *findings_of_file(gear, lines),
        *(result._replace(line=lines.of(result.item, result.key)) for result in every),
    ]
    findings = [result for result in found if isinstance(result, Finding)]
    return GearReport(
        gear,
        day,
        tuple(sorted(findings, key=lambda finding: (-finding.signal, finding.item or 0))),
        tuple(result for result in found if isinstance(result, Unchecked)),
        lines,
    )


def findings_of_file(gear: Gear, lines: Lines = NO_LINES) -> tuple[Finding, ...]:
    """Check a gear file by itself: what is true of it on any day, whatever kits use it.

    Args:
        gear: The gear file.
        lines: Where everything stands in its file.
    """
    return tuple(found._replace(line=lines.of(found.item, found.key)) for found in notice_old_words(gear.old_words))


def _item_results(number: int, item: Owned, gear: Gear, day: date, used: UsesByTag) -> RuleResults:
    yield from _dates_wrong(number, item, day)
    yield from _place(number, item, gear)
    if isinstance(item, OwnedAssembly):
        yield from assembly_findings(number, item, gear)
    if item.condition == OUT_OF_USE:  # what is not used need not be in date
        yield from _used_although(number, item, used)
        return
    for due in dues_of(item, gear.header.region):
        yield from _due(number, due, day)
    yield from _no_date(number, item, gear.header.region)
    for key in needs_region(item, gear.header.region):
        missing = key if getattr(item, key) is None else ""
        yield Unchecked(number, missing, format_needs_region(item, key), "region missing")


# ---- what is due ----


def _due(number: int, due: Due, day: date) -> RuleResults:
    if due.is_due(day):
        yield Finding(
            due.signal(day),
            number,
            due.interval.since,
            format_due(due, day),
            words(due.interval.why),
            words(due.interval.do),
            "due",
            rule_of_thumb=not due.interval.is_rule,
        )
    elif due.is_due_soon(day):
        yield Finding(
            Signal.NOTICE,
            number,
            due.interval.since,
            format_due(due, day),
            words(due.interval.why),
            words(due.interval.do),
            "due soon",
            rule_of_thumb=not due.interval.is_rule,
        )


def format_due(due: Due, day: date) -> Words:
    """Say what is due, who requires it, since when or how soon, from which date it counts, and how long some wait."""
    interval, on = due.interval, format_day(due.on)
    when = f"has been due since {on}" if due.is_due(day) else f"will be due in {_days((due.on - day).days)}, on {on}"
    term = f"{format_term(interval.months)} after it was {interval.since} on {format_day(due.since)}"
    waits = f". Some wait until {format_day(due.latest)}" if interval.latest != interval.months else ""
    return words(f"{interval.name} {when}: {term}, {asked_by(interval)}{waits}")


def _days(count: int) -> str:
    return "1 day" if count == 1 else f"{count} days"


def _no_date(number: int, item: Owned, region: str | None) -> RuleResults:
    """Give one line for each date that is missing, however much counts from it."""
    missing = {interval.since: interval for interval in reversed(without_date(item, region))}
    for key, interval in missing.items():
        term = format_term(interval.months)
        yield Unchecked(
            number,
            key,
            words(f"{interval.name}, due after {term}: it is not known when the item was {key}"),
            "date missing",
        )


# ---- oxygen ----


def _soiled(number: int, contacts: Sequence[tuple[str, GasContact]]) -> RuleResults:
    """Report an item that has to be clean for oxygen in one kit, and counts as not clean after another."""
    rich = [pair for pair in contacts if pair[1].must_be_clean]
    other = [pair for pair in contacts if any(loses_cleanliness(pair[1], contact) for _, contact in rich)]
    if rich and other:
        yield Finding(
            Signal.CAUTION,
            number,
            "oxygen_clean",
            words(
                f"the item is used with {format_part(rich[0][1].most)} oxygen in {rich[0][0]}, and with "
                f"{format_part(other[0][1].least)} oxygen in {other[0][0]}"
            ),
            words("After gas that does not need clean parts, it counts as not clean until it is cleaned again."),
            words("Use it in only one of these kits, or have it cleaned for oxygen before each change."),
            "clean and used with air",
        )


# ---- dates that cannot be ----


def _dates_wrong(number: int, item: Owned, day: date) -> RuleResults:
    dates = dates_of(item)
    for key, given in dates.items():
        if given > day:
            yield Finding(
                Signal.WARNING,
                number,
                key,
                words(f"the item was {key} on {format_day(given)}, but that is after {format_day(day)}"),
                words("Everything that counts from this date would be due too late."),
                words("Correct the date."),
                "date in the future",
            )
    yield from _dates_out_of_order(number, dates)


def _dates_out_of_order(number: int, dates: dict[str, date]) -> RuleResults:
    made = dates.get("made")
    for key, given in dates.items():
        if made is not None and given < made:
            yield Finding(
                Signal.CAUTION,
                number,
                key,
                words(f"the item was {key} on {format_day(given)}, but made only on {format_day(made)}"),
                words("One of the two dates is wrong, so due dates are wrong as well."),
                words("Read the stamp again. Correct the date."),
                "dates out of order",
            )
    if "inspected" in dates and "tested" in dates and dates["inspected"] < dates["tested"]:
        inspected, tested = format_day(dates["inspected"]), format_day(dates["tested"])
        yield Finding(
            Signal.NOTICE,
            number,
            "inspected",
            words(f"the item was tested on {tested}, but last inspected on {inspected}"),
            words("A pressure test includes an inspection, but the next inspection counts from the older date."),
            words("If it was inspected at the test, write that day as `inspected` too."),
            "dates out of order",
        )


# ---- where it is ----


def _used_although(number: int, item: Owned, used: UsesByTag) -> RuleResults:
    if kits := used.get(item.tag):
        yield Finding(
            Signal.WARNING,
            number,
            "condition",
            words(f"the item is out of use, but {', '.join(kits)} {'uses' if len(kits) == 1 else 'use'} it"),
            words("Somebody took it out of use for a reason."),
            words("Use another item there. Or repair this one, and change its `condition`."),
            "out of use",
        )


def _place(number: int, item: Owned, gear: Gear) -> RuleResults:
    if item.kept_in is None:
        return
    if gear.item(item.kept_in) is None:
        yield Finding(
            Signal.CAUTION,
            number,
            "kept_in",
            words(f'the item is kept in "{item.kept_in}", which is not in the gear file'),
            words("Nobody can look for it there."),
            words("Correct `kept_in`, or add the box or bag to the gear file."),
            "kept nowhere",
        )
    elif (way := _way_back(item, gear)) is not None:
        yield Finding(
            Signal.CAUTION,
            number,
            "kept_in",
            words("the item is kept inside itself", f", by way of {', '.join(way[:-1])}" if len(way) > 1 else ""),
            words("Nothing can be kept inside itself."),
            words("Correct `kept_in`."),
            "kept in itself",
        )


def _way_back(item: Owned, gear: Gear) -> tuple[str, ...] | None:
    """Follow what an item is kept in back to the item, and give the tags; None when the way does not come back."""
    way: list[str] = []
    held: Owned | None = item
    while held is not None and held.kept_in is not None and held.kept_in not in way:
        way.append(held.kept_in)
        if held.kept_in == item.tag:
            return tuple(way)
        held = gear.item(held.kept_in)
    return None
