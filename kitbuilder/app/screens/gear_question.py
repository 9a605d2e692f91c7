"""Opens the gear file of a folder, after asking which, or what a new one is called."""

from pathlib import Path

from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.screens.dialogs import Choose, TypeName
from kitbuilder.kit.file_kinds import GEAR_FILE
from kitbuilder.kitfile.disk import complain_of_name, with_ending
from kitbuilder.kitfile.folder import files_holding
from kitbuilder.kitfile.schemas import save_new
from kitbuilder.kitfile.starters import gear_text
from kitbuilder.report.form import Choice


def open_gear(screen: KitbuilderScreen, folder: Path, named: str | None) -> None:
    """Open the gear file that a kit names, else one of the folder; offer to make one where there is none."""

    def show(name: str | None) -> None:
        if name is not None:
            screen.shell.show_gear(folder / name)

    def make(name: str | None) -> None:
        if name is None:
            return
        path = folder / with_ending(name)
        try:
            save_new(path, gear_text(), GEAR_FILE)
        except OSError as error:
            say_refused(screen, "Not made", error)
            return
        screen.shell.show_gear(path)

    def complain(name: str) -> str | None:
        return complain_of_name(folder, with_ending(name))

    there = (named,) if named else files_holding(folder, GEAR_FILE.name)
    if len(there) == 1:
        show(there[0])
    elif there:
        screen.app.push_screen(Choose("Gear file to open", [Choice(name, "") for name in there]), show)
    else:
        screen.app.push_screen(TypeName("Name of the gear file", "gear.toml", complain), make)


def say_refused(screen: KitbuilderScreen, title: str, error: OSError) -> None:
    """Say why the disk refused; nothing was changed."""
    reason = f"{error.strerror or error}. Nothing was changed."
    screen.notify(reason[0].upper() + reason[1:], title=title, severity="error", markup=False)
