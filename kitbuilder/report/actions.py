"""Every action of the screens: one id, one meaning, one name and the same keys wherever it is offered.

Letters look and go: they open a screen or a dialog, or change what is shown. What changes or writes a file has a sign,
a control key or a named key, so that a word typed into a list never edits.
"""

from typing import NamedTuple


class Action(NamedTuple):
    """What can be done on a screen, the same on every screen that offers it."""

    id: str
    """Its stable name, by which a user gives it other keys."""
    keys: str
    """The keys, separated by commas, as Textual names them."""
    name: str
    """What it is called in footer, help and palette."""
    sentence: str
    """What it does, for help and palette."""
    call: str = ""
    """What Textual calls where that is not the id: `action_...` of the screen."""
    display: str = ""
    """The key as the footer shows it, where Textual would spell it out."""
    edits: bool = False
    """Whether it changes or writes a file without asking first."""


ACTIONS = {
    each.id: each
    for each in (
        # ---- on every screen ----
        Action("open", "enter", "Open", "Open, edit or choose what is under the cursor.", call="select"),
        Action("back", "escape", "Back", "Go back to where you came from.", display="esc"),
        Action("keys", "question_mark,f1", "Help", "Explain what is shown, and list every key.", display="?"),
        Action("menu", "colon,ctrl+p", "Menu", "List every action, theme and command.", "app.command_palette", ":"),
        Action("units", "m", "Units", "Show metric or imperial units."),
        Action("origins", "o", "Origins", "Show where these figures come from, and how far to trust them."),
        Action("reload", "g,f5", "Read again", "Read the file or the folder again."),
        Action("quit", "q,ctrl+q", "Quit", "Leave kitbuilder.", call="app.quit", display="q"),
        # ---- lists ----
        Action("filter", "slash", "Filter", "Show only the rows that have the words you type.", display="/"),
        Action("sort", "z", "Sort", "Sort the list by another column."),
        Action("copy", "y", "Copy", "Copy the row under the cursor, the page, or what the mouse has selected."),
        Action("mark", "space", "Mark", "Mark this kit, or tick this step; once more takes the mark back."),
        Action("next", "full_stop", "Next", "Go to the next finding, or the next step that is not done.", display="."),
        Action("left", "left", "Left", "Go to the list or column on the left.", display="←"),
        Action("right", "right", "Right", "Go to the form or column on the right.", display="→"),
        Action("explain", "x", "Why", "Read the finding under the cursor in full."),
        # ---- screens ----
        Action("side_by_side", "b", "Side by side", "Set this kit beside another, or two to four marked kits."),
        Action("pair", "p", "Pair", "What two or three divers must agree on before the dive."),
        Action("changeover", "c", "Changeover", "Checklist to rebuild this kit as another."),
        Action("fewest", "f", "Fewest hoses", "The smallest set of hoses that serves several kits."),
        Action("gear", "l", "Gear", "The items owned: dates, state, and where each is used."),
        Action("balance", "d", "Balance", "Lead, buoyancy over the dive, and trim."),
        Action("fit", "t", "Fit", "Every hose on the body, and the length it should have."),
        Action("losses", "v", "Losses", "What still works when a valve, a first stage or a hose fails."),
        Action("swaps", "L", "Lighter", "Swaps: what is lighter to travel with, and what each costs."),
        Action("card", "K", "Card", "The card to carry where gear is rented: lead, inlets, couplings."),
        Action("spares", "V", "Spares", "The spares to bring on this trip, and what each is for."),
        Action("changes", "H", "Changes", "What the edits since the last save changed, and what follows from them."),
        Action("weigh_in", "w", "Weigh-in", "All items in a table; type what the scale reads."),
        Action("diver", "e", "Diver", "The diver's page: body, lead available, float checks."),
        # ---- dialogs ----
        Action("new", "n", "New", "Make a new kit by answering a few questions."),
        Action("add", "a", "Add", "Add an item, a float check or a landmark."),
        Action("new_trip", "T", "New trip", "Plan a trip with this kit, or with the marked kits."),
        Action("into_bag", "I", "Into a bag", "Choose the bag of this item, or that it is rented or left at home."),
        Action("demo", "E", "Demo kits", "Copy the demo kits into a folder of their own, and show them."),
        Action("open_other", "O", "Open another", "Open another folder, or a file."),
        Action("rename", "R", "Rename", "Give this file another name."),
        Action("save_as", "S", "Save as", "Write to a new file."),
        Action("measure", "M", "Measure", "Measure this hose's run with a string, step by step."),
        Action("route", "r", "Route", "Choose the route of this hose over the body."),
        Action("path", "P", "Path", "Edit this hose's path by landmarks."),
        Action("day", "D", "Day", "Choose the day for which due dates are checked."),
        Action("export", "Y", "Export", "Copy the list or the page, or write the page to a file."),
        Action("document", "greater_than_sign", "Document", "Write the page to a file: HTML, Markdown, CSV or text."),
        Action("begin_again", "N", "Begin again", "Take back all ticks."),
        Action("to_buy", "s", "To buy", "What to buy, with threads and ends."),
        Action("supplies", "u", "Supplies", "Spanners, O-rings and plugs to have ready, and parts to buy."),
        Action("parts", "i", "Parts", "What happens to each hose, first stage and device."),
        # ---- what is shown ----
        Action("water", "W", "Water", "See the lead in another water."),
        Action("cylinders", "C", "Cylinders", "See the lead with other cylinders."),
        Action("axis", "A", "Axis", "Draw the buoyancy over depth, or as the gas is used."),
        Action("wing_full", "1", "Wing full", "See a full bladder, or an empty one.", "switch('wing_full')"),
        Action("suit_flooded", "2", "Suit flooded", "See the drysuit full of water.", "switch('suit_flooded')"),
        Action("lead_dropped", "3", "Lead dropped", "See all droppable lead gone.", "switch('lead_dropped')"),
        Action("stages_lost", "4", "Stages lost", "See the stages gone.", "switch('stages_lost')"),
        Action("as_it_is", "0", "As it is", "Back to the kit as its file says."),
        Action("try_out", "G", "Try", "See the figures with this swap or set; once more shows them as they are."),
        Action("hide_equal", "h", "Equal rows", "Show what is the same in all kits too, or only what differs."),
        Action("swap", "X", "Swap", "Swap left and right; of more kits, the first goes behind the last."),
        Action("order", "Z", "Order", "What comes first: the fewest, the lightest or the cheapest."),
        Action("any_body", "B", "Hose body", "Let hoses have any body, or only that of their kit."),
        Action("source", "F", "Source", "Use hoses that are owned, hoses from shops, or both."),
        # ---- editing ----
        Action("save", "ctrl+s", "Save", "Write the file.", edits=True),
        Action("undo", "ctrl+z", "Undo", "Take back the last edit.", edits=True),
        Action("redo", "ctrl+y", "Redo", "Make the undone edit again.", edits=True),
        Action(
            "remove", "delete,backspace", "Remove",
            "Remove what is under the cursor: an item, a value of the form, a reading, a landmark.",
            display="del", edits=True,
        ),
        Action("duplicate", "ctrl+d", "Duplicate", "Copy this item below itself.", edits=True),
        Action("move_down", "shift+down", "Move down", "Move this item or landmark down.", "move(1)", edits=True),
        Action("move_up", "shift+up", "Move up", "Move this item or landmark up.", "move(-1)", edits=True),
        Action("longer", "plus", "Longer", "Next longer stock length for this hose.", display="+", edits=True),
        Action("shorter", "minus", "Shorter", "Next shorter stock length for this hose.", display="-", edits=True),
        Action("unpin", "ctrl+u", "Unpin", "Let the packing choose the bag of this item again.", edits=True),
        Action("take", "ctrl+t", "Take", "Take what is advised, shown or tried: a length, a path, a swap.", edits=True),
    )
}  # fmt: skip
"""Every action by its id, in the order of the help page."""


def action_ids() -> tuple[str, ...]:
    """List the ids of all actions, for settings that give them other keys."""
    return tuple(ACTIONS)
