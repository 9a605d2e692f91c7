"""A gear file on a day: what is due by the calendar, worked out by hand, and what cannot be so."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.findings import Finding, Signal, Unchecked
from kitbuilder.assess.gear.due import dues_of, format_day, format_term, intervals_for, months_after, next_dues
from kitbuilder.assess.gear.gear import GearReport, findings_of_file, report_on_gear
from kitbuilder.catalogue.upkeep import upkeep
from kitbuilder.kit.file_kinds import GEAR_FILE
from kitbuilder.kit.gear import (
    OUT_OF_USE,
    Gear,
    GearHeader,
    Owned,
    OwnedCylinder,
    OwnedFirstStage,
    OwnedGauge,
    OwnedHose,
    OwnedOther,
    Plug,
)
from kitbuilder.kitfile.reader import parse_as
from kitbuilder.report.numbers import System
from kitbuilder.report.words import sentence

EUROPE = "European Union"
DAY = date(2027, 1, 15)
DAYS = st.dates(date(1950, 1, 1), date(2100, 12, 31))


def gear(*items: Owned, region: str | None = None) -> Gear:
    return Gear(GearHeader(format=1, holds="gear", name="gear", region=region), items)


def hose(tag: str = "hose", body: str = "rubber", **keys: object) -> OwnedHose:
    ends = {"from_end": "LP 3/8", "to_end": "second stage 9/16"}
    return OwnedHose(tag=tag, body=body, length_m=0.75, **(ends | keys))  # type: ignore[arg-type]


def cylinder(**keys: object) -> OwnedCylinder:
    return OwnedCylinder(tag="cylinder", preset="steel 12 L 232 long", **keys)  # type: ignore[arg-type]


def look(*items: Owned, day: date = DAY, region: str | None = None, used: dict[str, list[str]] | None = None):
    return report_on_gear(gear(*items, region=region), day, used or {})


def said(found: GearReport) -> list[tuple[Signal, str, int | None]]:
    return [(finding.signal, finding.rule, finding.item) for finding in found.findings]


def words(item: Finding | Unchecked) -> str:
    return sentence(item.because if isinstance(item, Unchecked) else item.what, System.METRIC)


# ---- the calendar ----


@pytest.mark.parametrize(
    ("since", "months", "then"),
    [
        ((2026, 1, 31), 1, (2026, 2, 28)),
        ((2028, 1, 31), 1, (2028, 2, 29)),
        ((2027, 10, 31), 1, (2027, 11, 30)),
        ((2026, 1, 30), 1, (2026, 2, 28)),
        ((2026, 1, 28), 1, (2026, 2, 28)),
        ((2024, 2, 29), 12, (2025, 2, 28)),
        ((2024, 2, 29), 48, (2028, 2, 29)),
        ((2025, 12, 20), 12, (2026, 12, 20)),
        ((2025, 12, 1), 1, (2026, 1, 1)),
        ((2025, 6, 15), 30, (2027, 12, 15)),
        ((2025, 5, 31), 30, (2027, 11, 30)),
        ((2026, 3, 2), 0, (2026, 3, 2)),
        ((9999, 12, 1), 1, (9999, 12, 31)),  # the calendar has no more days
    ],
)
def test_months_after_a_day(since: tuple[int, int, int], months: int, then: tuple[int, int, int]) -> None:
    """By the calendar on the wall."""
    assert months_after(date(*since), months) == date(*then)


@given(DAYS, st.integers(0, 200), st.integers(0, 200))
def test_more_months_are_never_earlier(since: date, fewer: int, more: int) -> None:
    assert months_after(since, fewer) <= months_after(since, fewer + more)


@given(DAYS, DAYS, st.integers(0, 200))
def test_a_later_day_is_never_due_earlier(one: date, other: date, months: int) -> None:
    first, second = sorted((one, other))
    assert months_after(first, months) <= months_after(second, months)


@given(DAYS, st.integers(0, 200))
def test_months_are_months(since: date, months: int) -> None:
    """The month is so many on, and the day the same, or the last there is."""
    then = months_after(since, months)
    assert (then.year - since.year) * 12 + then.month - since.month == months
    assert then.day == since.day or (then.day < since.day and (then + timedelta(days=1)).day == 1)


@given(DAYS, DAYS, DAYS)
def test_what_is_due_stays_due(made: date, one: date, other: date) -> None:
    """And never grows better with the days."""
    earlier, later = sorted((one, other))
    (due,) = dues_of(hose(made=made), None)
    assert due.is_due(earlier) <= due.is_due(later)
    if due.is_due(earlier):
        assert due.signal(earlier) <= due.signal(later)
    assert not (due.is_due(earlier) and due.is_due_soon(earlier))


def test_days_and_terms_in_words() -> None:
    assert format_day(date(2026, 5, 14)) == "14 May 2026"
    assert format_day(date(2027, 1, 1)) == "1 January 2027"
    assert [format_term(months) for months in (12, 24, 30, 60)] == ["12 months", "2 years", "30 months", "5 years"]


# ---- what is due ----


def test_a_rubber_hose_at_five_years() -> None:
    """Made on the first of May 2021, it is due on the first of May 2026; a day before it is not."""
    item = hose(made=date(2021, 5, 1))
    assert said(look(item, day=date(2026, 5, 1))) == [(Signal.CAUTION, "due", 0)]
    assert said(look(item, day=date(2026, 4, 30))) == [(Signal.NOTICE, "due soon", 0)]


@pytest.mark.parametrize("body", ["braided", "polyurethane"])
def test_other_bodies_at_four_years(body: str) -> None:
    item = hose(body=body, made=date(2021, 5, 1))
    assert said(look(item, day=date(2025, 5, 1))) == [(Signal.CAUTION, "due", 0)]


def test_soon_begins_sixty_days_before() -> None:
    """Sixty days before the first of May lies the second of March."""
    item = hose(made=date(2021, 5, 1))
    assert said(look(item, day=date(2026, 3, 2))) == [(Signal.NOTICE, "due soon", 0)]
    assert said(look(item, day=date(2026, 3, 1))) == []


def test_the_sentence_says_what_when_and_who_requires_it() -> None:
    (finding,) = look(OwnedFirstStage(tag="black", serviced=date(2025, 12, 20))).findings
    assert words(finding) == (
        "service of a regulator has been due since 20 December 2026: 12 months after it was serviced on "
        "20 December 2025, by common practice. Some wait until 20 December 2027."
    )
    assert (finding.key, finding.rule_of_thumb) == ("serviced", True)


def test_how_soon_is_said_in_days() -> None:
    """From the fifteenth of January to the first of February are seventeen days."""
    (finding,) = look(hose(body="braided", made=date(2023, 2, 1))).findings
    assert "will be due in 17 days, on 1 February 2027" in words(finding)
    (finding,) = look(hose(body="braided", made=date(2023, 2, 1)), day=date(2027, 1, 31)).findings
    assert "in 1 day, on" in words(finding)


def test_past_the_long_end_of_practice_it_is_a_warning() -> None:
    """A regulator serviced two years ago and more: no practice waits longer."""
    item = OwnedFirstStage(tag="black", serviced=date(2025, 1, 15))
    assert said(look(item, day=date(2027, 1, 14))) == [(Signal.CAUTION, "due", 0)]
    assert said(look(item, day=date(2027, 1, 15))) == [(Signal.WARNING, "due", 0)]


def test_rules_count_only_where_the_gear_file_says_so() -> None:
    """A test five years old is nobody's business elsewhere."""
    old = cylinder(tested=date(2021, 11, 1), inspected=date(2026, 12, 1))
    assert said(look(old)) == []
    assert said(look(old, region="United States")) == [(Signal.WARNING, "due", 0)]
    (finding,) = look(old, region=EUROPE).findings
    assert (finding.signal, finding.key, finding.rule_of_thumb) == (Signal.WARNING, "tested", False)
    assert "by rule (European Union)" in words(finding)


def test_custom_and_rule_from_the_same_date() -> None:
    """Inspected thirty months ago to the day: custom asks after twelve, the rule after thirty."""
    item = cylinder(inspected=date(2024, 7, 15), tested=date(2024, 7, 15))
    assert said(look(item, region=EUROPE)) == [(Signal.WARNING, "due", 0)] * 2
    assert said(look(item, region=EUROPE, day=date(2027, 1, 14))) == [
        (Signal.CAUTION, "due", 0),
        (Signal.NOTICE, "due soon", 0),
    ]


def test_cleaning_counts_for_what_is_said_to_be_clean() -> None:
    cleaned = date(2025, 11, 1)
    assert said(look(OwnedOther(tag="valve", oxygen_clean=True, cleaned=cleaned))) == [(Signal.CAUTION, "due", 0)]
    assert said(look(OwnedOther(tag="valve", cleaned=cleaned))) == []
    assert said(look(OwnedOther(tag="valve", oxygen_clean=False, cleaned=cleaned))) == []


def test_what_is_out_of_use_is_not_due() -> None:
    assert said(look(hose(made=date(2001, 1, 1), condition=OUT_OF_USE))) == []


@given(st.lists(st.sampled_from(upkeep().regions), max_size=1), DAYS, DAYS)
def test_any_dates_on_any_day(region: list[str], inspected: date, day: date) -> None:
    """Nothing falls over, and rules only add."""
    item = cylinder(inspected=inspected, tested=inspected)
    alone = look(item, day=day)
    ruled = look(item, day=day, region=region[0] if region else None)
    assert set(alone.findings) <= set(ruled.findings)


# ---- what is not known ----


@pytest.mark.parametrize(
    ("item", "key", "because"),
    [
        (hose(), "made", "replacement of a rubber hose, due after 5 years: it is not known when the item was made."),
        (
            OwnedGauge(tag="gauge"),
            "serviced",
            "comparison of a gauge, due after 12 months: it is not known when the item was serviced.",
        ),
        (
            cylinder(tested=date(2026, 1, 1)),
            "inspected",
            "internal inspection of a cylinder, due after 12 months",
        ),
    ],
)
def test_a_date_that_is_missing(item: Owned, key: str, because: str) -> None:
    (item,) = (each for each in look(item).unchecked if each.rule != "region missing")
    assert (item.item, item.key, item.rule) == (0, key, "date missing")
    assert words(item).startswith(because)


@pytest.mark.parametrize(
    ("tested", "key", "because"),
    [
        (date(2021, 5, 1), "", "it was last tested on 1 May 2021, and rules differ"),
        (None, "tested", "it is not known when it was last tested, and rules differ"),
    ],
)
def test_a_pressure_test_without_a_region_is_not_silent(tested: date | None, key: str, because: str) -> None:
    """Only rules of regions ask for it, and the file names none."""
    bottle = cylinder(inspected=DAY, tested=tested)
    (item,) = look(bottle).unchecked
    assert (item.item, item.key, item.rule) == (0, key, "region missing")
    assert because in words(item)
    assert "Write `region` in the gear file: European Union, United Kingdom or United States" in words(item)
    assert not [each for each in look(bottle, region=EUROPE).unchecked if each.rule == "region missing"]


def test_what_is_due_next_the_soonest_first() -> None:
    """By hand: five years for rubber, five for a test; of two dates of one item the earlier; out of use: none."""
    items = gear(
        hose("old", made=date(2024, 1, 1)),
        cylinder(inspected=date(2026, 4, 1), tested=date(2021, 3, 1)),
        hose("new", made=date(2026, 1, 1)),
        hose("gone", made=date(2000, 1, 1), condition=OUT_OF_USE),
        OwnedGauge(tag="gauge"),
        region=EUROPE,
    )
    assert [(each.item.tag, each.due.on) for each in next_dues(items)] == [
        ("cylinder", date(2026, 3, 1)),
        ("old", date(2029, 1, 1)),
        ("new", date(2031, 1, 1)),
    ]


def test_a_missing_date_is_named_once_however_much_counts_from_it() -> None:
    """In a region an inspection is asked for twice, by common practice and by rule."""
    items = look(cylinder(), region=EUROPE).unchecked
    assert sorted(item.key for item in items) == ["inspected", "tested"]


def test_what_has_no_upkeep_needs_no_date() -> None:
    found = look(Plug(tag="plugs", thread="3/8-24 UNF"), OwnedOther(tag="box"))
    assert (found.findings, found.unchecked) == ((), ())
    assert intervals_for(OwnedOther(tag="box"), EUROPE) == ()


# ---- dates that cannot be ----


def test_a_date_in_the_future() -> None:
    (finding,) = look(OwnedGauge(tag="gauge", serviced=date(2027, 1, 16))).findings
    assert (finding.signal, finding.rule, finding.key) == (Signal.WARNING, "date in the future", "serviced")
    assert words(finding) == "the item was serviced on 16 January 2027, but that is after 15 January 2027."
    assert said(look(OwnedGauge(tag="gauge", serviced=DAY))) == []


def test_cleaned_before_it_was_made() -> None:
    (finding,) = look(hose(made=date(2025, 5, 1), cleaned=date(2025, 4, 30))).findings
    assert (finding.signal, finding.rule, finding.key) == (Signal.CAUTION, "dates out of order", "cleaned")
    assert said(look(hose(made=date(2025, 5, 1), cleaned=date(2025, 5, 1)))) == []


def test_a_test_after_the_last_inspection() -> None:
    """Whoever tests looks inside; somebody forgot to write it down."""
    found = look(cylinder(inspected=date(2026, 5, 1), tested=date(2026, 6, 1)))
    assert said(found) == [(Signal.NOTICE, "dates out of order", 0)]
    assert said(look(cylinder(inspected=date(2026, 6, 1), tested=date(2026, 6, 1)))) == []


# ---- where items are ----


def test_out_of_use_and_in_a_kit() -> None:
    item = hose("old", condition=OUT_OF_USE)
    (finding,) = look(item, used={"old": ["reef.toml"]}).findings
    assert (finding.signal, finding.rule, finding.key) == (Signal.WARNING, "out of use", "condition")
    assert words(finding) == "the item is out of use, but reef.toml uses it."
    assert "the item is out of use, but reef.toml, lake.toml use it" in words(
        look(item, used={"old": ["reef.toml", "lake.toml"]}).findings[0]
    )
    assert said(look(hose("old", made=date(2026, 1, 1)), used={"old": ["reef.toml"]})) == []


def test_kept_in_what_is_not_there() -> None:
    (finding,) = look(OwnedOther(tag="box", kept_in="van")).findings
    assert (finding.signal, finding.rule, finding.key) == (Signal.CAUTION, "kept nowhere", "kept_in")
    assert 'kept in "van"' in words(finding)
    assert said(look(OwnedOther(tag="box", kept_in="van"), OwnedOther(tag="van"))) == []


def test_kept_in_itself() -> None:
    found = look(OwnedOther(tag="box", kept_in="box"))
    assert said(found) == [(Signal.CAUTION, "kept in itself", 0)]
    assert words(found.findings[0]) == "the item is kept inside itself."


def test_kept_in_a_ring() -> None:
    """A bag in a box in the bag: both are named, and what lies in the ring without being of it is not."""
    ring = (OwnedOther(tag="bag", kept_in="box"), OwnedOther(tag="box", kept_in="bag"))
    found = look(*ring, OwnedOther(tag="ring spanner", kept_in="bag"))
    assert said(found) == [(Signal.CAUTION, "kept in itself", 0), (Signal.CAUTION, "kept in itself", 1)]
    assert words(found.findings[0]) == "the item is kept inside itself, by way of box."


@given(st.lists(st.integers(0, 9), min_size=1, max_size=10))
def test_no_way_of_keeping_items_goes_on_for_ever(places: list[int]) -> None:
    """Reported of an item if and only if going from one to the next comes back to it."""
    items = [OwnedOther(tag=f"{number}", kept_in=f"{place}") for number, place in enumerate(places)]
    spoken = {finding.item for finding in look(*items).findings if finding.rule == "kept in itself"}
    for number in range(len(places)):
        after: list[int] = []
        at = number
        while at < len(places) and places[at] not in after:
            at = places[at]
            after.append(at)
        assert (number in spoken) == (number in after)


def test_the_worst_stands_first() -> None:
    found = look(hose("a", made=date(2022, 1, 1)), hose("b", made=date(2017, 1, 1)), OwnedGauge(tag="c"))
    assert said(found) == [(Signal.WARNING, "due", 1), (Signal.CAUTION, "due", 0)]
    assert found.worst == {1: Signal.WARNING, 0: Signal.CAUTION}
    assert [item.rule for item in found.of_item(2)] == ["date missing"]


# ---- the file itself ----


def test_an_old_word_is_found_without_a_day_or_kits() -> None:
    """On its line; on a day it is among the findings of the day."""
    reading = parse_as('format = 1\nholds = "locker"\nname = "mine"\n', GEAR_FILE)
    assert reading.gear is not None
    [found] = findings_of_file(reading.gear, reading.lines)
    assert (found.signal, found.item, found.rule, found.line) == (Signal.NOTICE, None, "old word", 2)
    assert report_on_gear(reading.gear, DAY, {}, reading.lines).findings == (found,)
    assert findings_of_file(gear()) == ()
