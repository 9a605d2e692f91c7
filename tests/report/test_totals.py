"""Mass and buoyancy of hoses and kit: what each row adds up, and what is left out where room is scarce."""

import pytest

from kitbuilder.assess.assessment import assess
from kitbuilder.assess.fit.hose_figures import BODIES
from kitbuilder.kit.resolved import resolve
from kitbuilder.kitfile.reader import read_kit
from kitbuilder.report.cells import format_line
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Estimate
from kitbuilder.report.totals import brief_totals, hose_words, total_rows
from tests.assess.kits import lone_hose, shipped


def test_a_kit_of_one_body_is_not_split_by_bodies():
    """The shipped single has rubber hoses only, the sidemount two bodies."""
    labels = [row.label for row in total_rows(shipped("warm-single"))]
    assert labels[0] == "4 hoses as they are"
    assert not any(label.startswith("of them") for label in labels)
    assert [row.label for row in total_rows(shipped("sidemount")) if row.label.startswith("of them")] == [
        "of them rubber",
        "of them braided",
    ]


def test_one_hose_that_is_all_of_the_kit():
    """In the singular; its own weight is that of all hoses and of everything."""
    reading = read_kit(lone_hose())
    assert reading.kit is not None
    rows = total_rows(assess(resolve(reading.kit)))
    assert (rows[0].label, rows[-1].label) == ("1 hose as they are", "all 1 item")
    assert rows[0].weight.mass.value == pytest.approx(rows[-1].weight.mass.value)


def test_items_without_a_weight_are_counted_out():
    found = shipped("sidemount")
    count = len(found.weights)
    known = found._replace(weights=(None, *found.weights[1:]), masses=(None, *found.masses[1:]))
    assert total_rows(known)[-1].label == f"{count - 1} of {count} items"


def test_items_that_only_have_a_mass_are_counted_in_it():
    """20 of 21 items float as known; all of them weigh something."""
    found = shipped("sidemount")
    heavy = found._replace(weights=(None, *found.weights[1:]))
    assert total_rows(heavy)[-1].label == "all 21 items, buoyancy of 20"
    own, *_ = brief_totals(heavy, 0, 20).rows
    assert own == ["this item", Estimate(found.masses[0], "mass"), "not known"]


def test_the_rows_by_body_go_first_where_room_is_scarce():
    found = shipped("sidemount")
    everything = len(total_rows(found))
    assert len(brief_totals(found, None, everything).rows) == everything
    short = brief_totals(found, None, everything - 1)
    bodies = (f"if {body}" if len(body) < 10 else body for body in BODIES)  # at most 12 characters
    assert [row[0] for row in short.rows] == ["6 hoses", *bodies, "21 items"]


def test_the_sum_of_everything_is_never_left_out():
    """However many bodies the catalogue has."""
    found = shipped("sidemount")
    for room in range(2, 12):
        labels = [row[0] for row in brief_totals(found, None, room).rows]
        assert len(labels) <= room
        assert labels[0].startswith("6 hoses")
        assert "21 items" in labels[-1]


def test_the_item_looked_at_stands_first_and_a_hose_on_its_own_line():
    """A hose is given in grams, other items in kilograms like the totals."""
    found = shipped("sidemount")
    hose = found.hoses[0].number
    item = next(number for number, record in enumerate(found.kit.items) if record.title == "cylinder")
    assert brief_totals(found, item, 20).rows[0][0] == "this item"
    assert brief_totals(found, hose, 20).rows[0][0] == "6 hoses"
    assert hose_words(found, item) == ()
    said = format_line(hose_words(found, hose), System.METRIC)
    assert said.startswith("this hose  ")
    assert said.count(" g") == 2
