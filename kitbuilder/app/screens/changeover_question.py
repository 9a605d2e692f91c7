"""Plans a changeover from the shelf: beside the app, since the first one loads the solver; then shows it."""

from datetime import date
from typing import TYPE_CHECKING

from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.screens.dialogs import READING_WIDTH, TextPage
from kitbuilder.app.screens.shelf_files import KitEntry
from kitbuilder.app.screens.working import work_out
from kitbuilder.app.widgets.page_view import styled
from kitbuilder.report.layout import lay_out
from kitbuilder.report.linked import problems_of

if TYPE_CHECKING:
    from kitbuilder.plans.changeover import Changeover, Unbuildable


def plan_changeover_of(screen: KitbuilderScreen, source: KitEntry, target: KitEntry) -> None:
    """Show how one kit is rebuilt as another, or why it cannot be."""

    def show(answer: "Changeover | Unbuildable") -> None:
        if isinstance(answer, Exception):
            _say_unbuildable(screen, answer, source, target)
        else:
            screen.shell.show_changeover(answer, source.path, target.path)

    work_out(screen, "Planning the changeover", lambda: planned(source, target, screen.shell.day), show)


def _say_unbuildable(screen: KitbuilderScreen, problem: "Unbuildable", source: KitEntry, target: KitEntry) -> None:
    from kitbuilder.report.changeover import unbuildable_page

    assert source.assessment is not None
    assert target.assessment is not None
    files = (source.path.name, target.path.name)
    kits = (source.assessment.kit, target.assessment.kit)
    page = unbuildable_page(problem, kits[0], files, problems_of(zip(files, kits, strict=True)))
    lines = lay_out(page, READING_WIDTH, screen.system)
    screen.app.push_screen(TextPage("No changeover", styled(lines)))


def planned(source: KitEntry, target: KitEntry, day: date) -> "Changeover | Unbuildable":
    """Plan how one kit is rebuilt as another, or say why it cannot be. Loads the solver at the first call."""
    from kitbuilder.plans.changeover import Unbuildable, plan_changeover

    assert source.assessment is not None
    assert target.assessment is not None
    try:
        return plan_changeover(source.assessment, target.assessment, day=target.assessment.kit.header.day or day)
    except Unbuildable as problem:
        return problem
