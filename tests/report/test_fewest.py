"""What is said of the fewest hoses: the table, the list to buy, why each is needed; as text and as JSON."""

from pathlib import Path

import jsonschema
import pytest
from syrupy.assertion import SnapshotAssertion
from syrupy.extensions.single_file import SingleFileSnapshotExtension, WriteMode

from kitbuilder.kit.gear import Gear, GearHeader, OwnedHose
from kitbuilder.kit.stock import Stock, StockHeader, StockHose
from kitbuilder.plans.fewest import BEST_SO_FAR, FewestPlan, HoseSources, Status, find_fewest
from kitbuilder.report.fewest import fewest_page, fewest_pane, format_order, summary, to_buy
from kitbuilder.report.fewest_data import SHAPE
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Page, text
from kitbuilder.report.shapes import DEFINITIONS
from tests.assess.kits import SALT, assessed, hose_text, shipped
from tests.report.pages import page_json, page_text

METRIC, IMPERIAL = System.METRIC, System.IMPERIAL
SECOND = "second stage 9/16"
SIX = ("warm-single", "cold-single", "twinset", "sidemount", "twinset", "sidemount")


class TextSnapshot(SingleFileSnapshotExtension):
    """A report as a reviewer reads it in a diff."""

    file_extension = "txt"
    _write_mode = WriteMode.TEXT


def kit(name: str, *hoses: str) -> tuple[str, object]:
    """A kit of hoses only."""
    return f"{name}.toml", assessed("\n".join([f'format = 1\nname = "{name}"\nlayout = "single"\n{SALT}\n', *hoses]))


def hose(tag: str, length_cm: int, run_cm: int, **more: str) -> str:
    """A hose of no usual route, with a run by string and 12 cm of free span."""
    keys = {"tag": tag, "role": "other LP", "length": f"{length_cm} cm", "run": f"{run_cm} cm", "span": "12 cm"}
    return hose_text(**(keys | more))


def shelf(*hoses: StockHose, currency: str | None = "EUR") -> HoseSources:
    """A shop's stock."""
    return HoseSources(stock=Stock(StockHeader(format=1, holds="stock", name="a shop", currency=currency), hoses))


def rubber(length_cm: float, price: float | None = None, tag: str = "") -> StockHose:
    """A rubber hose on the shelf."""
    return StockHose(tag=tag, body="rubber", length_m=length_cm / 100, price=price)


def plan_of_all() -> FewestPlan:
    """Owned and bought, shared and not, as now, with a price and without, and one that goes without."""
    first = kit("First", hose("a", 56, 55), hose("b", 80, 70), hose("long", 230, 220))
    second = kit("Second", hose("c", 61, 52), hose("d", 61, 55, body="braided"), hose("e", 75, 66, to_end=SECOND))
    owned = OwnedHose(tag="grey", body="rubber", length_m=0.56, from_end="LP 3/8", to_end="standard nipple coupling")
    gear = Gear(GearHeader(format=1, holds="gear", name="the cellar"), (owned,))
    stocked = (rubber(80, 30.0, "B80"), rubber(70, None, "B70"), rubber(210, 42.0, "B210"))
    return find_fewest([first, second], shelf(*stocked)._replace(gear=gear))


def said(plan: FewestPlan, system: System = METRIC, width: int = 100) -> str:
    """The text of the result."""
    return page_text(fewest_page(plan, ()), system, width)


def flowing(plan: FewestPlan) -> str:
    """The same, its lines joined."""
    return " ".join(said(plan).split())


def test_the_text(snapshot: SnapshotAssertion) -> None:
    """Read it as somebody with a box of hoses does."""
    found = page_text(fewest_page(plan_of_all(), ("broken.toml cannot be read.",)))
    assert found == snapshot.use_extension(TextSnapshot)


def test_the_text_of_six_kits(snapshot: SnapshotAssertion) -> None:
    """Too many for columns: the kits stand below each hose."""
    kits = [(f"{number} {name}.toml", shipped(name)) for number, name in enumerate(SIX)]
    found = page_text(fewest_page(find_fewest(kits, HoseSources()), ()), width=80)
    assert found == snapshot.use_extension(TextSnapshot)


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("width", [44, 60, 80, 100])
def test_lines_keep_within_their_width(width: int, system: System) -> None:
    """On paper, and in a pane beside the list of kits."""
    plan = plan_of_all()
    for page in (fewest_page(plan, ()), fewest_pane(plan)):
        assert max(map(len, page_text(page, system, width).splitlines())) <= width


def test_beside_the_kits_a_mark_is_explained_above_the_table() -> None:
    """1 cm to spare, and 1.8 cm are uncertain; 3 cm to spare are certain, and leave nothing to explain."""
    near = find_fewest([kit("One", hose("a", 56, 55))], shelf(rubber(56)))
    lines = page_text(fewest_pane(near), width=80).splitlines()
    table = next(number for number, line in enumerate(lines) if line.startswith("#"))
    assert "* measure first" in lines[:table]
    assert lines[table + 1].rstrip().endswith(" *")
    sure = page_text(fewest_pane(find_fewest([kit("One", hose("a", 56, 53))], shelf(rubber(56)))), width=80)
    assert "measure first" not in sure


def test_each_run_stands_in_its_column_once() -> None:
    """The column of its kit, in the row of its hose."""
    plan = plan_of_all()
    lines = said(plan).splitlines()
    head = next(number for number, line in enumerate(lines) if line.startswith("#"))
    columns = {name: lines[head].index(name) for name in ("First", "Second")}
    for number, one in enumerate(plan.hoses, start=1):
        row = lines[head + number]
        assert row.split()[0] == str(number)
        assert row.split()[4] == ("own" if one.candidate.is_owned else "buy")
        for assignment in one.serves:
            name = plan.kits[assignment.run.kit][1].kit.header.name
            assert row[columns[name] :].startswith(assignment.run.hose.tag)


def test_prices_and_pieces() -> None:
    """Two of 24.50 for two at once, and for which hoses; what has no price is not added up."""
    two = find_fewest([kit("One", hose("a", 56, 50), hose("b", 56, 50))], shelf(rubber(56, 24.5, "B56")))
    assert page_text(Page([to_buy(two)])).splitlines() == [
        "To buy",
        '  2 × 56 cm (22 in), LP, rubber, "B56", 49.00 EUR',
        "    First stage end: LP 3/8 (male 3/8-24 UNF)",
        "    Other end: standard nipple coupling (female standard nipple)",
        '    For "a", "b"',
        "    Long enough: over 99 % certain",
        "",
        "  Together 49.00 EUR",
    ]
    assert page_json(Page([to_buy(two)]))["price"] == 49.0
    near = find_fewest([kit("One", hose("a", 56, 55))], shelf(rubber(56)))  # 1 cm to spare, and 1.8 cm are uncertain
    assert "% certain; measure the run before you buy" in page_text(Page([to_buy(near)]))
    unpriced = find_fewest([kit("One", hose("a", 56, 50))], shelf(rubber(56), currency=None))
    assert "Together" not in page_text(Page([to_buy(unpriced)]))
    found = page_json(Page([to_buy(unpriced)]))
    assert (found["price"], found["currency"], found["hoses_without_price"]) == (None, None, 1)


@pytest.mark.parametrize(
    ("length_cm", "says"),
    [
        (45, 'nearest is 45 cm rubber "S", which is 5 ± 2 cm too short'),
        (
            50,
            'nearest is 50 cm rubber "S", which is only 50 % certain to be long enough',
        ),
        (90, 'nearest is 90 cm rubber "S", which hangs in a loop'),
        (68, 'nearest is 68 cm rubber "S", which bows out 1'),
    ],
)
def test_the_nearest_miss(length_cm: int, says: str) -> None:
    """50 cm of run over a free span of 12: 18 cm of slack bow out more than 10 cm, 40 cm are beyond three spans."""
    plan = find_fewest([kit("One", hose("a", 120, 50))], shelf(rubber(length_cm, tag="S")))
    lines = said(plan).splitlines()
    assert lines[0] == "No set: no available hose fits any of these runs."
    assert any(line.startswith(f'  "a" of "One": {says}') for line in lines)
    assert "To buy" not in said(plan)


def test_what_is_least_is_said_in_its_order() -> None:
    assert format_order(("price", "count", "mass")) == "the cheapest, then the fewest, then the lightest"


@pytest.mark.parametrize(
    ("order", "least", "says", "data"),
    [
        ("count", 3, "every set has at least 3 hoses.", {"count": 3, "mass_kg": None, "price": None}),
        ("mass", 4321, "every set weighs at least 0.43 kg.", {"count": None, "mass_kg": 0.4321, "price": None}),
        ("price", 1250, "every set costs at least 12.50 EUR.", {"count": None, "mass_kg": None, "price": 12.5}),
    ],
)
def test_the_best_so_far_has_its_bound(order: str, least: int, says: str, data: dict[str, object]) -> None:
    """Hoses, tenths of a gram, cents."""
    order_of_all = (order, *(name for name in ("count", "mass", "price") if name != order))
    plan = plan_of_all()._replace(order=order_of_all, status=Status(BEST_SO_FAR, least, is_first_proved=False))
    assert page_text(Page([text(*summary(plan))]), width=200).endswith(f"The best found in the time allowed; {says}\n")
    assert page_json(fewest_page(plan, ()))["least"] == data


def test_when_time_was_up_but_the_count_is_proved() -> None:
    plan = plan_of_all()._replace(status=Status(BEST_SO_FAR, 4, is_first_proved=True))
    assert "Proved: no set has fewer; of these sets, it is the best found in the time allowed." in flowing(plan)


def test_no_time_at_all() -> None:
    plan = find_fewest([kit("One", hose("a", 56, 50))], HoseSources(), time_limit_s=0)
    assert said(plan).startswith("No set: none was found in the time allowed.")
    assert '  "a" of "One": time ran out before it was tried\n' in said(plan)


def test_a_kit_with_dangers_is_named() -> None:
    """Its hoses are taken all the same, so it is said in text and JSON."""
    plan = find_fewest([("wrong.toml", shipped("wrong-on-purpose")), ("twin.toml", shipped("twinset"))], HoseSources())
    assert '"wrong.toml" has dangers of its own; its hoses are taken as the file says.' in flowing(plan)
    assert "has dangers" not in flowing(plan_of_all())
    worst = [row["worst_finding"] for row in page_json(fewest_page(plan, ()))["kits"]]
    assert worst == ["danger", "caution"]


def test_json_says_the_same_and_keeps_to_its_shape() -> None:
    """With a hose as now, one that goes without and its nearest, reasons, and a price."""
    plan = plan_of_all()
    found = page_json(fewest_page(plan, ("broken.toml cannot be read.",)))
    jsonschema.Draft202012Validator(SHAPE | {"$defs": DEFINITIONS}).validate(found)
    assert found["count"] == len(plan.hoses) == len(found["hoses"])
    assert found["status"] == "proved"
    assert found["runs"] == 6
    assert (found["price"], found["currency"]) == (30.0, "EUR")
    assert found["hoses_without_price"] == plan.without_price
    assert [row["tag"] for row in found["without_hose"]] == ["long", "d"]
    assert found["without_hose"][0]["nearest"]["tags"] == ["B210"]
    served = {(assignment["file"], assignment["tag"]) for row in found["hoses"] for assignment in row["serves"]}
    assert served == {("First.toml", "a"), ("First.toml", "b"), ("Second.toml", "c"), ("Second.toml", "e")}


def test_a_second_best_and_free_bodies_keep_to_the_shape() -> None:
    """Two lengths that do for one run, and a braided hose in the place of a rubber one."""
    plan = find_fewest([kit("One", hose("a", 56, 50))], shelf(rubber(56, tag="X"), rubber(57, tag="Y")))
    found = page_json(fewest_page(plan, ()))
    jsonschema.Draft202012Validator(SHAPE | {"$defs": DEFINITIONS}).validate(found)
    [instead], [without] = found["second_best"]["instead"], found["second_best"]["without"]
    assert {*instead["tags"], *without["tags"]} == {"X", "Y"}
    assert found["if_any_body"] == {"hoses": 1, "left_out": 0}
    assert "Second best: 1 hose, " in flowing(plan)


def test_imperial_units() -> None:
    assert "22.0 in" in said(plan_of_all(), IMPERIAL)


def test_a_hostile_tag_is_written_out() -> None:
    """In the table, in the reasons and among the misses; and the name of a kit, which heads a column."""
    evil = "\x1b[2J\u202e[red]"
    plan = find_fewest([kit(r"\u001b[3JOne", hose(evil, 56, 50), hose(f"{evil} 2", 150, 140))], shelf(rubber(56)))
    found = said(plan)
    assert r"from  \x1b[3JOne" in found
    assert r"\x1b[2J\u202e[red]" in found
    assert "\x1b" not in found
    assert "\u202e" not in found


def test_why_no_hose_joins_is_said() -> None:
    """A built-in swivel takes the maker's hose; nothing joins an HP port and a second stage."""
    text = (Path(__file__).parents[1] / "cases" / "counter" / "odd.toml").read_text("utf-8")
    moved = text.replace('from     = "first LP2"', 'from     = "first HP1"')
    spoken = " ".join(page_text(fewest_page(find_fewest((("odd", assessed(moved)),), HoseSources()), ())).split())
    assert '"primary hose" of "Counter: odd parts": only the maker of the second stage has it' in spoken
    assert '"octopus hose" of "Counter: odd parts": no hose joins its port and its device' in spoken
