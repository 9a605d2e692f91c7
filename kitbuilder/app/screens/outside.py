"""What a screen on a document does when other programs change its file, or a file that its kit names."""

from pathlib import Path

from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.foreign import visible
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.reader import parse_as
from kitbuilder.kitfile.stamps import Stamp, stamps_of


def stamps_of_document(document: Document) -> dict[Path, Stamp | None]:
    """Give the stamps of the file of a document and of the files that it names."""
    kit, trip = document.reading.kit, document.reading.trip
    of_kit = (kit.header.diver, kit.header.gear, kit.header.stock) if kit else ()
    names = (*trip.header.kits, *trip.header.divers) if trip else of_kit
    return stamps_of([document.path, *(document.path.parent / name for name in names if name)])


def take_changes(screen: KitbuilderScreen, document: Document, changed: frozenset[Path]) -> bool:
    """Show what other programs changed: read the own file again where nothing is edited, and follow linked files.

    Gives whether the screen shows all of it; what collides with edits is said, and settled when they are saved.
    """
    linked = sorted(visible(path.name) for path in changed if path != document.path)
    if document.path in changed:
        _take_own(screen, document)
    if linked:
        screen.show_all()
        names, verb = " and ".join(linked), "has" if len(linked) == 1 else "have"
        screen.notify(f"{names} {verb} changed on the disk. The figures follow.", markup=False)
    return True


def _take_own(screen: KitbuilderScreen, document: Document) -> None:
    name, theirs = visible(document.path.name), document.on_disk()
    if theirs == document.saved_text:
        return  # saved here
    if theirs is None:
        text = f"{name} is gone, or cannot be read any more. What is shown is kept here; saving writes it again."
    elif document.is_dirty:
        text = f"{name} was changed by another program. Your edits stay; saving asks which to keep."
    elif parse_as(theirs, document.file).contents is None:
        text = f"{name} was changed by another program and cannot be read now. What is shown is as it was before."
    else:
        document.take_theirs()
        screen.show_all()
        undo = screen.key_of("undo")
        screen.notify(f"{name} was changed by another program and read again. {undo} shows it as before.", markup=False)
        return
    screen.notify(text, title="Changed on the disk", severity="warning", markup=False, timeout=12)
