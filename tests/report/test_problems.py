"""What is said of a file that cannot be read, and of linked files that are not used."""

import pytest

from kitbuilder.kitfile.problems import Problem
from kitbuilder.report.linked import not_used
from kitbuilder.report.page import Page
from kitbuilder.report.problems import problems_page
from tests.report.pages import page_json, page_text

PROBLEMS = (
    Problem(None, "", "found no kit", "Write one."),
    Problem(3, "layout", 'found "singel"', 'Accepted: "single", "twinset", "sidemount".'),
    Problem(12, 'hose "\x1b[2J"', "found 75, a number without a unit", 'Write it in quotes with its unit: "75 cm".'),
)


def test_each_problem_stands_beside_its_line() -> None:
    """What a terminal would obey is written out."""
    first, *rows = page_text(problems_page(PROBLEMS), width=80).splitlines()
    assert first == "Fix this file in a text editor, then press g. It has not been changed."
    assert rows == [
        "",
        "file     found no kit.",
        "         Write one.",
        'line 3   layout: found "singel".',
        '         Accepted: "single", "twinset", "sidemount".',
        r'line 12  hose "\x1b[2J": found 75, a number without a unit.',
        '         Write it in quotes with its unit: "75 cm".',
    ]


@pytest.mark.parametrize("width", [60, 80, 100])
def test_problems_keep_within_their_width(width: int) -> None:
    assert max(map(len, page_text(problems_page(PROBLEMS), width=width).splitlines())) <= width


def test_what_is_not_used_is_said_on_paper_and_left_to_the_envelope_in_json() -> None:
    page = Page([not_used(["gone.toml is not in this folder.", "\x1b.toml is not in this folder."])])
    assert page_text(page).splitlines() == [
        "Not used: gone.toml is not in this folder.",
        r"Not used: \x1b.toml is not in this folder.",
    ]
    assert page_json(page) == {}
    assert page_text(Page([not_used([])])) == ""
