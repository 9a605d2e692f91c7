"""What the fit is told in: the same figures in the table, in the rows of a hose, and in JSON."""

import re

import pytest

from kitbuilder.kit.diver import Beside
from kitbuilder.kit.stock import Stock, StockHeader, StockHose
from kitbuilder.plans.fitting import FittedHose, plan_fitting
from kitbuilder.report.fit import fit_json, fit_text, hose_rows, length_to_have, shopping_lines, sure_words
from kitbuilder.report.numbers import System
from tests.assess.kits import assessed, beside, config, lone_hose, with_keys

METRIC, IMPERIAL = System.METRIC, System.IMPERIAL


def fitted(text: str, around: Beside | None = None) -> FittedHose:
    """The first hose of a kit."""
    return plan_fitting(assessed(text, around or beside())).hoses[0]


def rows(text: str, system: System = METRIC) -> dict[str, str]:
    return dict(hose_rows(fitted(text), None, system))


@pytest.mark.parametrize(
    ("odds", "says"), [(0.0, "<1 %"), (0.004, "<1 %"), (0.5, "50 %"), (0.75, "75 %"), (0.994, "99 %"), (1.0, ">99 %")]
)
def test_nothing_is_quite_sure(odds, says):
    assert sure_words(odds) == says


def test_a_string_is_told_with_what_the_landmarks_tell():
    """70 cm by string; 75 cm is the next stock length that is sure enough."""
    told = rows(lone_hose(run="70 cm"))
    assert told["needs"].startswith("70 ± 2 cm (27.6 ± 0.6 in), head left; by string")
    assert told["keep"].startswith("75 cm (30 in), >99 % sure; passes all; ")
    assert re.match(r"\d+ ± \d+ cm, head left; the string tells \d+ ± \d+ cm (more|less)$", told["landmarks"])


def test_a_failed_pose_is_told_with_what_is_missing():
    """80 cm of run: a hose of 75 cm is 5 cm short where the head is turned furthest."""
    told = rows(lone_hose(run="80 cm"))
    assert told["present"].startswith("75 cm (30 in), <1 % sure; fails head left (5 cm short)")
    assert told["buy"].startswith("90 cm (36 in)") or told["buy"].startswith("80 cm (32 in)")


def test_inches_come_first_for_those_who_think_in_them():
    told = rows(lone_hose(run="70 cm"), IMPERIAL)
    assert told["needs"].startswith("27.6 ± 0.6 in (70 ± 2 cm)")
    assert told["keep"].startswith("30 in (75 cm)")


def test_a_hold_halves_what_stands_off():
    """As both halves of a stretch share its slack; the words give both ranges."""
    told = rows(lone_hose(run="70 cm", rest_run="60 cm"))
    before, after = (int(number) for number in re.findall(r"(\d+) cm \(", told["hold it"]))
    assert after == pytest.approx(before / 2, abs=1)


def test_text_and_json_agree():
    plan = plan_fitting(assessed(config("twinset"), beside()))
    text, said = fit_text("kit.toml", plan, (), METRIC), fit_json("kit.toml", plan, ())
    for hose in said["hoses"]:
        [line] = re.findall(rf"^  {hose['tag']} .*$", text, re.MULTILINE)
        demanded = next(need for need in hose["needs"] if need["pose"] == hose["demanded_in"])
        assert f"{demanded['length_m']['value'] * 100:.0f} ± " in line
        assert f"  {hose['now']}  {hose['demanded_in']}" in line


def test_a_hose_that_leads_nowhere_known_is_told_so():
    text = lone_hose().replace('layout = "single"', 'layout = "twinset"')
    assert rows(text)["needs"].startswith("not known")
    assert length_to_have(fitted(text), METRIC) == "not known"
    plan = plan_fitting(assessed(text))
    assert "not known" in fit_text("kit.toml", plan, (), METRIC)
    assert shopping_lines(plan, METRIC) == ["To buy: no hose whose length is known"]


def test_the_shopping_list_has_threads_prices_and_their_sum():
    """Two equal hoses of 80 cm at 25.50."""
    stock = Stock(
        StockHeader(format=1, holds="stock", name="a shop", currency="EUR"),
        (StockHose(body="rubber", length_m=0.8, price=25.5),),
    )
    twice = (
        lone_hose(run="76 cm", length="61 cm") + lone_hose(run="76 cm", length="61 cm", tag="other").split("\n\n")[1]
    )
    plan = plan_fitting(assessed(twice, beside()._replace(stock=stock)))
    lines = shopping_lines(plan, METRIC)
    assert lines[1] == "  2 × 80 cm (32 in), LP, rubber, 51.00 EUR"
    assert lines[2].endswith("LP 3/8 (male 3/8-24 UNF)")
    assert lines[3].endswith("second stage 9/16 (female 9/16-18 UNF)")
    assert lines[4].strip() == "for hose, other"
    assert lines[-1] == "  together 51.00 EUR"


def test_nothing_from_a_file_is_obeyed():
    """Escapes in names and tags are written out."""
    text = with_keys(config("warm-single"), "primary hose", notes="x").replace("Reef single", "Reef \\u001b[31m single")
    shown = fit_text("a\x1b.toml", plan_fitting(assessed(text)), ("bad \x1b[0m row",), METRIC)
    assert "\x1b" not in shown
