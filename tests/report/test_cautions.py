"""A caution stands at the place of use: where a torque, a length, a date or an amount of lead is read off."""

from datetime import date

import pytest

from kitbuilder.assess.gear.gear import report_on_gear
from kitbuilder.kit.file_kinds import GEAR_FILE
from kitbuilder.kitfile.reader import parse_as
from kitbuilder.plans.changeover import Changeover, plan_changeover
from kitbuilder.plans.fewest import HoseSources, find_fewest
from kitbuilder.plans.fitting import plan_fitting
from kitbuilder.report.balance import details_page
from kitbuilder.report.changeover import step_page, work_words
from kitbuilder.report.fewest import fewest_pane
from kitbuilder.report.fit import hose_page
from kitbuilder.report.gear import gear_file_page, item_page
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Page
from kitbuilder.report.route_picture import route_svg
from kitbuilder.report.words import (
    BALANCE_CAUTION,
    CAUTIONS,
    FEWEST_CAUTION,
    FIT_CAUTION,
    GEAR_CAUTION,
    PICTURE_CAUTION,
)
from tests.assess.kits import config, shipped
from tests.commands.run import CONFIGS, run
from tests.report.pages import page_text

DAY = date(2027, 1, 15)


def in_one_line(page: Page) -> str:
    return " ".join(page_text(page).split())


def gear_pages() -> list[Page]:
    report = report_on_gear(parse_as(config("gear"), GEAR_FILE).contents, DAY, {})
    return [item_page(report, 0, {}), gear_file_page(report, ())]


def fit_page() -> Page:
    plan = plan_fitting(shipped("twinset"))
    return hose_page(plan.hoses[0], plan)


def balance_page() -> Page:
    found = shipped("twinset").balance
    assert found is not None
    return details_page(found)


def fewest_page() -> Page:
    found = shipped("twinset")
    return fewest_pane(find_fewest([("twinset.toml", found)], HoseSources()))


@pytest.mark.parametrize(
    ("pages", "caution"),
    [
        (gear_pages, GEAR_CAUTION),
        (lambda: [fit_page()], FIT_CAUTION),
        (lambda: [balance_page()], BALANCE_CAUTION),
        (lambda: [fewest_page()], FEWEST_CAUTION),
    ],
    ids=["gear", "fit", "balance", "fewest"],
)
def test_the_panes_of_a_screen_say_where_their_answer_ends(pages, caution: str) -> None:
    for page in pages():
        assert caution in in_one_line(page)


@pytest.mark.parametrize(
    "asked",
    [
        ("check", "twinset.toml"),
        ("compare", "twinset.toml", "sidemount.toml"),
        ("ballast", "twinset.toml"),
        ("fit", "twinset.toml"),
        ("changeover", "twinset.toml", "sidemount.toml"),
        ("fewest", "warm-single.toml"),
        ("gear", "gear.toml"),
        ("losses", "twinset.toml"),
        ("threads", "--major", "9.5mm", "--pitch", "24 tpi"),
    ],
    ids=lambda asked: asked[0],
)
def test_what_is_printed_has_all_cautions(asked: tuple[str, ...]) -> None:
    assert CAUTIONS in " ".join(run(*asked, cwd=CONFIGS).stdout.split())


def test_the_picture_that_goes_home_alone_has_its_caution_on_it() -> None:
    said = route_svg(plan_fitting(shipped("twinset")), System.METRIC)
    assert all(word in said for word in PICTURE_CAUTION.split())
    assert 'class="caution"' in said


@pytest.fixture(scope="module")
def plan() -> Changeover:
    return plan_changeover(shipped("twinset"), shipped("sidemount"))


def test_no_torque_stands_without_saying_that_it_has_no_source(plan: Changeover) -> None:
    with_torque = [text for step in plan.steps if "N·m" in (text := in_one_line(Page(step_page(step).parts)))]
    assert with_torque
    for text in with_torque:
        assert "no source" in text
        assert "maker's sheet" in text


def test_every_torque_of_a_joint_says_it_too(plan: Changeover) -> None:
    works = [words for step in plan.steps if step.work and (words := "".join(map(str, work_words(step.work))))]
    assert sum("torque" in words for words in works) >= 4
    assert all("no source; the maker's sheet first" in words for words in works if "torque" in words)


@pytest.mark.parametrize("name", ["twinset", "sidemount"])
def test_a_limit_with_a_range_shows_it(name: str) -> None:
    """What can be swum up against is 3 to 6 kg in the catalogue: common practice, no source."""
    findings = [finding for finding in shipped(name).findings if finding.rule == "failed wing"]
    amounts = [piece.value for finding in findings for piece in finding.why if not isinstance(piece, str)]
    assert amounts == pytest.approx([4.5, 3.0, 6.0])


def test_room_for_a_hand_is_said_with_its_spread() -> None:
    """A hose 6 cm from a knob may be in the way: a hand needs 4 to 5 to 7 cm, and the hose may pass 3 cm nearer.

    The room for a hand has a mean of 5 + (2 - 1)/4 cm and a variance of (1^2 + 2^2)/6 - (1/4)^2.
    """
    knob = plan_fitting(shipped("twinset")).hoses[0].figures.routed.knobs[0]
    near = knob._replace(distance=knob.distance._replace(value=0.06))
    assert not near.is_blocked
    assert not near.is_clear
    assert near.room.value == pytest.approx(0.06 - 0.0525)
    hand = 1.959964 * (5 / 6 - 1 / 16) ** 0.5 / 100
    assert near.room.combined == pytest.approx((0.03**2 + hand**2) ** 0.5)


def test_the_pressure_at_which_times_end_has_its_range() -> None:
    """About 8 to 10 bar over ambient (encyclopedia article titled "Mechanism of diving regulators")."""
    said = " ".join(run("losses", "twinset.toml", cwd=CONFIGS).stdout.split())
    assert "at 9.5 bar (8.0 bar to 10.0 bar) above ambient" in said
