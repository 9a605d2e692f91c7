"""What the shelf does with several kits: it asks which, and shows them side by side or how one is rebuilt as another.

A changeover is planned beside the app, since the first one loads the solver.
"""

from collections.abc import Callable, Sequence
from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.screens.dialogs import READING_WIDTH, Choose, TextPage
from kitbuilder.app.screens.shelf_files import KitEntry
from kitbuilder.app.screens.working import work_out
from kitbuilder.app.widgets.page_view import styled
from kitbuilder.assess.findings import Signal
from kitbuilder.report.form import Choice
from kitbuilder.report.layout import lay_out
from kitbuilder.report.linked import problems_of

if TYPE_CHECKING:
    from kitbuilder.plans.changeover import Changeover, Unbuildable


class KitChoice(NamedTuple):
    """The kits of a shelf to choose two from."""

    all: Sequence[KitEntry]
    marked: Sequence[KitEntry]
    """Those that are marked and can be read, in the order in which they were marked."""
    under_cursor: KitEntry | None


def ask_pair(
    screen: KitbuilderScreen,
    question: str,
    kits: KitChoice,
    go_on: Callable[[KitbuilderScreen, KitEntry, KitEntry], None],
) -> None:
    """Go on with the two marked kits; else ask which goes with the one under the cursor.

    One marked kit goes with the one under the cursor. Of three and more, one is asked for.
    """
    marked, book = list(kits.marked), kits.under_cursor
    if len(marked) == 1 and book is not None and book.assessment and book is not marked[0]:
        marked.append(book)
    if len(marked) == 2:
        go_on(screen, *marked)
        return
    candidates = marked if len(marked) > 1 else kits.all
    others = {other.path.name: other for other in candidates if other.assessment and other is not book}
    if book is None or book.assessment is None or not others:
        lacking = "Put the cursor on a kit" if book is None else "This needs two kits"
        screen.notify(f"{lacking} that can be read.", severity="warning", markup=False)
        return
    choices = [Choice(name, each.assessment.kit.header.name) for name, each in others.items() if each.assessment]
    ask = Choose(question.format(book.assessment.kit.header.name), choices)
    screen.app.push_screen(ask, lambda name: go_on(screen, book, others[name]) if name is not None else None)


def ask_beside(screen: KitbuilderScreen, kits: KitChoice) -> None:
    """Show the marked kits side by side, up to four; with fewer than two, ask for the other one."""
    from kitbuilder.plans.side_by_side import FEWEST, MOST  # not needed for the first screen

    if len(kits.marked) > MOST:
        screen.notify(
            f"{len(kits.marked)} kits are marked; up to {MOST} go side by side. Take marks back with space.",
            severity="warning",
            markup=False,
        )
    elif len(kits.marked) > FEWEST:
        _show_beside(screen, *kits.marked)
    else:
        ask_pair(screen, "Kit to set beside {}", kits, _show_beside)


def _show_beside(screen: KitbuilderScreen, *kits: KitEntry) -> None:
    screen.shell.show_beside([(each.path, each.assessment) for each in kits if each.assessment is not None])


def ask_divers(screen: KitbuilderScreen, kits: KitChoice) -> None:
    """Show what the divers of the marked kits, up to three, must agree on; with fewer than two, ask for the other."""
    from kitbuilder.plans.pair.members import FEWEST, MOST  # not needed for the first screen

    if len(kits.marked) > MOST:
        screen.notify(
            f"{len(kits.marked)} kits are marked; up to {MOST} divers dive together. Take marks back with space.",
            severity="warning",
            markup=False,
        )
    elif len(kits.marked) > FEWEST:
        show_pair(screen, *kits.marked)
    elif kits.marked:
        ask_pair(screen, "Kit of the diver who dives with {}", kits, show_pair)
    else:
        _ask_other_diver(screen, kits)


def _ask_other_diver(screen: KitbuilderScreen, kits: KitChoice) -> None:
    """Ask for a kit of another diver than the one under the cursor; say so where every kit is of that diver."""
    book = kits.under_cursor
    complaints = {each.path: _complaint(book, each) for each in kits.all if book and each is not book}
    if complaints and all(complaints.values()):
        _say_one_diver(screen, next(iter(complaints.values())))
        return
    others = [each for each in kits.all if not complaints.get(each.path)]
    ask_pair(screen, "Kit of the diver who dives with {}", kits._replace(all=others), show_pair)


def _complaint(*kits: KitEntry) -> str:
    from kitbuilder.plans.pair.members import kits_of_one_diver

    return kits_of_one_diver([(str(kit.path), kit.assessment) for kit in kits if kit.assessment is not None])


def _say_one_diver(screen: KitbuilderScreen, complaint: str) -> None:
    say = f"{complaint[0].upper()}{complaint[1:]}. Mark or open the kit of another diver."
    screen.notify(say, severity="warning", markup=False)


def show_pair(screen: KitbuilderScreen, *kits: KitEntry) -> None:
    """Show what the divers of some kits must agree on, unless two kits are of one diver."""
    if complaint := _complaint(*kits):
        _say_one_diver(screen, complaint)
        return
    screen.shell.show_pair([(kit.path, kit.assessment) for kit in kits if kit.assessment is not None])


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
    screen.app.push_screen(TextPage("No changeover possible", styled(lines)))


def planned(source: KitEntry, target: KitEntry, day: date) -> "Changeover | Unbuildable":
    """Plan how one kit is rebuilt as another, or say why it cannot be. Loads the solver at the first call."""
    from kitbuilder.plans.changeover import Unbuildable, plan_changeover

    assert source.assessment is not None
    assert target.assessment is not None
    try:
        return plan_changeover(source.assessment, target.assessment, day=target.assessment.kit.header.day or day)
    except Unbuildable as problem:
        return problem


def kits_for_fewest(kits: KitChoice) -> list[str]:
    """Name the files to serve with the fewest hoses: those marked; else this kit and sound ones of its gear file."""
    book = kits.under_cursor
    gear = book.assessment.kit.header.gear if book and book.assessment else None
    alike = [
        other.path.name
        for other in kits.all
        if gear and other.assessment and other.assessment.kit.header.gear == gear
        if other.assessment.worst is not Signal.DANGER
    ]
    own = [book.path.name] if book and book.assessment else []
    return [each.path.name for each in kits.marked] or [*dict.fromkeys((*own, *alike))]
