"""The tags of all kits of the project stand in full in the lists of the screens, at the two usual widths."""

from collections.abc import Iterator
from pathlib import Path

from kitbuilder.app.widgets.item_list import ITEM_COLUMNS
from kitbuilder.assess.assessment import assess
from kitbuilder.kit.items import Hose
from kitbuilder.kitfile.read import read
from kitbuilder.plans.fitting import plan_fitting
from kitbuilder.plans.losses import work_out_losses
from kitbuilder.plans.weigh_in import plan_weigh_in
from kitbuilder.report.fit import hose_list
from kitbuilder.report.gear import owned_list
from kitbuilder.report.layout import list_rows
from kitbuilder.report.lines import plain
from kitbuilder.report.losses import causes_list
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Table, Tag
from kitbuilder.report.weigh_in import items_list

ROOT = Path(__file__).parents[2]
FILES = sorted([*(ROOT / "configs").glob("*.toml"), *(ROOT / "tests" / "cases").rglob("*.toml")])
CURSOR, SIGNAL, LETTER = 2, 9, 3
"""Columns beside the cells: cursor, signal word with its gap, its first letter with its gap."""


LINES = 27
"""Lines of the list of items in a terminal of 120 by 40; with more items a scroll bar takes a column."""


def lists() -> Iterator[tuple[str, Table, list[str], int, int]]:
    """Each list: whose, its table, the tags in it, and its columns in a terminal of 80 and of 120."""
    for path in FILES:
        found = read(path)
        if found.gear:
            tags = [item.tag for item in found.gear.items]
            yield f"{path.name} gear", owned_list(found.gear), tags, 36 - CURSOR - 1 - LETTER, 64 - CURSOR - 1 - SIGNAL
        if found.resolved is None:
            continue
        kit, assessment = found.resolved, assess(found.resolved)
        tags = [item.tag for item in kit.items]
        hoses = [item.tag for item in kit.items if isinstance(item, Hose)]
        items = Table("", ITEM_COLUMNS, [[Tag(tag), "hose of 100 cm"] for tag in tags])
        losses = work_out_losses(assessment)
        causes = [loss.side or loss.tag for loss in losses.losses]
        weighed = plan_weigh_in(assessment, "file", ())
        yield f"{path.name} items", items, tags, 41 - CURSOR - 1 - LETTER, 42 - CURSOR - SIGNAL - (len(tags) > LINES)
        yield f"{path.name} losses", causes_list(losses), causes, 42 - CURSOR, 45 - CURSOR
        yield f"{path.name} fit", hose_list(plan_fitting(assessment)), hoses, 50 - CURSOR, 52 - CURSOR
        yield f"{path.name} weigh-in", items_list(weighed), tags, 80 - CURSOR - 1, 120 - CURSOR - 1


def test_no_tag_is_cut():
    seen = list(lists())
    assert {name.split()[1] for name, *_ in seen} == {"gear", "items", "losses", "fit", "weigh-in"}
    for name, table, tags, small, large in seen:
        for width in (small, large):
            _, rows = list_rows(table, width, System.METRIC)
            missing = [tag for tag in tags if not any(tag in plain(row) for row in rows)]
            assert missing == [], f"{name} at {width}"
