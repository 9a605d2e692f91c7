"""Whatever kits may say within their limits: they are set beside each other without an error and without a NaN."""

import json

import jsonschema
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.assessment import assess
from kitbuilder.kit.resolved import resolve
from kitbuilder.plans.side_by_side import set_side_by_side
from kitbuilder.report.compare import compare_page
from kitbuilder.report.compare_data import SHAPE
from kitbuilder.report.comparison import Comparison
from kitbuilder.report.numbers import System
from kitbuilder.report.shapes import DEFINITIONS
from tests.laws import tried
from tests.report.pages import page_json, page_text
from tests.report.test_any_kit import kits

FILES = ("a.toml", "b.toml", "c.toml", "d.toml")


@tried(15)
@given(some=st.lists(kits, min_size=1, max_size=3), system=st.sampled_from(System), everything=st.booleans())
def test_any_kits_are_set_side_by_side(some, system, everything):
    """The first one beside itself and others: the same as itself, and every answer keeps to its shape."""
    first, *others = (assess(resolve(kit)) for kit in some)
    alone = set_side_by_side([first, first])
    assert alone.equal_rows == alone.rows
    assert not any(total.differs for total in alone.totals)
    assert alone.findings == ((), ())
    found = set_side_by_side([first, first, *others])
    page = compare_page(Comparison(found, FILES[: len(found.kits)], everything=everything))
    for width in (60, 100):
        lines = page_text(page, system, width).splitlines()
        assert not {"nan", "inf", "None"} & set(" ".join(lines).split())
        assert max(map(len, lines)) <= width
    said = json.loads(json.dumps(page_json(page), allow_nan=False))
    jsonschema.validate(said, SHAPE | {"$defs": DEFINITIONS})
    assert len(said["kits"]) == len(found.kits)
