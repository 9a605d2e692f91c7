"""What the fit is written in: the same figures in the table, in the rows of a hose, and in JSON."""

import re
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import jsonschema
import pytest
from syrupy.assertion import SnapshotAssertion
from syrupy.extensions.single_file import SingleFileSnapshotExtension, WriteMode

from kitbuilder.kit.diver import Diver
from kitbuilder.kit.resolved import NOTHING_LINKED, LinkedFiles
from kitbuilder.kit.stock import Stock, StockHeader, StockHose
from kitbuilder.kitfile.overrides import override_diver
from kitbuilder.kitfile.starters import starter_text
from kitbuilder.plans.fitting import FittedHose, FittingPlan, plan_fitting
from kitbuilder.report.cells import format_line
from kitbuilder.report.fit import SHAPE, fit_page, shopping_part
from kitbuilder.report.fit_words import advised_length, hose_fields
from kitbuilder.report.lengths import stock_length
from kitbuilder.report.numbers import System, shown
from kitbuilder.report.page import Page
from kitbuilder.report.route_picture import hose_letter, route_svg
from kitbuilder.report.shapes import DEFINITIONS
from tests.assess.kits import WHOLE, assessed, beside, changed, config, lone_hose, shipped, with_keys
from tests.report.pages import page_json, page_text

METRIC, IMPERIAL = System.METRIC, System.IMPERIAL
LAYOUTS = ("single", "twinset", "sidemount")
BODY = override_diver(None, {"stature": "178 cm", "mass": "82 kg", "sex": "male"})
EVIL, ESCAPE = "\\u001b[2J\\u202e[red]", r"\x1b[2J\u202e[red]"
"""A text that would clear a terminal and turn its words round: as a file writes it, and as it is shown."""


class TextSnapshot(SingleFileSnapshotExtension):
    """A report as a reviewer reads it in a diff."""

    file_extension = "txt"
    _write_mode = WriteMode.TEXT


def starter(layout: str, diver: Diver | None = BODY) -> FittingPlan:
    """The usual hoses of a layout, all to buy."""
    text = starter_text(layout, f"The usual hoses of a {layout}")
    return plan_fitting(assessed(text, NOTHING_LINKED._replace(diver=diver)), buy_all=True)


def fit_text(plan: FittingPlan, system: System = METRIC, width: int = 100, name: str = "kit.toml") -> str:
    return page_text(fit_page(name, plan), system, width)


def fit_json(plan: FittingPlan) -> dict[str, Any]:
    """The JSON, once it is held against its shape."""
    found = page_json(fit_page("kit.toml", plan))
    jsonschema.Draft202012Validator(SHAPE | {"$defs": DEFINITIONS}).validate(found)
    return found


def shopping_lines(plan: FittingPlan, system: System = METRIC) -> list[str]:
    return page_text(Page([shopping_part(plan)]), system).splitlines()


def shelf(*hoses: StockHose, **keys: str) -> Stock:
    """A shop's stock."""
    return Stock(StockHeader(**({"format": 1, "holds": "stock", "name": "a shop"} | keys)), hoses)  # type: ignore[arg-type]


def rubber(length_cm: float, price: float | None = None, **keys: str) -> StockHose:
    """A rubber hose on a shelf, of whatever ends."""
    return StockHose(body="rubber", length_m=length_cm / 100, price=price, **keys)  # type: ignore[arg-type]


PLANS = [*((name, plan_fitting(shipped(name))) for name in WHOLE), *((layout, starter(layout)) for layout in LAYOUTS)]
"""Kits that were measured by string, and some that never were."""
EVERY_PLAN = pytest.mark.parametrize("plan", [plan for _, plan in PLANS], ids=[name for name, _ in PLANS])


# --- the whole of it --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("file", "plan"),
    [("twinset.toml", plan_fitting(shipped("twinset"))), ("layout single", starter("single"))],
    ids=["twinset", "starter-single"],
)
def test_the_text(file: str, plan: FittingPlan, snapshot: SnapshotAssertion) -> None:
    """Read it as somebody at a counter does."""
    assert fit_text(plan, name=file) == snapshot.use_extension(TextSnapshot)


@EVERY_PLAN
@pytest.mark.parametrize("width", [60, 80, 100])
@pytest.mark.parametrize("system", System)
def test_text_keeps_within_its_width(plan: FittingPlan, width: int, system: System) -> None:
    """Nothing is wrapped a second time, and nothing is cut."""
    lines = fit_text(plan, system, width).splitlines()
    assert max(map(len, lines)) <= width
    assert not any("…" in line for line in lines)


@pytest.mark.parametrize("width", [60, 80, 100])
def test_text_keeps_within_its_width_for_any_body(width: int) -> None:
    """A woman of 1.20 m, smaller than any of the survey."""
    small = override_diver(None, {"stature": "120 cm", "sex": "female"})
    assert max(map(len, fit_text(starter("single", small), width=width).splitlines())) <= width


@EVERY_PLAN
@pytest.mark.parametrize("system", System)
def test_labels_of_the_rows_of_a_hose_are_whole(plan: FittingPlan, system: System) -> None:
    """What it needs first; no label twice, no text without words."""
    for fitted in plan.hoses:
        fields = hose_fields(fitted, None)
        labels = [field.label for field in fields]
        assert labels[0] == "needed"
        assert len(set(labels)) == len(labels)
        assert all(text.strip() for text in given_of(fitted, None, system).values())


def table(plan: FittingPlan, system: System) -> tuple[str, list[str]]:
    """The head of the table and its rows."""
    lines = fit_text(plan, system).splitlines()
    start = next(number for number, line in enumerate(lines) if line.split()[:2] == ["hose", "now"])
    return lines[start], lines[start + 1 : lines.index("", start)]


# --- one hose ---------------------------------------------------------------------------------------------------------


def fitted(text: str, around: LinkedFiles | None = None) -> FittedHose:
    """The first hose of a kit."""
    return plan_fitting(assessed(text, around or beside())).hoses[0]


def given_of(fitted: FittedHose, stock: Stock | None, system: System = METRIC) -> dict[str, str]:
    """What is said of a hose, by label."""
    return {field.label: format_line(field.value, system) for field in hose_fields(fitted, stock)}  # type: ignore[arg-type]


def rows(text: str, system: System = METRIC) -> dict[str, str]:
    return given_of(fitted(text), None, system)


def test_a_string_is_reported_with_what_the_landmarks_tell():
    """70 cm by string; 75 cm is the next stock length that is certain to reach."""
    spoken = rows(lone_hose(run="70 cm"))
    assert spoken["needed"].startswith("70 ± 2 cm (27.6 ± 0.6 in), head left; by string")
    assert spoken["keep"].startswith("75 cm (30 in), over 99 % certain to be long enough in every position; ")
    assert re.match(r"\d+ ± \d+ cm, head left; measured by string: \d+ ± \d+ cm (longer|shorter)$", spoken["estimated"])


def test_what_the_other_positions_need_is_reported():
    """Each with its length; they need no more than the one that decides, and no less that matters."""
    spoken = rows(lone_hose(run="70 cm"))
    assert re.match(r"[a-z ]+ \d+ cm(, [a-z ]+ \d+ cm)*$", spoken["other needs"])
    assert "head left" not in spoken["other needs"]


def test_a_failed_pose_is_reported_with_what_is_missing():
    """80 cm of run: a hose of 75 cm is 5 cm short where the head is turned furthest."""
    spoken = rows(lone_hose(run="80 cm"))
    assert spoken["now"].startswith("75 cm (30 in), under 1 % certain; too short by 5 ± 2 cm (head left)")
    assert spoken["buy"].startswith("90 cm (36 in)")  # 80 cm have nothing to spare


def test_inches_come_first_for_those_who_think_in_them():
    spoken = rows(lone_hose(run="70 cm"), IMPERIAL)
    assert spoken["needed"].startswith("27.6 ± 0.6 in (70 ± 2 cm)")
    assert spoken["keep"].startswith("30 in (75 cm)")


def test_a_hold_halves_what_stands_off():
    """As both halves of a stretch share its slack; the words give both ranges."""
    spoken = rows(lone_hose(run="70 cm", rest_run="60 cm"))
    before, after = (int(number) for number in re.findall(r"(\d+) cm \(", spoken["extra hold"]))
    assert after == pytest.approx(before / 2, abs=1)


@EVERY_PLAN
def test_a_hold_is_named_where_it_helps(plan: FittingPlan) -> None:
    """It leaves about half at most, by the parts of the stretch (0.55, and a centimetre of rounding); a hose that lies
    close or hangs on purpose is left alone."""
    for fitted in plan.hoses:
        spoken = given_of(fitted, None)
        option = fitted.to_have or (fitted.advice.present if fitted.advice else None)
        assert option is not None
        if not option.verdict.has_slack:
            assert "extra hold" not in spoken
        if "extra hold" in spoken:
            before, after = (int(number) for number in re.findall(r"(\d+) cm \(", spoken["extra hold"]))
            assert after <= 0.55 * before + 1


def test_a_hose_that_lies_close_needs_no_hold():
    """5 cm of slack over 20 cm stand 7 cm off."""
    spoken = rows(lone_hose(run="70 cm", rest_run="70 cm", span="20 cm"))
    assert "bows out" in spoken["keep"]
    assert "extra hold" not in spoken


def test_what_is_kept_says_so_where_nothing_else_is_available():
    """An empty shelf, and a hose that lies well."""
    text = lone_hose(run="70 cm", rest_run="70 cm", span="20 cm")
    hose = plan_fitting(assessed(text, beside()._replace(stock=shelf()))).hoses[0]
    assert not hose.is_bought
    assert "keep" in given_of(hose, shelf())


@pytest.mark.parametrize("on_shelf", [(), (rubber(100),)], ids=["nothing", "a longer one"])
def test_a_hose_that_stands_off_is_not_changed_for_a_longer_one(on_shelf):
    """75 cm on 70 cm, 15 cm of slack at rest: too much, but the shelf has none that is shorter."""
    text = lone_hose(run="70 cm", rest_run="60 cm")
    hose = plan_fitting(assessed(text, beside()._replace(stock=shelf(*on_shelf)))).hoses[0]
    assert not hose.is_bought
    assert hose.length_to_have_m == pytest.approx(0.75)


def near(value: float, step: float) -> Any:
    """A value that was rounded to a step on paper, and to a digit more in JSON."""
    return pytest.approx(value, abs=0.55 * step)


# --- text and JSON ----------------------------------------------------------------------------------------------------


@EVERY_PLAN
@pytest.mark.parametrize("system", System)
def test_the_table_and_json_agree_to_the_last_digit(plan: FittingPlan, system: System) -> None:
    """All of a row; a hose is sold under round numbers up to 2 % off each other: 75 cm as 30 in (76.2 cm)."""
    unit, unit_m, step_m = {METRIC: ("cm", 0.01, 0.01), IMPERIAL: ("in", 0.0254, 0.00254)}[system]
    _, lines = table(plan, system)
    for line, hose in zip(lines, fit_json(plan)["hoses"], strict=True):
        [demanded] = [need for need in hose["needs"] if need["pose"] == hose["demanded_in"]]
        have = hose["buy"] if hose["action"] in ("buy", "make") else hose["present"]
        row = " ".join(line.split())
        assert row.startswith(f"{hose['tag']} {shown(hose['length_m'], 'length', system)} {hose['action']} ")
        certain, value, spread, source = re.fullmatch(rf".*\) (.*) % (\S+) ± (\S+) {unit} (\w+)", row).groups()  # type: ignore[union-attr]
        assert source == hose["by"]
        assert have["odds"] > 0.99 if certain == "over 99" else 100 * have["odds"] == near(float(certain), 1)
        assert float(value) * unit_m == near(demanded["length_m"]["value"], step_m)
        assert float(spread) * unit_m == near(demanded["length_m"]["spread"], step_m)
        sold = re.findall(r"(\d+) (cm|in)\b", line[line.index(hose["action"]) : line.index(")")])
        assert [each for _, each in sold] == {METRIC: ["cm", "in"], IMPERIAL: ["in", "cm"]}[system]
        for number, each in sold:
            assert int(number) * {"cm": 0.01, "in": 0.0254}[each] == pytest.approx(have["length_m"], rel=0.02)


@EVERY_PLAN
def test_the_shopping_list_and_json_agree(plan: FittingPlan) -> None:
    """Pieces, service, body and both ends, an item after the other."""
    lines = [line.strip() for line in shopping_lines(plan)]
    place = 0
    for item in fit_json(plan)["to_buy"]:
        place = next(number for number, line in enumerate(lines) if number > place and " × " in line)
        assert lines[place].startswith(f"{item['count']} × {item['length_m'] * 100:.0f} cm (")
        assert lines[place].endswith(f", {item['service']}, {item['body']}")
        for row, label, key in ((1, "First stage end", "first_stage_end"), (2, "Other end", "device_end")):
            end = item[key]
            assert lines[place + row] == f"{label}: {end['name']} ({end['gender']} {end['joint']})"
        tags = ", ".join(f'"{tag}"' for tag in item["for"])
        assert " ".join(lines[place + 3 :]).startswith(f"For {tags}")


def test_json_is_in_metres_whatever_is_shown() -> None:
    """The needs of a hose whose string is 70 cm."""
    [hose] = fit_json(plan_fitting(assessed(lone_hose(run="70 cm"), beside())))["hoses"]
    [demanded] = [need for need in hose["needs"] if need["pose"] == hose["demanded_in"]]
    assert demanded["length_m"]["value"] == pytest.approx(0.7)
    assert demanded["length_m"]["origin"] == "string"


@EVERY_PLAN
def test_inches_come_first_in_imperial_units(plan: FittingPlan) -> None:
    """And centimetres only in brackets. The foam of a suit is sold by its millimetres everywhere."""
    text = fit_text(plan, IMPERIAL)
    outside = re.sub(r"\([^)]*\)|\d+ mm\s+of\s+suit", "", text)
    assert " in" in outside
    assert not {"cm", "mm", "m", "bar"} & set(re.split(r"[\s,;]+", outside))
    assert re.search(r"\d in \(\d+ cm\)", text)


# --- what is not known ------------------------------------------------------------------------------------------------


def test_a_hose_that_leads_nowhere_known_is_reported():
    text = lone_hose().replace('layout = "single"', 'layout = "twinset"')
    assert rows(text)["needed"].startswith("not known")
    assert advised_length(fitted(text)) == ("not known",)
    plan = plan_fitting(assessed(text))
    assert "not known" in fit_text(plan)
    assert shopping_lines(plan) == ["To buy: no hose whose length is known"]
    [hose] = fit_json(plan)["hoses"]
    assert (hose["action"], hose["present"], hose["needs"]) == (None, None, [])


# --- what to buy ------------------------------------------------------------------------------------------------------


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
    lines = shopping_lines(plan)
    assert lines[1] == "  2 × 80 cm (32 in), LP, rubber, 51.00 EUR"
    assert lines[2].endswith("LP 3/8 (male 3/8-24 UNF)")
    assert lines[3].endswith("second stage 9/16 (female 9/16-18 UNF)")
    assert lines[4].strip() == 'For "hose", "other"'
    assert lines[-1] == "  Together 51.00 EUR"
    found = fit_json(plan)
    assert (found["price"], found["currency"], found["hoses_without_price"]) == (51.0, "EUR", 0)


def test_a_price_has_two_decimals_and_the_currency_if_there_is_one():
    """24.5 and nothing said of a currency."""
    text = lone_hose(run="76 cm", length="61 cm")
    for keys, price in (({}, "24.50"), ({"currency": "EUR"}, "24.50 EUR")):
        stock = shelf(rubber(80, 24.5), **keys)
        plan = plan_fitting(assessed(text, beside()._replace(stock=stock)))
        assert shopping_lines(plan)[1] == f"  1 × 80 cm (32 in), LP, rubber, {price}"
        assert given_of(plan.hoses[0], stock)["buy"].endswith(f"; {price}")


def test_what_has_no_price_is_counted():
    """One of 30.00, one without."""
    text = lone_hose(run="76 cm", length="61 cm") + lone_hose(run="95 cm", tag="other").split("\n\n")[1]
    stock = shelf(rubber(80), rubber(100, 30.0), currency="EUR")
    lines = shopping_lines(plan_fitting(assessed(text, beside()._replace(stock=stock))))
    assert lines[-1] == "  Together 30.00 EUR, and 1 without a price"


def test_a_hose_that_has_to_be_made_is_reported_in_one_unit():
    """76 cm of string, known to hypot(1, 1.5) = 1.8 cm: 78 cm have that to spare; the shelf has none."""
    plan = plan_fitting(assessed(lone_hose(run="76 cm", length="61 cm"), beside()._replace(stock=shelf())))
    assert shopping_lines(plan)[1] == "  1 × 78 cm, made to measure, LP, rubber"
    assert format_line(advised_length(plan.hoses[0]), METRIC) == "make 78 cm"
    assert given_of(plan.hoses[0], shelf())["make"].endswith("have one of 78 cm made")


def test_a_hose_sold_without_its_ends_is_asked_for_so():
    """As the present one is stated."""
    text = lone_hose(run="76 cm", length="61 cm", measured="hose only")
    [line] = [line for line in shopping_lines(plan_fitting(assessed(text, beside()))) if " × " in line]
    assert " without its ends, LP, rubber" in line


# --- the picture ------------------------------------------------------------------------------------------------------


def test_each_hose_has_its_letter_and_its_words_in_the_picture():
    """By its place in the kit, whether a route is known or not."""
    text = lone_hose(run="70 cm") + lone_hose(tag="odd", role="other LP").split("\n\n")[1]
    plan = plan_fitting(assessed(text, beside()))
    for system, need in ((METRIC, "70 ± 2 cm"), (IMPERIAL, "27.6 ± 0.6 in")):
        texts = [part.text or "" for part in ElementTree.fromstring(route_svg(plan, system)).iter() if part.text]
        assert {"a", "b"} <= set(texts)
        assert any(words.startswith(f"hose: needs {need}; keep ") for words in texts)
        assert "odd: run not known" in texts


def test_letters_go_on_after_the_twenty_sixth():
    """a to z, A to Z, and a again."""
    assert [hose_letter(place) for place in (0, 25, 26, 51, 52)] == ["a", "z", "A", "Z", "a"]


# --- what comes from files --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("system", System)
def test_nothing_from_a_file_is_obeyed(system):
    """Names, tags, currency and problems may hold anything; every line can be printed, and the escapes stand there."""
    text = changed(config("warm-single"), ('name   = "Reef single, warm water"', f'name = "{EVIL} kit"'))
    text = text.replace('"primary hose"', f'"{EVIL} hose"').replace('run      = "70 cm"', 'run = "90 cm"')
    evil = EVIL.encode().decode("unicode_escape")
    stock = shelf(rubber(100, 30.0), name=f"{evil} shop", currency=f"{evil}EUR")
    linked = LinkedFiles(stock=stock, stock_problems=(f"{evil} row",))
    plan = plan_fitting(assessed(text, linked))
    shown_text = fit_text(plan, system, name=f"{evil}.toml")
    assert all(line.isprintable() for line in shown_text.splitlines())
    for words in (
        f"{ESCAPE}.toml",
        f"{ESCAPE} kit",
        f"{ESCAPE} hose",
        f"{ESCAPE} shop",
        f"{ESCAPE} row",
        f"{ESCAPE}EUR",
    ):
        assert words in shown_text
    picture = "".join(ElementTree.fromstring(route_svg(plan, system)).itertext())
    assert all(line.isprintable() for line in picture.splitlines())
    assert f"{ESCAPE} kit" in picture
    assert f"{ESCAPE} hose" in picture


def test_a_length_that_is_no_stock_length_is_reported_exactly():
    """1.47 m / 0.0254 m is 57.9; only a stock hose of 75 cm is sold as 30 in."""
    assert stock_length(1.47, METRIC) == "147 cm (57.9 in)"
    assert stock_length(0.75, METRIC) == "75 cm (30 in)"
    assert stock_length(84 * 0.0254, IMPERIAL) == "84.0 in (213 cm)"


# --- joints -----------------------------------------------------------------------------------------------------------

COUNTER = Path(__file__).parents[1] / "cases" / "counter"


def counter(name: str, stock: Stock | None = None, *, run: tuple[str, str] | None = None) -> FittingPlan:
    """A case from a counter; with the run of one hose by string, of that tag and length."""
    text = (COUNTER / f"{name}.toml").read_text("utf-8")
    text = with_keys(text, run[0], run=run[1]) if run else text
    return plan_fitting(assessed(text, NOTHING_LINKED._replace(stock=stock)))


def test_a_hose_that_does_not_connect_says_so_in_its_row_and_why():
    """A standard coupling on a large-bore nipple: in text with both sides, and in JSON."""
    spoken = fit_text(counter("w"))
    assert re.search(r"^inflator hose .* replace: does not connect; buy \d+ cm", spoken, re.MULTILINE)
    assert "other family of coupling" in spoken
    [primary, inflator] = fit_json(counter("w"))["hoses"]
    assert (primary["joins"], primary["does_not_join"], primary["ends_taken"]) == (True, [], [])
    assert (inflator["joins"], inflator["action"], inflator["ends_taken"]) == (False, "buy", ["from_end"])
    [reason] = inflator["does_not_join"]
    assert "(female standard nipple) on the inlet large-bore nipple (male large-bore nipple)" in reason


def test_ends_that_are_left_out_are_said_once_for_each_hose():
    """With what they are taken as."""
    spoken = " ".join(fit_text(counter("odd")).split())
    assert spoken.count("not given, taken as LP 1/2 and built-in swivel: read them off the hose") == 1
    assert spoken.count("taken as") == 5


def test_the_maker_and_the_adapter_are_named_on_the_list():
    """odd3 has a wrong end on the hose of a built-in swivel, and an inlet of 1/2, whose hose is too short by string."""
    run = ("octopus hose", "94 cm")
    spoken = fit_text(counter("odd3", run=run))
    assert spoken.count("From the maker of the second stage: no stock hose has this end") == 1
    assert spoken.count("Or a hose with the usual ends and the inlet adapter 1/2 to 9/16") == 1
    lines = {tuple(line["for"]): line for line in fit_json(counter("odd3", run=run))["to_buy"]}
    assert lines["primary hose",]["only_from_maker"] is True
    assert lines["octopus hose",]["or_adapters"] == ["inlet adapter 1/2 to 9/16"]
    usual = StockHose(tag="O", body="rubber", length_m=1.0, from_end="LP 3/8", to_end="second stage 9/16")
    stock = Stock(StockHeader(format=1, holds="stock", name="a shelf"), (usual,))
    assert "With the inlet adapter 1/2 to 9/16" in fit_text(counter("odd3", stock, run=run))


def test_a_hose_that_nothing_joins_is_to_be_moved():
    """An LP hose in an HP port: no line on the list, and the row says so."""
    text = (COUNTER / "w.toml").read_text("utf-8").replace('from     = "first LP1"', 'from     = "first HP1"')
    plan = plan_fitting(assessed(text))
    spoken = " ".join(fit_text(plan).split())
    assert "move: no hose joins this port and this device" in spoken
    [primary, _] = fit_json(plan)["hoses"]
    assert primary["action"] == "move"
    assert "a low-pressure part in a high-pressure port" in primary["does_not_join"]
    assert not any("primary hose" in line["for"] for line in fit_json(plan)["to_buy"])


def test_a_hose_that_is_to_be_moved_is_not_kept():
    """Its own length stands there as what it is now."""
    text = (COUNTER / "w.toml").read_text("utf-8").replace('from     = "first LP1"', 'from     = "first HP1"')
    [primary, _] = plan_fitting(assessed(text)).hoses
    labels = [fact.label for fact in hose_fields(primary, None)]
    assert "now" in labels
    assert "keep" not in labels


def test_what_only_the_maker_has_is_not_said_to_be_made():
    """A shop without the hose of a built-in swivel."""
    usual = StockHose(tag="O", body="rubber", length_m=1.0, from_end="LP 3/8", to_end="second stage 9/16")
    spoken = " ".join(
        fit_text(counter("odd3", Stock(StockHeader(format=1, holds="stock", name="s"), (usual,)))).split()
    )
    assert "only the maker of the second stage has it; it needs" in spoken
