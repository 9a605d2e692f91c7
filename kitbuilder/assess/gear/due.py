"""What falls due when: the dates of items owned, and the upkeep that counts from them."""

from calendar import monthrange
from datetime import date, timedelta
from typing import NamedTuple

from kitbuilder.assess.findings import Signal, Words, words
from kitbuilder.catalogue.upkeep import CLEANED, SINCE, UpkeepInterval, upkeep
from kitbuilder.kit.gear import OUT_OF_USE, Gear, Owned, OwnedHose

MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


class Due(NamedTuple):
    """One task to be done again, and by when."""

    interval: UpkeepInterval
    since: date
    on: date
    """The first day on which it is due."""
    latest: date
    """The first day after the long end of practice."""

    def is_due(self, day: date) -> bool:
        """Say whether the upkeep is due on a day."""
        return day >= self.on

    def is_due_soon(self, day: date) -> bool:
        """Say whether the upkeep is not due on a day, but soon after."""
        return not self.is_due(day) and day >= self.on - timedelta(days=upkeep().due_soon_days)

    def signal(self, day: date) -> Signal:
        """Give the signal word of upkeep due on a day: worse once common practice allows no more delay."""
        own = Signal[self.interval.signal.upper()]
        has_range = self.interval.latest > self.interval.months
        return max(own, Signal.WARNING) if has_range and day >= self.latest else own


def dues_of(item: Owned, region: str | None) -> tuple[Due, ...]:
    """Give the upkeep of an item with a date, the first due first.

    Args:
        item: The item.
        region: Whose rules count in addition to common practice; None for none.
    """
    starts = ((interval, getattr(item, interval.since)) for interval in intervals_for(item, region))
    dues = [
        Due(interval, since, months_after(since, interval.months), months_after(since, interval.latest))
        for interval, since in starts
        if since is not None
    ]
    return tuple(sorted(dues, key=lambda due: due.on))


def without_date(item: Owned, region: str | None) -> tuple[UpkeepInterval, ...]:
    """Give the upkeep of an item whose due date is not known, because a date is missing."""
    return tuple(interval for interval in intervals_for(item, region) if getattr(item, interval.since) is None)


class NextDue(NamedTuple):
    """What is due next of one item."""

    number: int
    """Of the item in the gear file."""
    item: Owned
    due: Due


def next_dues(gear: Gear) -> tuple[NextDue, ...]:
    """Give what is due next of every item that is not out of use, the soonest first."""
    found = (
        NextDue(number, item, dues[0])
        for number, item in enumerate(gear.items)
        if item.condition != OUT_OF_USE and (dues := dues_of(item, gear.header.region))
    )
    return tuple(sorted(found, key=lambda each: (each.due.on, each.number)))


def needs_region(item: Owned, region: str | None) -> tuple[str, ...]:
    """Give the dates of an item from which only rules of regions count, when none of their regions is named."""
    rules = [interval for interval in upkeep().intervals if item.kind in interval.kinds and interval.is_rule]
    counted = {interval.since for interval in intervals_for(item, region)}
    return tuple(dict.fromkeys(interval.since for interval in rules if interval.since not in counted))


def format_needs_region(item: Owned, key: str) -> Words:
    """Say that it is not known when an item is due, what is known of its last date, and what to add."""
    given = getattr(item, key)
    *others, one_more = upkeep().regions
    regions = f"{', '.join(others)} or {one_more}" if others else one_more
    last = f"it was last {key} on {format_day(given)}" if given else f"it is not known when it was last {key}"
    return words(
        f"when the item has to be {key} again: {last}, and rules differ. Write `region` in the gear file: {regions}"
    )


def intervals_for(item: Owned, region: str | None) -> tuple[UpkeepInterval, ...]:
    """Give the upkeep that an item needs."""
    return tuple(interval for interval in upkeep().intervals if _is_for(interval, item, region))


def dates_of(item: Owned) -> dict[str, date]:
    """Give the dates given for an item, by key."""
    dates = ((key, getattr(item, key, None)) for key in SINCE)
    return {key: found for key, found in dates if found is not None}


def months_after(since: date, months: int) -> date:
    """Give the same day some months later; the last day of a shorter month, or of the calendar beyond its end."""
    years, month = divmod(since.month - 1 + months, 12)
    year, month = since.year + years, month + 1
    if year > date.max.year:
        return date.max
    return date(year, month, min(since.day, monthrange(year, month)[1]))


def format_day(day: date) -> str:
    """Give a day in words: "14 May 2026", in every language of the terminal the same."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def format_term(months: int) -> str:
    """Give a number of months in words: "2 years", "30 months"."""
    if months % 12 or months == 12:
        return f"{months} months"
    return f"{months // 12} years"


def asked_by(interval: UpkeepInterval) -> str:
    """Say who asks for the upkeep: "by common practice", "by rule (European Union)"."""
    return f"by rule ({interval.region})" if interval.is_rule else "by common practice"


def _is_for(interval: UpkeepInterval, item: Owned, region: str | None) -> bool:
    if item.kind not in interval.kinds or (interval.is_rule and interval.region != region):
        return False
    if isinstance(item, OwnedHose) and not interval.is_for_body(item.body):
        return False
    return interval.since != CLEANED or item.oxygen_clean is True
