"""What the fewest hoses are told in: the table, the list for a counter, why each is needed; as text and as JSON."""

import json

import pytest
from syrupy.assertion import SnapshotAssertion
from syrupy.extensions.single_file import SingleFileSnapshotExtension, WriteMode

from kitbuilder.kit.gear import Gear, GearHeader, OwnedHose
from kitbuilder.kit.stock import Stock, StockHeader, StockHose
from kitbuilder.plans.fewest import BEST_SO_FAR, FewestPlan, Sources, Status, find_fewest
from kitbuilder.report.fewest import WIDTH, buy_lines, fewest_json, fewest_lines, fewest_text, format_order, summary
from kitbuilder.report.numbers import System
from tests.assess.kits import SALT, assessed, hose_text, shipped

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


def shelf(*hoses: StockHose, currency: str | None = "EUR") -> Sources:
    """A shop's stock."""
    return Sources(stock=Stock(StockHeader(format=1, holds="stock", name="a shop", currency=currency), hoses))


def rubber(length_cm: float, price: float | None = None, tag: str = "") -> StockHose:
    """A rubber hose on the shelf."""
    return StockHose(tag=tag, body="rubber", length_m=length_cm / 100, price=price)


def plan_of_all() -> FewestPlan:
    """Owned and bought, shared and not, as now, with a price and without, and one that goes without."""
    first = kit("First", hose("a", 56, 50), hose("b", 80, 50), hose("long", 230, 220))
    second = kit("Second", hose("c", 61, 52), hose("d", 61, 55, body="braided"), hose("e", 75, 66, to_end=SECOND))
    owned = OwnedHose(tag="grey", body="rubber", length_m=0.56, from_end="LP 3/8", to_end="standard nipple coupling")
    gear = Gear(GearHeader(format=1, holds="gear", name="the cellar"), (owned,))
    stocked = (rubber(80, 30.0, "B80"), rubber(70, None, "B70"), rubber(210, 42.0, "B210"))
    return find_fewest([first, second], shelf(*stocked)._replace(gear=gear))


def test_the_text(snapshot: SnapshotAssertion) -> None:
    """Read it as somebody with a box of hoses does."""
    text = fewest_text(plan_of_all(), ("broken.toml cannot be read.",), METRIC)
    assert text == snapshot.use_extension(TextSnapshot)


def test_the_text_of_six_kits(snapshot: SnapshotAssertion) -> None:
    """Too many for columns: the kits stand below each hose."""
    kits = [(f"{number} {name}.toml", shipped(name)) for number, name in enumerate(SIX)]
    text = fewest_text(find_fewest(kits, Sources()), (), METRIC)
    assert text == snapshot.use_extension(TextSnapshot)


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("width", [44, 60, 80, 100])
def test_lines_keep_within_their_width(width: int, system: System) -> None:
    """Nothing is wrapped a second time; the ends of a hose to buy are the widest."""
    plan = plan_of_all()
    to_buy = buy_lines(plan, width, system)
    others = [line for line in fewest_lines(plan, width, system) if line not in to_buy]
    assert max(map(len, others)) <= width
    assert max(map(len, to_buy)) <= max(width, 70)


def test_each_run_stands_in_its_column_once() -> None:
    """The column of its kit, in the row of its hose."""
    plan = plan_of_all()
    lines = fewest_lines(plan, WIDTH, METRIC)
    head = next(number for number, line in enumerate(lines) if line.startswith(" #"))
    columns = {name: lines[head].index(name) for name in ("First", "Second")}
    for number, one in enumerate(plan.hoses, start=1):
        row = lines[head + number]
        assert row.split()[0] == str(number)
        for assignment in one.serves:
            name = plan.kits[assignment.run.kit][1].kit.header.name
            assert row[columns[name] :].startswith(assignment.run.hose.tag)


def test_prices_and_pieces() -> None:
    """Two of 24.50 for two at once; what is not told is told to be nothing."""
    two = find_fewest([kit("One", hose("a", 56, 50), hose("b", 56, 50))], shelf(rubber(56, 24.5, "B56")))
    assert buy_lines(two, WIDTH, METRIC) == [
        "To buy",
        "  2 × 56 cm (22 in), LP, rubber, 49.00 EUR [B56]",
        "      first stage: LP 3/8 (male 3/8-24 UNF)",
        "      other end:   standard nipple coupling (female standard nipple)",
        "  together 49.00 EUR",
    ]
    untold = find_fewest([kit("One", hose("a", 56, 50))], shelf(rubber(56), currency=None))
    assert buy_lines(untold, WIDTH, METRIC)[-1] == "  together 1 without a price, which counts as nothing"


@pytest.mark.parametrize(
    ("length_cm", "says"),
    [
        (45, "nearest is 45 cm rubber [S], which is 5 cm too short"),
        (50, "nearest is 50 cm rubber [S], which is only 50 % sure to be long enough"),
        (90, "nearest is 90 cm rubber [S], which hangs in a loop"),
        (65, "nearest is 65 cm rubber [S], which stands 10 cm off"),
    ],
)
def test_the_nearest_miss(length_cm: int, says: str) -> None:
    """50 cm of run over a free span of 12: 15 cm of slack stand 10.4 cm off, 40 cm are beyond three spans."""
    plan = find_fewest([kit("One", hose("a", 120, 50))], shelf(rubber(length_cm, tag="S")))
    lines = fewest_lines(plan, WIDTH, METRIC)
    assert lines[0] == "No set: none of these hoses has one that would do."
    assert f"  a (One): {says}" in lines


def test_what_is_least_is_said_in_its_order() -> None:
    assert format_order(("price", "count", "mass")) == "the cheapest, then the fewest, then the lightest"


@pytest.mark.parametrize(
    ("order", "least", "says"),
    [
        ("count", 3, "fewer than 3 hoses will not do"),
        ("mass", 4321, "below 0.43 kg will not do"),
        ("price", 1250, "below 12.50 will not do"),
    ],
)
def test_the_best_so_far_has_its_bound(order: str, least: int, says: str) -> None:
    """Hoses, tenths of a gram, cents."""
    order_of_all = (order, *(name for name in ("count", "mass", "price") if name != order))
    plan = plan_of_all()._replace(order=order_of_all, status=Status(BEST_SO_FAR, least, is_first_proved=False))
    assert summary(plan, METRIC).endswith(f"best so far, since the time was up; {says}")


def test_when_time_was_up_but_the_count_is_proved() -> None:
    plan = plan_of_all()._replace(status=Status(BEST_SO_FAR, 4, is_first_proved=True))
    assert "proved: no fewer will do; of these the best so far" in summary(plan, METRIC)


def test_no_time_at_all() -> None:
    plan = find_fewest([kit("One", hose("a", 56, 50))], Sources(), time_limit_s=0)
    lines = fewest_lines(plan, WIDTH, METRIC)
    assert lines[0].startswith("No set: the time was up before any was found.")
    assert "  a (One): the time was up before it was its turn" in lines


def test_json_can_be_written_and_says_the_same() -> None:
    plan = plan_of_all()
    found = json.loads(json.dumps(fewest_json(plan, ("broken.toml cannot be read.",))))
    assert found["count"] == len(plan.hoses) == len(found["hoses"])
    assert found["status"] == "proved"
    assert found["runs"] == 6
    assert found["price"] == 30.0
    assert found["hoses_without_price"] == plan.without_price
    assert [row["tag"] for row in found["without_hose"]] == ["long", "d"]
    assert found["linked_problems"] == ["broken.toml cannot be read."]
    served = {(assignment["file"], assignment["tag"]) for row in found["hoses"] for assignment in row["serves"]}
    assert served == {("First.toml", "a"), ("First.toml", "b"), ("Second.toml", "c"), ("Second.toml", "e")}


def test_imperial_units() -> None:
    assert "22.0 in" in "\n".join(fewest_lines(plan_of_all(), WIDTH, IMPERIAL))


def test_a_hostile_tag_is_written_out() -> None:
    """In the table, in the reasons and among the misses."""
    evil = "\x1b[2J\u202e[red]"
    plan = find_fewest([kit("One", hose(evil, 56, 50), hose(f"{evil} 2", 150, 140))], shelf(rubber(56)))
    text = fewest_text(plan, (), METRIC)
    assert r"\x1b[2J\u202e[red]" in text
    assert "\x1b" not in text
    assert "\u202e" not in text
