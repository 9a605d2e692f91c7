"""Every number of the catalogue has an origin, a range around it, and keeps the label it came with."""

import re
from collections.abc import Iterator
from math import isfinite, sqrt

import pytest

from kitbuilder.catalogue import Value, catalogue
from kitbuilder.catalogue.air_rules import air_rules
from kitbuilder.catalogue.allowances import allowances
from kitbuilder.catalogue.bench_work import bench_work
from kitbuilder.catalogue.rental import rental
from kitbuilder.catalogue.rules_of_thumb import rules_of_thumb
from kitbuilder.catalogue.spares import spares
from kitbuilder.catalogue.swaps import swap_facts
from kitbuilder.catalogue.travel_facts import travel_facts
from kitbuilder.catalogue.upkeep import upkeep

PRACTICE = "common practice, no source"
MEMORY = "from memory"
DEFINITION = "by definition"
ADMITTED = (PRACTICE, MEMORY, DEFINITION)
"""What an origin without a source ends with: the trade says so, a book said so that was not opened again, or nothing
else is possible."""
PUBLISHED = (
    'articles titled "Standard hose lengths" and "Hose Routing for Twin Tanks"',
    'article titled "Standard hose lengths"',
    'article titled "Hose Routing for Twin Tanks"',
    'article titled "How to Manage the Long Hose"',
    'page titled "Hose routing" (doubles)',
    'article titled "How to set up a stage cylinder, part 3: regulators" (2012)',
    'page headed "My own reference material for threaded connections and thread sealing"',
    'page titled "DIN SCUBA Fittings"',
    'article titled "Mismatched Scuba Valves to Cylinder Outlets" (2023)',
    'encyclopedia section titled "Management of a dry suit blowup" (revision 921551004)',
    'encyclopedia article titled "Diving weighting system"',
    'encyclopedia article titled "Mechanism of diving regulators"',
    'page titled "Scuba Diving O-Rings" (2016)',
    'checklist titled "Regulator Inspection and Checklist" (rev. 8)',
    'article titled "Low Pressure Hose Deterioration" (2016)',
    'forum thread titled "Impact of a drysuit flood"',
    "Mechanical Engineer's Data Handbook, p. 313",
    "ISO 965-1, tables 1 and 3 to 6",
    "EN ISO 12209:2013, scope",
    "EN 144-3:2003, scope",
    "EN 1991-1-1:2002, table A.4",
    "EN 1999-1-1:2007, 3.2.5",
    "EN 250:2014, 6.7.1",
    "29 CFR 1910.430",
    'page titled "What is maximum baggage size and weight"',
    'page titled "Provisions for dangerous goods carried by passengers or crew"',
    "Dangerous Goods Regulations, table 2.3.A",
    '49 CFR 175.10(a)(14), as explained on the page titled "Heat producing articles"',
    'page titled "Small Compressed Gas Cartridges" (United States)',
    'page titled "Dangerous Goods Permitted in Baggage Group 3"',
    "Regulation (EU) 2015/1998, attachment 4-C",
    "Journal of Forensic Sciences 22 (1977) 573",
    "American Journal of Clinical Nutrition 90 (2009) 1457",
    "Journal of Physical and Chemical Reference Data 29 (2000) 331",
    "Archives of Internal Medicine 17 (1916) 863",
    "body survey ANSUR II of 2012 (report NATICK/TR-15/007)",
    "2012 Anthropometric Survey of U.S. Army Personnel: Methods and Summary Statistics, report NATICK/TR-15/007 (2014)",
    "Kinematics Analysis of Cervical Rotation-Traction Manipulation Measured by a Motion Capture System, "
    "Evidence-Based Complementary and Alternative Medicine (2017) 5293916, table 2",
    "Normal Values for Cervical Range of Motion, Spine 39 (2014) 362, abstract",
    "Active range of motion of the head and cervical spine, Journal of Orthopaedic Research 20 (2002) 122, abstract",
)
"""All the sources the catalogue may name; a new one is added here on purpose."""


VAGUE = (
    "public encyclop",
    "papers on",
    "a book on",
    "public wiki",
    "public forum",
    "public table",
    "public report",
    "public text",
    "public library",
    "public code",
    "public property",
    "encyclopaedia text",
    "open-water text",
    "routing article",
    "textbook page",
    "textbook of",
    "page of measured",
    "stage cylinder page",
    "article on",
    "articles on",
)
"""Words for a source that no reader finds again. A source has a title, a number or a place, or there is none."""


ABBREVIATIONS = {
    "ASME",
    "B1",
    "LP",
    "HP",
    "BSP",
    "ISO",
    "TEOS",
    "CoolProp",
    "M26x2",
    "T6",
    "A",
    "C",
    "L",
    "AS568",
    "BS",
    "EN",
    "CFR",
    "V",
    "Ah",
    "Wh",
}
"""Capitals that may stand in an origin outside the title of a source: standards, sizes, tempers, classes and units."""


def walk(item: object, place: str = "") -> Iterator[tuple[str, object]]:
    """Everything in the catalogue, with its place."""
    yield place, item
    if hasattr(item, "_fields"):
        for field in item._fields:
            yield from walk(getattr(item, field), f"{place}.{field}".strip("."))
    elif isinstance(item, dict):
        for key, entry in item.items():
            yield from walk(entry, f"{place}[{key}]")
    elif isinstance(item, tuple):
        for number, entry in enumerate(item):
            yield from walk(entry, f"{place}[{number}]")


EVERYTHING = [
    *walk(catalogue()),
    *walk(bench_work(), "bench work"),
    *walk(upkeep(), "upkeep"),
    *walk(rules_of_thumb(), "rules of thumb"),
    *walk(air_rules(), "air rules"),
    *walk(allowances(), "allowances"),
    *walk(travel_facts(), "travel facts"),
    *walk(rental(), "rental"),
    *walk(swap_facts(), "swaps"),
    *walk(spares(), "spares"),
]
VALUES = {place: item for place, item in EVERYTHING if isinstance(item, Value)}
ORIGINS = {
    place: str(item)
    for place, item in EVERYTHING
    if "origin" in place.rpartition(".")[2] and not isinstance(item, dict)
}


def test_the_walk_finds_the_values() -> None:
    """Six bodies alone have 36 values."""
    assert len(VALUES) > 200


def test_every_value_lies_in_its_range() -> None:
    """From low to high, in finite numbers."""
    outside = [place for place, value in VALUES.items() if not value.low <= value.value <= value.high]
    assert outside == []
    assert all(isfinite(number) for value in VALUES.values() for number in (value.low, value.high))


def test_bounds_hold_half_of_all_on_each_side_of_the_value() -> None:
    """From 2 to 3 to 5: the mean is 3 + (2 - 1)/4, the variance (1^2 + 2^2)/6 - (1/4)^2.

    Evenly from 2 to 4: JCGM 100:2008, 4.3.7. A range that covers 95 % is its own spread, and none is no spread.
    """
    lopsided = Value(3.0, 2.0, 5.0, "an example")
    assert lopsided.expected == pytest.approx(3.25)
    assert lopsided.spread == pytest.approx(1.959964 * sqrt(5 / 6 - 1 / 16))
    assert Value(3.0, 2.0, 4.0, "an example").spread == pytest.approx(1.959964 / sqrt(3))
    stated = Value(3.0, 2.0, 5.0, "an example", covers_95=True)
    assert (stated.expected, stated.spread) == (3.0, 1.5)
    assert Value(3.0, 3.0, 3.0, "an example").spread == 0


def test_only_what_a_source_states_as_two_deviations_covers_95_percent() -> None:
    """A remembered range has bounds, whatever its width."""
    stated = {place for place, value in VALUES.items() if value.covers_95}
    assert stated
    assert [place for place in stated if "two standard deviations" not in VALUES[place].origin] == []


def test_every_origin_is_a_source_a_derivation_or_common_practice() -> None:
    """No number without one; only the tolerances of threads in inches have none, being left to formulas.

    A source comes first, what was only remembered or is only the trade's comes last.
    """
    accepted = ("derived from ", "computed with ", *PUBLISHED)
    others = [
        place for place, origin in ORIGINS.items() if not origin.endswith(ADMITTED) and not origin.startswith(accepted)
    ]
    inches = ("3/8-24 UNF", "7/16-20 UNF", "1/2-20 UNF", "9/16-18 UNF", "3/4-14 NPSM")
    assert others == [f"threads[{name}].tolerances_origin" for name in inches]


def test_every_origin_can_be_found_again() -> None:
    """Words such as "a public encyclopedia" do not lead a reader to what was read."""
    vague = {place: origin for place, origin in ORIGINS.items() if any(words in origin.lower() for words in VAGUE)}
    assert vague == {}


def test_every_source_is_used() -> None:
    """A source nobody quotes is a leftover."""
    assert [source for source in PUBLISHED if not any(source in origin for origin in ORIGINS.values())] == []


def test_no_origin_names_anybody() -> None:
    """Neither maker nor shop, agency or person: what has a capital is the title of a source, or an abbreviation."""
    named = {}
    for place, origin in ORIGINS.items():
        for source in PUBLISHED:
            origin = origin.replace(source, "")
        if others := set(re.findall(r"\b[A-Z]\w*", origin)) - ABBREVIATIONS:
            named[place] = others
    assert named == {}


def test_what_was_only_remembered_has_no_source() -> None:
    """No published mass, size or rating of a hose, end, device or cylinder is known, so none may be named."""
    trade = catalogue()
    remembered = [
        *(value for end in trade.fittings.values() for value in (end.mass, end.density, end.envelope_length)),
        *(value for part in trade.adapters.values() for value in (part.mass, part.density, part.length)),
        *(value for preset in trade.presets.values() for value in (preset.mass, preset.density, preset.buoyancy_salt)),
        *(preset.lift for preset in trade.presets.values()),
        *(
            value
            for cylinder in trade.cylinders.values()
            for value in (cylinder.volume, cylinder.working_pressure, cylinder.mass, cylinder.diameter)
        ),
        *(foam.density for foam in trade.foams.values()),
        *(
            value
            for body in trade.bodies.values()
            for value in (
                body.bore,
                body.outside_diameter,
                body.density,
                body.minimum_bend_radius,
                body.rated_pressure,
            )
        ),
    ]
    assert all(value is None or value.origin.endswith((PRACTICE, MEMORY)) for value in remembered)
    assert trade.stock_origin == PRACTICE
    assert trade.threads["G 5/8"].tolerances_origin.endswith(PRACTICE)


def test_the_catalogue_is_read_once() -> None:
    """The screen asks for it at every keystroke."""
    assert catalogue() is catalogue()
