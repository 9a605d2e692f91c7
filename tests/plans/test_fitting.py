"""The fitting of a kit: which hoses stay, and the list of what to buy.

Most hoses here have no usual route and a run by string, so that what they need follows by hand: length and string
are known to hypot(1, 1.5) = 1.8 cm, two standard deviations: a hose is bought with 1.8 cm to spare. From 50 cm of run
that makes 52 cm, and 56 cm of those in trade.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.kit.resolved import NOTHING_LINKED
from kitbuilder.kit.stock import Stock, StockHeader, StockHose
from kitbuilder.kitfile.starters import starter_text
from kitbuilder.plans.fitting import FittingPlan, ShoppingLine, plan_fitting
from tests.assess.kits import SALT, WHOLE, assessed, hose_text, shipped

LAYOUTS = ("single", "twinset", "sidemount")


def kit(*hoses: str) -> str:
    """A kit of hoses only."""
    return "\n".join([f'format = 1\nname = "hoses"\nlayout = "single"\n{SALT}\n', *hoses])


def hose(tag: str, length: str, run: str | None, role: str = "other LP", **more: str) -> str:
    """A hose of no usual route, with a run by string unless None."""
    return hose_text(tag=tag, role=role, length=length, **({"run": run} if run else {}) | more)


def stocked(tag: str, length_cm: float, price: float | None = None, **more: str) -> StockHose:
    """A rubber hose on the shelf, of whatever ends."""
    return StockHose(**({"tag": tag, "body": "rubber"} | more), length_m=length_cm / 100, price=price)  # type: ignore[arg-type]


def plan(text: str, *shelf: StockHose, buy_all: bool = False) -> FittingPlan:
    """The fitting of a kit, from a shelf when something is on it, else from all that is in trade."""
    stock = Stock(StockHeader(format=1, holds="stock", name="a shelf", currency="EUR"), shelf)
    return plan_fitting(
        assessed(text, NOTHING_LINKED._replace(stock=stock) if shelf else NOTHING_LINKED), buy_all=buy_all
    )


def listed(found: FittingPlan) -> list[tuple[tuple[str, ...], int]]:
    """The list: for which hoses, and the length in whole centimetres."""
    return [(line.tags, round(line.length_m * 100)) for line in found.shopping]


def by_tag(found: FittingPlan) -> dict[str, bool]:
    """Which hoses have to be got."""
    return {fitted.figures.hose.tag: fitted.is_bought for fitted in found.hoses}


SHORT, OTHER_SHORT = hose("one", "40 cm", "50 cm"), hose("two", "45 cm", "50 cm")
KEPT = hose("kept", "56 cm", "50 cm")


def test_a_hose_for_rich_gas_is_bought_clean_and_on_a_line_of_its_own() -> None:
    """29 CFR 1910.430: gear for more than 40 % oxygen is cleaned for it."""
    rich = (
        '[[cylinder]]\ntag = "tank"\npreset = "steel 12 L 232 long"\noxygen = "50 %"\n'
        '[[first_stage]]\ntag = "first"\npreset = "brass, DIN, 4 LP 2 HP"\non = "tank"\n'
    )
    found = plan(kit(rich, hose("one", "40 cm", "50 cm", from_="first LP1"), OTHER_SHORT)).shopping
    assert sorted((line.tags, line.must_be_clean) for line in found) == [(("one",), True), (("two",), False)]


# --- the lines --------------------------------------------------------------------------------------------------------


def test_equal_hoses_are_one_line_with_so_many_pieces() -> None:
    """Of the same length, body and ends, whatever they are now."""
    [line] = plan(kit(SHORT, OTHER_SHORT)).shopping
    assert (line.tags, line.pieces) == (("one", "two"), 2)
    assert line.length_m == pytest.approx(0.56)
    assert (line.body, line.service, line.is_made) == ("rubber", "LP", False)


@pytest.mark.parametrize(
    "other",
    [
        hose("two", "45 cm", "50 cm", body="braided"),
        hose("two", "45 cm", "50 cm", to_end="industrial-profile coupling"),
        hose("two", "45 cm", "50 cm", from_end="LP 1/2"),
        hose("two", "45 cm", "57 cm"),
    ],
    ids=["body", "device end", "first stage end", "length"],
)
def test_what_differs_is_another_line(other: str) -> None:
    """A hose of another body, other ends or another length is another hose."""
    assert [line.tags for line in plan(kit(SHORT, other)).shopping] == [("one",), ("two",)]


def test_lp_stands_before_hp_and_short_before_long() -> None:
    """As a shop has them."""
    text = kit(
        hose("long HP", "30 cm", "70 cm", "other HP"),
        hose("short HP", "15 cm", "20 cm", "other HP"),
        hose("long LP", "40 cm", "95 cm"),
        hose("short LP", "40 cm", "50 cm"),
    )
    assert listed(plan(text)) == [(("short LP",), 56), (("long LP",), 100), (("short HP",), 23), (("long HP",), 75)]


def test_a_hose_that_is_not_available_is_made() -> None:
    """52 cm are the first whole centimetres with 1.8 cm to spare; the shelf has only 50."""
    [line] = plan(kit(SHORT, OTHER_SHORT), stocked("B50", 50)).shopping
    assert (line.is_made, line.stocked, line.pieces) == (True, None, 2)
    assert line.length_m == pytest.approx(0.52)


# --- prices -----------------------------------------------------------------------------------------------------------


def test_prices_add_up() -> None:
    """Two of 24.50 and one of 31.05."""
    text = kit(SHORT, OTHER_SHORT, hose("three", "40 cm", "72 cm"))
    found = plan(text, stocked("B56", 56, 24.50), stocked("B75", 75, 31.05))
    assert [(line.stocked.tag, line.price) for line in found.shopping if line.stocked] == [
        ("B56", 49.00),
        ("B75", 31.05),
    ]
    assert found.price == 80.05
    assert found.without_price == 0


def test_prices_add_up_to_the_cent() -> None:
    """Three times 0.10 is 0.30, whatever floats say."""
    text = kit(*(hose(f"hose {number}", "40 cm", "50 cm") for number in range(3)))
    assert plan(text, stocked("B56", 56, 0.10)).price == 0.30


def test_hoses_without_a_price_are_counted() -> None:
    """Two on the shelf without a price, one that has to be made; the price is that of the rest."""
    text = kit(SHORT, OTHER_SHORT, hose("three", "40 cm", "72 cm"), hose("four", "40 cm", "95 cm"))
    found = plan(text, stocked("B56", 56), stocked("B75", 75, 31.05))
    assert found.price == 31.05
    assert found.without_price == 3


def test_without_a_stock_file_there_is_no_price() -> None:
    """But a list."""
    found = plan(kit(SHORT, OTHER_SHORT))
    assert found.price is None
    assert found.without_price == 2


# --- what stays -------------------------------------------------------------------------------------------------------


def test_a_hose_that_serves_is_not_bought() -> None:
    """It is the hose to have."""
    found = plan(kit(SHORT, KEPT))
    assert by_tag(found) == {"one": True, "kept": False}
    assert listed(found) == [(("one",), 56)]
    kept = found.hoses[1]
    assert kept.advice is not None
    assert kept.to_have == kept.advice.present
    assert kept.length_to_have_m == pytest.approx(0.56)


def test_a_hose_far_too_long_is_bought_again() -> None:
    """50 cm of slack on a run of 50 cm: twice as long as its span, which stands 0.75 spans off, 37 cm."""
    assert by_tag(plan(kit(hose("long", "100 cm", "50 cm")))) == {"long": True}


def test_who_owns_nothing_buys_everything() -> None:
    """The one that would be kept as well."""
    found = plan(kit(SHORT, KEPT), buy_all=True)
    assert by_tag(found) == {"one": True, "kept": True}
    assert listed(found) == [(("one", "kept"), 56)]


@pytest.mark.parametrize("buy_all", [False, True])
def test_of_a_hose_without_run_and_route_nothing_is_known(buy_all: bool) -> None:
    """Nor is it bought."""
    found = plan(kit(hose("unknown", "50 cm", None)), buy_all=buy_all)
    [fitted] = found.hoses
    assert fitted.advice is None
    assert (fitted.is_bought, fitted.to_have, fitted.length_to_have_m) == (False, None, None)
    assert found.shopping == ()
    assert (found.price, found.without_price) == (None, 0)


@pytest.mark.parametrize("buy_all", [False, True])
@pytest.mark.parametrize("text", [starter_text(layout, "new") for layout in LAYOUTS], ids=LAYOUTS)
def test_a_new_kit_is_bought_as_it_is_asked_for(text: str, buy_all: bool) -> None:
    """All of it, or what does not serve."""
    assert_whole(plan(text, buy_all=buy_all), buy_all=buy_all)


@pytest.mark.parametrize("name", WHOLE)
def test_the_kits_that_come_along(name: str) -> None:
    """Their diver is given, and their strings were laid."""
    assert_whole(plan_fitting(shipped(name)), buy_all=False)


def test_both_gauges_of_a_new_sidemount_kit_have_the_same_hose() -> None:
    """One on each side, led the same way."""
    found = plan(starter_text("sidemount", "new"), buy_all=True)
    [gauges] = [line for line in found.shopping if line.service == "HP"]
    assert (gauges.tags, gauges.pieces) == (("right gauge hose", "left gauge hose"), 2)


LENGTHS = st.integers(10, 200).map(lambda length: f"{length} cm")
HOSES = st.tuples(LENGTHS, LENGTHS, st.sampled_from(("other LP", "other HP")), st.sampled_from(("rubber", "braided")))
SHELVES = st.lists(
    st.tuples(
        st.integers(10, 200),
        st.one_of(st.none(), st.integers(100, 9999).map(lambda cents: cents / 100)),
        st.sampled_from(("rubber", "braided")),
    ),
    max_size=6,
)


@given(hoses=st.lists(HOSES, max_size=6), shelf=SHELVES, buy_all=st.booleans())
def test_every_hose_to_buy_stands_on_one_line(
    hoses: list[tuple[str, str, str, str]], shelf: list[tuple[int, float | None, str]], buy_all: bool
) -> None:
    """Whatever the kit and the shelf; and the price is that of its pieces."""
    text = kit(
        *(
            hose(f"hose {number}", length, run, role, body=body)
            for number, (length, run, role, body) in enumerate(hoses)
        )
    )
    found = plan(
        text,
        *(stocked(f"S{number}", length, price, body=body) for number, (length, price, body) in enumerate(shelf)),
        buy_all=buy_all,
    )
    assert_whole(found, buy_all=buy_all)


def assert_whole(found: FittingPlan, *, buy_all: bool) -> None:
    """What is to be bought is on the list once, in order, and added up."""
    assert all(fitted.is_bought or not buy_all for fitted in found.hoses if fitted.advice)
    wanted = {fitted.figures.hose.tag: fitted for fitted in found.hoses if fitted.is_bought}
    on_list = {tag: line for line in found.shopping for tag in line.tags}
    assert sum(line.pieces for line in found.shopping) == len(on_list)
    assert on_list.keys() == wanted.keys()
    for tag, line in on_list.items():
        assert line.length_m == wanted[tag].length_to_have_m
        assert line.body == wanted[tag].figures.hose.body
        assert line.is_made == (wanted[tag].to_have is None)
    assert [order(line) for line in found.shopping] == sorted(order(line) for line in found.shopping)
    cents = [
        round(line.stocked.price * 100) * line.pieces for line in found.shopping if line.stocked and line.stocked.price
    ]
    assert found.price == (sum(cents) / 100 if cents else None)
    assert found.without_price == sum(line.pieces for line in found.shopping if line.price is None)


def order(line: ShoppingLine) -> tuple[bool, float]:
    """LP first, then by length."""
    return line.service == "HP", line.length_m
