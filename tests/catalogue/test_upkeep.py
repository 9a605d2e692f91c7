"""Upkeep: what practice and published rules ask for, each with its origin, and nothing else."""

from pathlib import Path

import pytest

from kitbuilder.assess.fit.hose_figures import BODIES
from kitbuilder.catalogue import CatalogueError
from kitbuilder.catalogue.load import FOLDER
from kitbuilder.catalogue.upkeep import SINCE, UpkeepInterval, load_upkeep, upkeep
from kitbuilder.kit.fields import fields_of
from kitbuilder.kit.gear import GEAR_KINDS

TEXT = (FOLDER / "upkeep.toml").read_text(encoding="utf-8")
INTERVALS = pytest.mark.parametrize("interval", upkeep().intervals, ids=lambda interval: interval.name)


def intervals(kind: str, since: str, region: str = "", body: str = "") -> list[UpkeepInterval]:
    """What is asked for of a kind of item from a date on."""
    return [
        interval
        for interval in upkeep().intervals
        if (interval.since, interval.region) == (since, region)
        and kind in interval.kinds
        and (not body or interval.is_for_body(body))
    ]


@pytest.mark.parametrize(
    ("kind", "since", "region", "body", "months"),
    [
        # common practice, no source: rubber at five years, braided and polyurethane at four
        ("hose", "made", "", "rubber", (48, 60, 84)),
        ("hose", "made", "", "braided", (36, 48, 60)),
        ("hose", "made", "", "polyurethane", (36, 48, 60)),
        # common practice, no source: every year, at the longest every second
        ("first_stage", "serviced", "", "", (12, 12, 24)),
        ("second_stage", "serviced", "", "", (12, 12, 24)),
        ("gauge", "serviced", "", "", (12, 12, 24)),
        ("cylinder", "inspected", "", "", (12, 12, 30)),
        ("cylinder", "cleaned", "", "", (12, 12, 12)),
        # EN ISO 18119 as it is applied to diving cylinders: two and a half years and five
        ("cylinder", "inspected", "European Union", "", (30, 30, 30)),
        ("cylinder", "tested", "European Union", "", (60, 60, 60)),
        ("cylinder", "inspected", "United Kingdom", "", (30, 30, 30)),
        ("cylinder", "tested", "United Kingdom", "", (60, 60, 60)),
        # 49 CFR 180.209: requalified every five years
        ("cylinder", "tested", "United States", "", (60, 60, 60)),
    ],
)
def test_what_practice_and_rules_ask_for(
    kind: str, since: str, region: str, body: str, months: tuple[int, int, int]
) -> None:
    """In months: the short end of practice, what is taken, the long end."""
    (interval,) = intervals(kind, since, region, body)
    assert (interval.earliest, interval.months, interval.latest) == months


@INTERVALS
def test_everything_has_an_origin_that_says_how_far_to_trust_it(interval: UpkeepInterval) -> None:
    assert any(word in interval.origin for word in ("no source", "from memory"))
    assert interval.why.endswith(".")
    assert interval.do.endswith(".")


@INTERVALS
def test_a_rule_warns_and_custom_cautions(interval: UpkeepInterval) -> None:
    assert interval.signal == ("warning" if interval.is_rule else "caution")


@INTERVALS
def test_an_interval_counts_from_a_date_that_its_items_can_have(interval: UpkeepInterval) -> None:
    for kind in interval.kinds:
        assert interval.since in {field.key for field in fields_of(GEAR_KINDS[kind])}
    assert {*interval.bodies, *interval.all_bodies_but} <= set(BODIES)
    assert not (interval.bodies or interval.all_bodies_but) or interval.kinds == ("hose",)


def test_every_date_of_the_gear_file_is_known() -> None:
    """A date nobody counts from would be asked for in vain; that of a test counts by rule alone."""
    assert {interval.since for interval in upkeep().intervals} == set(SINCE)


def test_every_hose_grows_old() -> None:
    """Each body by one interval, one that is new in the catalogue too."""
    ages = [interval for interval in upkeep().intervals if interval.since == "made" and "hose" in interval.kinds]
    for body in (*BODIES, "some other"):
        assert sum(interval.is_for_body(body) for interval in ages) == 1


def test_a_region_is_a_country_or_a_union_of_them() -> None:
    assert upkeep().regions == ("European Union", "United Kingdom", "United States")


def test_soon_is_two_months() -> None:
    assert upkeep().due_soon_days == 60
    assert "no source" in upkeep().due_soon_origin


ENTRY = """
[due_soon]
days = 60
origin = "common practice, no source"

[[upkeep]]
name = "service"
kinds = ["first_stage"]
since = "serviced"
months = 12
why = "It wears."
do = "Have it serviced."
signal = "caution"
origin = "common practice, no source"
"""


def test_an_interval_without_a_range_is_its_own(tmp_path: Path) -> None:
    path = tmp_path / "upkeep.toml"
    path.write_text(ENTRY)
    (interval,) = load_upkeep(path).intervals
    assert (interval.earliest, interval.months, interval.latest) == (12, 12, 12)
    assert (interval.bodies, interval.region, interval.is_rule) == ((), "", False)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('origin = "common practice, no source"\n\n[[', "\n[[", "due_soon, origin: is missing"),
        ("days = 60", "days = 0.5", "due_soon, days: is not a whole number from 1 on"),
        ("months = 12", "months = 0", 'upkeep "service", months: is not a whole number from 1 on'),
        ("months = 12", 'months = "12"', 'upkeep "service", months: is not a number'),
        ("months = 12", "months = 12\nlatest = 6", 'upkeep "service", months: do not lie between'),
        ("months = 12", "months = 12\nearliest = 13", 'upkeep "service", months: do not lie between'),
        ('"serviced"', '"service"', 'upkeep "service", since: there is no "service"; did you mean "serviced"?'),
        ('"caution"', '"causion"', 'upkeep "service", signal: there is no "causion"; did you mean "caution"?'),
        ('do = "Have it serviced."\n', "", 'upkeep "service", do: is missing'),
        ('why = "It wears."\n', 'why = " "\n', 'upkeep "service", why: is not a text, or is blank'),
        ('["first_stage"]', '"first_stage"', 'upkeep "service", kinds: is not a list of texts'),
        ("months = 12", "months = 12\nyears = 1", 'upkeep "service", years: unknown key'),
        ("[due_soon]", "[soon]", "upkeep.toml, due_soon"),
    ],
)
def test_a_broken_file_is_refused_with_its_place(old: str, new: str, said: str, tmp_path: Path) -> None:
    assert old in ENTRY
    path = tmp_path / "upkeep.toml"
    path.write_text(ENTRY.replace(old, new, 1))
    with pytest.raises(CatalogueError) as caught:
        load_upkeep(path)
    assert said in str(caught.value)


def test_no_interval_is_there_twice(tmp_path: Path) -> None:
    path = tmp_path / "upkeep.toml"
    path.write_text(ENTRY + ENTRY[ENTRY.index("[[") :])
    with pytest.raises(CatalogueError, match="is there twice"):
        load_upkeep(path)


def test_an_origin_left_out_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "upkeep.toml"
    path.write_text(TEXT.replace('origin = "49 CFR 180.209, from memory"\n', ""))
    with pytest.raises(CatalogueError, match=r"pressure test by rule, US.*origin: is missing"):
        load_upkeep(path)
