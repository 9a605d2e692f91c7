"""The standing diver as pure text: every size, in dots and in plain signs, for bodies small and large."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.assessment import assess
from kitbuilder.kit.diver import Diver, DiverHeader
from kitbuilder.kit.items import LAYOUTS
from kitbuilder.kit.resolved import LinkedFiles, resolve
from kitbuilder.kitfile.starters import starter_text
from kitbuilder.pictures.body_picture import DEVICE, BodyPicture, Extra, HoseLine, body_picture
from kitbuilder.pictures.body_view import ROLES, WHOLE, draw_body_view
from kitbuilder.pictures.canvas import StyledText
from kitbuilder.pictures.dots import BRAILLE, DOT_BITS
from kitbuilder.plans.fitting import plan_fitting
from kitbuilder.report.route_picture import route_picture
from tests.assess.fit.bodies import STATURE_AND_MASS
from tests.assess.kits import kit_of
from tests.laws import tried
from tests.pictures.bodies import BODIES, hoses, line

SIZES = {"34x14": (34, 14), "60x24": (60, 24), "120x44": (120, 44)}
WIDTHS, HEIGHTS = st.integers(34, 150), st.integers(12, 45)
PICTURES = {name: body_picture(BODIES[name], hoses(name)) for name in BODIES}
BARE = {name: body_picture(BODIES[name], ()) for name in BODIES}

Lines = list[list[StyledText]]


def text_of(lines: Lines) -> list[str]:
    return ["".join(text for text, _ in runs) for runs in lines]


def cells_of(lines: Lines) -> dict[tuple[int, int], StyledText]:
    """Every cell by column and row, with its sign and role."""
    return {
        (column, row): cell
        for row, runs in enumerate(lines)
        for column, cell in enumerate((sign, role) for text, role in runs for sign in text)
    }


def dots_of(lines: Lines, *roles: str) -> set[tuple[int, int]]:
    """The braille dots of some roles, or of all, by dot column and dot row below the heading."""
    return {
        (2 * column + x, 4 * (row - 1) + y)
        for (column, row), (sign, role) in cells_of(lines).items()
        if BRAILLE < ord(sign) < BRAILLE + 256 and (not roles or role in roles)
        for y, bits in enumerate(DOT_BITS)
        for x, bit in enumerate(bits)
        if (ord(sign) - BRAILLE) & bit
    }


def letters_of(lines: Lines) -> list[StyledText]:
    return sorted(cell for cell in cells_of(lines).values() if cell[1].startswith("letter:"))


LAYOUT_BODIES = {"small": ("female", 5), "median": ("male", 50), "large": ("male", 95)}
"""Sex and percentile, in stature and mass, of the body survey ANSUR II of 2012."""


def in_layout(layout: str, body: str) -> BodyPicture:
    """The usual hoses of a layout on a body, the first one selected."""
    sex, percentile = LAYOUT_BODIES[body]
    stature, mass = STATURE_AND_MASS[sex, percentile]
    header = DiverHeader(format=1, holds="diver", name=body, sex=sex, stature_m=stature, mass_kg=mass)
    assessment = assess(resolve(kit_of(starter_text(layout, layout)), LinkedFiles("", Diver(header, ()))))
    return route_picture(plan_fitting(assessment), assessment.hoses[0].number)


@pytest.mark.parametrize("body", LAYOUT_BODIES)
@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("size", SIZES.values(), ids=SIZES)
def test_the_hoses_of_each_layout_on_small_and_large_bodies(screen, size, layout, body):
    """Read with the eye: a person, front and back, the first hose selected, findings marked by their letter."""
    lines = draw_body_view(in_layout(layout, body), *size)
    assert "\n".join([*(line.rstrip() for line in text_of(lines)), ""]) == screen


@pytest.mark.parametrize("size", SIZES.values(), ids=SIZES)
def test_the_same_in_plain_signs(screen, size):
    """For fonts without braille dots."""
    lines = draw_body_view(in_layout("twinset", "median"), *size, plain=True)
    assert "\n".join([*(line.rstrip() for line in text_of(lines)), ""]) == screen


@tried(30)
@given(width=WIDTHS, height=HEIGHTS, name=st.sampled_from(list(BODIES)), plain=st.booleans())
def test_the_picture_has_exactly_its_size(width, height, name, plain):
    lines = draw_body_view(PICTURES[name], width, height, plain=plain)
    assert [len(text) for text in text_of(lines)] == [width] * height


@pytest.mark.parametrize(("width", "height"), [(23, 20), (0, 20), (80, 7), (80, 0), (-1, -1)])
def test_a_picture_that_is_too_small_is_blank(width, height):
    assert text_of(draw_body_view(PICTURES["median"], width, height)) == [""] * max(height, 0)


@tried(30)
@given(width=WIDTHS, height=HEIGHTS)
def test_the_heading_says_which_view_and_which_hand(width, height):
    """The diver faces the reader in the first view: the right hand is at the left."""
    [heading, role] = draw_body_view(BARE["median"], width, height)[0][0]
    assert role == "label"
    assert heading.split() == ["R", "front", "L", "L", "back", "R"]


@tried(30)
@given(width=WIDTHS, height=HEIGHTS)
def test_the_marks_of_the_hands_stand_over_the_hands(width, height):
    """So that they are read with the right body: within two cells of the outermost dots of each."""
    lines = draw_body_view(BARE["large"], width, height)
    columns = sorted({x // 2 for x, _ in dots_of(lines, "body")})
    first = [column for column in columns if column < width // 2]
    second = [column for column in columns if column >= width // 2]
    marks = [column for column, sign in enumerate(text_of(lines)[0]) if sign in "RL"]
    assert marks == pytest.approx([first[0], first[-1], second[0], second[-1]], abs=2)


# --- the body ---------------------------------------------------------------------------------------------------------


@tried(30)
@given(width=WIDTHS, height=HEIGHTS, name=st.sampled_from(list(BODIES)))
def test_each_body_is_its_own_mirror_image(width, height, name):
    """Every dot of a view has one across its middle, or beside that."""
    lines = draw_body_view(BARE[name], width, height)
    half = width // 2
    for start in (0, 2 * (width - half)):
        dots = {(x - start, y) for x, y in dots_of(lines, "body") if 0 <= x - start < 2 * half}
        assert len(dots) > 60
        for x, y in dots:
            across = 2 * half - 1 - x
            assert dots & {(across + dx, y + dy) for dx in (-1, 0, 1) for dy in (-1, 0, 1)}


@tried(30)
@given(width=WIDTHS, height=st.integers(WHOLE, 45), name=st.sampled_from(list(BODIES)))
def test_with_room_the_whole_body_is_drawn_in_its_proportions(width, height, name):
    """As tall as its stature, as broad as from hand to hand: a dot is as high as it is wide."""
    picture, dots = BARE[name], dots_of(draw_body_view(BARE[name], width, height), "body")
    first = [(x, y) for x, y in dots if x < 2 * (width // 2)]
    tall, broad = (max(values) - min(values) for values in ([y for _, y in first], [x for x, _ in first]))
    per_m = broad / (2 * picture.half_breadth)
    assert tall == pytest.approx(BODIES[name]["stature"] * per_m, abs=0.06 * tall + 2)


@tried(30)
@given(height=st.integers(12, WHOLE - 1), name=st.sampled_from(list(BODIES)))
def test_with_less_room_the_body_is_drawn_larger_and_down_to_the_thighs(height, name):
    """Hoses go from head to hip; a wide pane shows the body down to the middle of the thighs, to its last line."""
    picture = BARE[name]
    dots = dots_of(draw_body_view(picture, 150, height), "body")
    assert max(y for _, y in dots) >= 4 * (height - 1) - 2
    first = [x for x, _ in dots if x < 150]
    per_m = (max(first) - min(first)) / (2 * picture.half_breadth)
    assert 4 * (height - 1) / per_m == pytest.approx(picture.top - picture.thigh, rel=0.1)


def test_bodies_look_different():
    """A small woman, a man of the middle and a large man, in one size of picture."""
    drawn = {name: tuple(text_of(draw_body_view(BARE[name], 60, 24))) for name in BODIES}
    assert len(set(drawn.values())) == len(BODIES)


# --- hoses ------------------------------------------------------------------------------------------------------------


POINTS = st.tuples(st.floats(-0.35, 0.35), st.floats(-0.15, 0.35), st.floats(-1.0, 0.3))
SIGNALS = st.sampled_from(["", "notice", "caution", "warning", "danger"])


@st.composite
def many_hoses(draw: st.DrawFn) -> list[HoseLine]:
    """Up to a dozen, led anywhere within reach."""
    paths = draw(st.lists(st.lists(POINTS, min_size=2, max_size=5, unique=True), max_size=12))
    return [
        line(number, tuple(path), signal=draw(SIGNALS), stand_off_m=draw(st.none() | st.floats(0, 0.6)),
             is_selected=number == 0)
        for number, path in enumerate(paths)
    ]  # fmt: skip


@tried(30)
@given(lines=many_hoses(), width=WIDTHS, height=HEIGHTS, plain=st.booleans())
def test_every_letter_stands_once_with_its_signal_and_over_no_other(lines, width, height, plain):
    """Wherever the hoses are led, and however small the picture."""
    drawn = draw_body_view(body_picture(BODIES["median"], lines), width, height, plain=plain)
    assert letters_of(drawn) == sorted((hose.letter, f"letter:{hose.signal}") for hose in lines)
    assert [len(text) for text in text_of(drawn)] == [width] * height


@tried(30)
@given(width=WIDTHS, height=HEIGHTS, name=st.sampled_from(list(BODIES)), plain=st.booleans())
def test_letters_do_not_run_into_words(width, height, name, plain):
    """Between two letters of a line there is another sign."""
    cells = cells_of(draw_body_view(PICTURES[name], width, height, plain=plain))
    places = sorted(place[::-1] for place, (_, role) in cells.items() if role.startswith("letter:"))
    assert all(
        row != next_row or next_column - column > 1 for (row, column), (next_row, next_column) in pairwise(places)
    )


@tried(30)
@given(width=WIDTHS, height=HEIGHTS, name=st.sampled_from(list(BODIES)))
def test_dots_are_braille_and_plain_is_ascii(width, height, name):
    """But for the letters and the heading."""
    signals = [hose.signal for hose in hoses(name)]
    words = {f"{sign}:{signal}" for sign in ("letter", "mark") for signal in signals}
    roles = {"", "label", *ROLES, *words}
    for (_, row), (sign, role) in cells_of(draw_body_view(PICTURES[name], width, height)).items():
        assert role in roles
        assert row == 0 or role.startswith(("letter:", "mark:")) or sign == " " or BRAILLE < ord(sign) < BRAILLE + 256
    plain = cells_of(draw_body_view(PICTURES[name], width, height, plain=True)).values()
    assert all(sign == (ROLES.get(role) or sign) and sign.isascii() for sign, role in plain)


DOWN_THE_CHEST = ((0.06, 0.3, -0.1), (0.06, 0.3, -0.5))


def picture_of(*lines: HoseLine) -> BodyPicture:
    return body_picture(BODIES["median"], lines)


def test_a_hose_is_whole_and_the_body_is_dotted():
    """Given without colour: a hose fills every row of dots that it passes, the spine every second."""
    lines = draw_body_view(picture_of(line(0, DOWN_THE_CHEST)), 60, 24)
    rows = {y for _, y in dots_of(lines, "hose")}
    gaps = {y for y in range(min(rows), max(rows)) if y not in rows}
    [letter] = [row - 1 for (_, row), (_, role) in cells_of(lines).items() if role.startswith("letter:")]
    assert gaps <= set(range(4 * letter, 4 * letter + 4))
    spine = sorted(y for x, y in dots_of(lines, "body") if x == 90 and 20 < y < 60)
    assert {lower - upper for upper, lower in pairwise(spine)} == {2}


def test_the_selected_hose_is_thicker():
    thin, thick = (
        draw_body_view(picture_of(line(0, DOWN_THE_CHEST, is_selected=selected)), 60, 24) for selected in (False, True)
    )
    assert not dots_of(thin, "selected")
    assert not dots_of(thick, "hose")
    assert len(dots_of(thick, "selected")) >= 1.8 * len(dots_of(thin, "hose"))


@pytest.mark.parametrize("plain", [False, True])
def test_where_hose_and_body_meet_the_hose_is_seen(plain):
    """A hose laid along the spine, in the view of the back, hides it."""
    along = ((0.0, -0.1, -0.1), (0.0, -0.1, -0.4))
    before, after = (
        cells_of(draw_body_view(picture_of(*lines), 60, 24, plain=plain)) for lines in ((), (line(0, along),))
    )
    taken = {place for place, (_, role) in after.items() if role == "hose"}
    assert len(taken) > 5
    assert all(before[place][1] == "body" for place in taken)


def test_what_is_hidden_is_drawn_of_the_selected_hose_only():
    """In dots further apart than those of the body; of the others it is left out."""
    chosen, other = (
        draw_body_view(picture_of(line(0, DOWN_THE_CHEST, is_selected=selected)), 60, 24) for selected in (True, False)
    )
    hidden = dots_of(chosen, "hidden")
    assert hidden
    assert all(x >= 60 for x, _ in hidden)
    assert not dots_of(other, "hidden")


def test_the_bow_of_the_selected_hose_is_to_scale():
    """A stand-off of 12 cm is 12 cm of the body's breadth off the hose."""
    lines = draw_body_view(picture_of(line(0, DOWN_THE_CHEST, stand_off_m=0.12, is_selected=True)), 120, 45)
    hose, bow = ({x for x, _ in dots_of(lines, role)} for role in ("selected", "bow"))
    body = [x for x, _ in dots_of(lines, "body") if x < 120]
    per_m = (max(body) - min(body)) / (2 * picture_of().half_breadth)
    assert min(hose) - min(bow) == pytest.approx(0.12 * per_m, abs=1.5)
    without = draw_body_view(picture_of(line(0, DOWN_THE_CHEST, stand_off_m=0.12)), 120, 45)
    assert not dots_of(without, "bow")


def cylinder(top: float) -> Extra:
    """A cylinder on the back, 20 cm wide."""
    corners = ((-0.1, -0.15, top), (0.1, -0.15, top), (0.1, -0.15, -0.6), (-0.1, -0.15, -0.6))
    return Extra(corners, "cylinder")


def test_an_item_on_the_back_is_drawn_from_behind_only():
    """A cylinder below the shoulders is hidden by the body in the view from the front."""
    dots = dots_of(draw_body_view(body_picture(BODIES["median"], (), [cylinder(-0.1)]), 60, 24), "item")
    assert dots
    assert all(x >= 60 for x, _ in dots)


def test_what_stands_out_behind_the_body_is_seen_beside_it():
    """A cylinder that ends above the shoulders: its corners beside the neck, and nothing before the body."""
    dots = dots_of(draw_body_view(body_picture(BODIES["median"], (), [cylinder(0.1)]), 60, 24), "item")
    front = [y for x, y in dots if x < 60]
    whole = [y for x, y in dots if x >= 60]
    assert front
    assert max(front) < (min(whole) + max(whole)) / 2


def test_an_item_hides_what_is_under_it_and_a_device_lies_over_the_hose():
    """No line of the back within a cylinder; a hose ends under its second stage, which is a filled disc."""
    bare, dressed = (
        dots_of(draw_body_view(body_picture(BODIES["median"], (), extras), 60, 24), "body")
        for extras in ((), [cylinder(-0.1)])
    )
    assert len(dressed) < len(bare)
    ring = tuple((0.06 + 0.04 * x, 0.3, -0.5 + 0.04 * z) for x, z in ((-1, -1), (1, -1), (1, 1), (-1, 1)))
    hose = line(0, DOWN_THE_CHEST)
    drawn = draw_body_view(body_picture(BODIES["median"], [hose], [Extra(ring, DEVICE)]), 120, 45)
    device = {(x, y) for x, y in dots_of(drawn, "device") if x < 120}
    assert max(y for _, y in device) >= max(y for x, y in dots_of(drawn, "hose") if x < 120)
    across, down = ({place[axis] for place in device} for axis in (0, 1))
    assert len(device) > 0.6 * len(across) * len(down)


def test_a_stowed_hose_is_drawn_as_long_as_half_of_what_is_stowed():
    """A bight goes out and back. More that is stowed is drawn longer."""
    per_m = None
    for stowed in (0.2, 0.3):
        drawn = draw_body_view(picture_of(line(0, ((0.0, 0.3, 0.0), (0.15, 0.3, -0.4)), stowed_m=stowed)), 120, 45)
        body = [x for x, _ in dots_of(drawn, "body") if x < 120]
        per_m = (max(body) - min(body)) / (2 * picture_of().half_breadth)
        low = [x for x, y in dots_of(drawn, "hose") if x < 120]
        without = dots_of(draw_body_view(picture_of(line(0, ((0.0, 0.3, 0.0), (0.15, 0.3, -0.4)))), 120, 45), "hose")
        start = min(x for x, _ in without if x < 120)
        assert max(low) - start <= 0.5 * per_m
        new = {x for x, y in dots_of(drawn, "hose") if x < 120 and (x, y) not in without}
        assert max(new) - min(new) == pytest.approx(stowed / 2 * per_m, abs=3)
