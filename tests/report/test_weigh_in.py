"""The table of all items in text and JSON: it fits, agrees with the totals of check, and says what is not known."""

import pytest

from kitbuilder.plans.weigh_in import plan_weigh_in
from kitbuilder.report.check import check_page, kit_section
from kitbuilder.report.layout import list_rows
from kitbuilder.report.lines import plain
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Page
from kitbuilder.report.weigh_in import items_list, weigh_in_section
from tests.assess.kits import PLAIN, WHOLE, assessed, shipped, with_keys, without
from tests.report.pages import page_json, page_text

BARE = 'format = 1\nname = "Bare"\nlayout = "single"\n'


def data_of(assessment, order="file"):
    return page_json(Page([weigh_in_section(plan_weigh_in(assessment, order))]))["weigh_in"]


def text_of(assessment, width=100, system=System.METRIC):
    return page_text(Page([weigh_in_section(plan_weigh_in(assessment))]), system, width)


@pytest.mark.parametrize("width", [60, 80, 100])
@pytest.mark.parametrize("name", [*WHOLE, "wrong-on-purpose"])
def test_the_text_fits_and_has_every_item(name, width):
    assessment = shipped(name)
    lines = text_of(assessment, width).splitlines()
    assert max(map(len, lines)) <= width
    for item in assessment.kit.items:
        assert any(line.strip().startswith(item.tag.split()[0]) for line in lines), item.tag


def test_at_80_columns_an_item_has_one_row():
    """A block for each item, with heads as labels, would say "mass kg" once for each."""
    assert text_of(shipped("cold-single"), 80).count("mass kg") == 1


@pytest.mark.parametrize("name", [*WHOLE, "wrong-on-purpose"])
@pytest.mark.parametrize("system", System)
def test_the_totals_are_those_of_check_to_the_last_digit(name, system):
    assessment = shipped(name)
    whole = page_json(check_page([kit_section("x.toml", assessment, plan_weigh_in(assessment))]))["files"][0]
    assert whole["weigh_in"]["totals"]["everything"] == whole["everything"]

    def rows(section):
        lines = (" ".join(line.split()) for line in page_text(check_page([section]), system, 100).splitlines())
        return [line for line in lines if " items" in line and "±" in line]

    [total] = rows(kit_section("x.toml", assessment))
    assert rows(kit_section("x.toml", assessment, plan_weigh_in(assessment))) == [total, total]


def test_the_rows_are_the_figures_of_check():
    """Each hose has one place in check; its row is the same figure."""
    assessment = shipped("twinset")
    whole = page_json(check_page([kit_section("x.toml", assessment, plan_weigh_in(assessment))]))["files"][0]
    rows = {row["tag"]: row for row in whole["weigh_in"]["rows"]}
    for hose in whole["hoses"]:
        assert {key: rows[hose["tag"]][key] for key in ("line", "mass_kg", "buoyancy_kgf")} == {
            key: hose[key] for key in ("line", "mass_kg", "buoyancy_kgf")
        }


def test_shares_in_json_are_all_of_the_variance():
    """Each is rounded to four decimals: off by 0.00005 at most."""
    data = data_of(shipped("cold-single"))
    shares = [row["share_of_lead"] for row in data["rows"] if row["share_of_lead"] is not None]
    every = [*shares, *data["shares_of_lead"].values()]
    assert sum(every) == pytest.approx(1.0, abs=0.00005 * len(every))


def test_a_rented_item_is_marked_and_not_brought():
    assessment = assessed(with_keys(PLAIN, "tank", rented=True))
    assert [row["tag"] for row in data_of(assessment)["rows"] if row["is_rented"]] == ["tank"]
    assert "rented" in text_of(assessment)
    assert "rented" not in text_of(assessed(PLAIN))


def test_what_is_not_known_is_null_and_said():
    """A kit without a cylinder has no lead to share in; an item of which nothing is known has neither figure."""
    text = without(PLAIN, "tank") + '\n[[other]]\ntag = "riddle"\n'
    data = data_of(assessed(text))
    riddle = next(row for row in data["rows"] if row["tag"] == "riddle")
    assert (riddle["mass_kg"], riddle["buoyancy_kgf"], riddle["share_of_lead"]) == (None, None, None)
    assert data["shares_of_lead"] is None
    assert "The lead is not known yet" in text_of(assessed(text))
    assert "riddle" in text_of(assessed(text))
    assert "not known" in text_of(assessed(text))


def test_a_kit_without_items():
    assert data_of(assessed(BARE))["rows"] == []
    assert "no items" in text_of(assessed(BARE))


def test_without_asking_there_is_no_table():
    section = kit_section("x.toml", assessed(PLAIN))
    assert page_json(check_page([section]))["files"][0]["weigh_in"] is None
    assert "All items" not in page_text(check_page([section]))


@pytest.mark.parametrize("name", WHOLE)
def test_no_tag_of_the_list_is_cut_at_80_columns(name):
    """Where the values come from is cut first, and left out where a tag would be cut: it stands below the list too."""
    assessment = shipped(name)
    _, rows = list_rows(items_list(plan_weigh_in(assessment, "file")), 76, System.METRIC)
    for item, row in zip(assessment.kit.items, rows, strict=True):
        assert plain(row).startswith(f"{item.tag} ")
