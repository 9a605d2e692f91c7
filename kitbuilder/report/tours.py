"""The tour of each screen and dialog: what it shows, and what its numbers and words mean."""

from typing import NamedTuple


class Tour(NamedTuple):
    """What help says of a screen or a dialog before its keys."""

    shows: tuple[str, ...]
    """What is on it, a paragraph each, the most useful first."""
    means: tuple[tuple[str, str], ...] = ()
    """Its numbers and words, each with its meaning."""
    caution: str = ""
    """What to keep in mind here, in addition to the cautions that hold everywhere."""
    add: str = ""
    """What the key for adding does here, where it is there; its own sentence names all that it adds on any screen."""


SPREAD = ("± 0.5", "Of 100 such kits, the true value lies within this range in about 95.")
SIGNALS = (
    "DANGER …",
    "How bad a finding is: danger, warning, caution, notice. A danger or a warning can kill or injure; a caution can "
    "spoil a dive or an item; a notice is good to know.",
)
BUOYANCY = ("buoyancy", "Plus floats up, minus pulls down; in kg, as on a scale under water.")
LEAD = (
    "lead",
    "What makes the diver neutral at the last stop: near-empty cylinders, no gas in the wing. An estimate until a "
    "float check confirms it.",
)

TOURS = {
    "shelf": Tour(
        (
            "The kits of one folder, a row for each file. Below the list: the lead of the kit under the cursor, what "
            "would narrow it most, and its worst findings.",
            "Enter opens a kit on the bench. From here you also set two kits side by side, plan a changeover, and "
            "open the gear file.",
        ),
        (
            ("mass", "All items of the kit, dry, with cylinders filled."),
            LEAD,
            (
                "├──●──┤",
                "The same lead as a bar: the dot is the likeliest value, the ends its range. One scale for all kits.",
            ),
            ("worst", "The worst signal word of the kit, and what it is about. All findings stand on the bench."),
            SPREAD,
            ("* before a name", "The file has edits that were not saved. Open it to take them up or drop them."),
            ("~ before a name", "The file was changed by another program while the shelf was open; it was read again."),
        ),
    ),
    "bench": Tour(
        (
            "One kit, open for editing: its items, the form of the item under the cursor, figures, the hose at rest, "
            "and all findings.",
            "Enter on an item goes to its form; enter on a key of the form opens it. Figures and findings follow while "
            "you type. Nothing is written before you save.",
            "Enter on a finding goes to the item and the key that it is about.",
        ),
        (
            SIGNALS,
            ("mass, buoyancy", "Of this hose, of all hoses and of all items. Plus floats up, minus pulls down."),
            ("if rubber, if braided", "What all hoses would weigh if each had that body."),
            ("slack", "Length beyond the run in the position that decides; at rest: with the head straight."),
            ("bows out", "How far a hose with slack stands off from the straight line, where it can snag."),
            ("computed, preset", "Where a value comes from when the file does not say. What you write yourself wins."),
            SPREAD,
        ),
        add="Add an item below the one under the cursor.",
    ),
    "trip": Tour(
        (
            "A trip and how it is packed: its bags as scales, the items of the bag under the cursor, the form of what "
            "the cursor is on, and why an item is where it is.",
            "Enter on a bag goes to its items. Enter on an item asks where it goes: into another bag, where it is then "
            "pinned, rented there, or left at home. The rest is packed around it.",
            "Rows below the bags are limits of several bags, items without a place, what is rented or left, and legs.",
        ),
        (
            (
                "━━━━●─┤  │",
                "The mass of a packed bag and what it may be; the line is its limit, at the same place for all bags.",
            ),
            (
                "holds, home",
                "How likely the limit holds on the way out, dry, and on the way home, wet. In a narrow "
                "window one column: the less likely of the two.",
            ),
            ("pinned", "The trip file says which bag it goes into. Any bag, in the list of bags, takes that back."),
            ("by rule, only bag", "A rule of air travel decides; or no other bag takes it. Else bags are kept even."),
            ("packing …", "The packing is worked out beside the app. What is shown meanwhile says so."),
            SIGNALS,
            SPREAD,
        ),
        "Limits and rules differ and change: confirm them with the airline, and weigh each packed bag.",
        add="Add luggage, a bag, a leg or a rental.",
    ),
    "swaps": Tour(
        (
            "What is lighter: the swaps of a kit, what saves most first, and sets of swaps that no other set beats. "
            "Above them the figures as they are; below them what the swap or set under the cursor does.",
            "Enter tries what is under the cursor: the figures show what would be, and nothing is written. Right goes "
            "to the sets, whose letters stand in the picture too.",
            "Taking a swap edits the kit; it is saved on the bench. On a trip, what is rented becomes an entry of the "
            "trip file, not saved yet. Any other swap is written into the kit file at once, after a question that "
            "names it. Undo takes back both.",
        ),
        (
            ("saves", "By how much the bag gets lighter, dry; a cylinder counts without its gas."),
            ("lead there", "By how much the lead changes in the water there: plus is lead to carry in its place."),
            ("price", "As the stock file has it; what is owned costs nothing. Empty where no file says."),
            ("new", "The worst finding that the swap brings. Why shows it in full."),
            ("rented there", "A like item is rented instead of brought."),
            ("a, b, c", "The sets, in the list and in the picture; the sign at zero is the kit as it is."),
            SIGNALS,
            SPREAD,
        ),
        "Whether a lighter item does the same job for you is yours to judge. Dive it at home first.",
    ),
    "card": Tour(
        (
            "A card to carry where gear is rented: the lead for each cylinder that is likely there, in kilograms and "
            "pounds, the pieces to take, inlets, couplings, and how to make a float check.",
            "Copy it, or write it as a document to print: it fits on one small page.",
        ),
        (
            ("(rented)", "A cylinder that the trip names."),
            ("take, ready", "Pieces for the likely lead; pieces that hold the stop with a certainty of 95 %."),
            SPREAD,
        ),
        "What is rented is never quite what was ordered: check it, and make a float check on the first dive.",
    ),
    "spares": Tour(
        (
            "The spares to bring, from the parts of all kits of the trip: O-rings of their joints, plugs, tools, "
            "batteries, hoses. One list without doubles.",
            "How much is listed follows the key spares of the trip: none, day boat or remote.",
        ),
        (("× 2", "How many pieces to bring."), SPREAD),
        "Numbers and masses are common practice: weigh the bag.",
    ),
    "balance": Tour(
        (
            "The lead to take, the buoyancy over the dive, how the diver lies in the water, and the moments of the "
            "dive in a table.",
            "Ask for another water or other cylinders, a full wing, a flooded suit, lost stages or dropped lead. "
            "Asking changes no file.",
        ),
        (
            LEAD,
            BUOYANCY,
            ("take 2 × 2 kg", "The lead in pieces that the diver owns, the nearest to the lead needed."),
            ("stop", "The last stop, with the reserve in the cylinders: the lightest moment that has to be held."),
            ("kg·m", "How strongly the kit turns a level diver: kilograms times metres between weight and lift."),
            ("gas full, reserve", "The start and the end of the dive. Used gas makes the diver lighter."),
            SPREAD,
        ),
        "Confirm the lead in shallow water, with lead to spare.",
        add="Add a float check in this kit, on the diver's page.",
    ),
    "fit": Tour(
        (
            "Every hose on the body that wears it: the way it is led, the length it has and the length advised.",
            "Lay a string along a hose to measure its run; one measured run says more than any estimate. The advised "
            "length is taken with one key.",
        ),
        (
            ("run", "The length that the hose has to cover, in the position of head and arms that needs the most."),
            ("now, advised", "The length the file gives, and what to do: keep it, buy another, or measure first."),
            ("certain", "How likely the hose is long enough in every position."),
            ("slack", "Length beyond the run in the position that decides; at rest: with the head straight."),
            ("letters", "Each hose by its letter in list and picture, at the side of the body where it lies."),
            SPREAD,
        ),
        "Try every hose worn, with all that is worn under it.",
    ),
    "losses": Tour(
        (
            "What fails on the left: a valve, a first stage or a hose. On the right what still works then, and how "
            "fast the gas goes.",
        ),
        (
            ("3 of 6", "How many of the items that use gas still work: second stages, inflators, gauges."),
            ("gas left", "The part of all breathing gas that the diver can still reach."),
            ("minutes", "How long until a cylinder is empty if nobody closes its valve."),
        ),
        "Times rest on figures that nobody has measured. Practise closing valves.",
    ),
    "weigh-in": Tour(
        (
            "All items with mass and buoyancy, and where each value comes from. Put an item on the scale, type the "
            "reading and press enter, which goes on to the next item.",
            "Left and right choose what you type: the mass dry, or the buoyancy in fresh water.",
        ),
        (
            ("mass", "Dry, as on a scale on land."),
            ("in water", "Plus floats up, minus pulls down. A reading in fresh water is worked out for other water."),
            ("share of lead ±", "How much of the uncertainty of the lead this item causes. Weigh the largest first."),
            ("from", "Weighed, taken from a preset, or computed."),
            SPREAD,
        ),
    ),
    "gear screen": Tour(
        (
            "What is owned: a row for each item, its form, and below when it is due and which kits use it.",
            "The first row is the gear file itself. It says what is due next, and what the kits need in addition.",
        ),
        (
            SIGNALS,
            ("due", "When service, inspection or replacement is due, by its interval or by common practice."),
            ("on …", "The day for which all this is said. Choose the day of a trip to see what is due before it."),
            ("used", "The kits that name this item, with its name there."),
        ),
        "Intervals are common practice. The sheet of the maker comes first.",
        add="Add an item below the one under the cursor.",
    ),
    "diver's page": Tour(
        (
            "The diver: body, available lead, and float checks. Below the form: how a float check is made, or what the "
            "one under the cursor shows.",
            "A float check is worth more than any other measurement: it weighs diver, suit and kit in the water.",
        ),
        (
            ("estimated", "From stature, mass and sex, by a survey of bodies. A measure that you type wins."),
            ("lead sizes", "The pieces of lead that are available. Advice uses only these."),
            ("seen", "How diver and kit floated: neutral, or how much lead was added or taken off to be neutral."),
            SPREAD,
        ),
        "Make float checks on dives that need no stop, with a buddy.",
        add="Add a float check.",
    ),
    "fewest hoses": Tour(
        (
            "Mark the kits that are never used on the same dive. The smallest set of hoses that serves all of them is "
            "shown beside or below: each hose goes from kit to kit.",
            "While a set is looked for, all keys work; esc stops the search.",
        ),
        (
            ("9 hoses in place of 12", "The size of the set, and of all hoses of the marked kits."),
            ("own, buy", "Whether a hose is in the gear file, or has to be bought."),
            ("Proved", "No smaller set exists, by these rules. Without proof it is the best that was found in time."),
            ("+", "It fits with slack at rest: hold it in one more place, or stow the slack."),
        ),
        "Read thread and pressure class off each part before you move it.",
    ),
    "changeover": Tour(
        (
            "How one kit is rebuilt as another: a checklist, from what to have ready to the last checks.",
            "Tick a step when it is done. Ticks are kept beside the kits, also when the app ends.",
        ),
        (
            (
                "Undo 13 joints, make 12",
                "Every joint that is loosened or made counts once. Often it is proved that no plan takes less.",
            ),
            ("Fetch", "Parts that come from the gear file, each with the name it takes in the new kit."),
            ("0 of 79 done", "Ticked steps, and all steps."),
        ),
        "Depressurise first. A leak check and a function check follow every change of hoses.",
    ),
    "side by side": Tour(
        (
            "Two to four kits, matched by what the parts do: a long hose and an octopus are both given. A star stands "
            "before each line that differs. What is the same in all kits is counted below; a key shows it.",
            "The sums stand below, with the difference from the first kit, and the findings that not every kit has.",
        ),
        (
            BUOYANCY,
            (
                "breathed, given, kept",
                "The second stage breathed during the dive, the one handed to a diver without gas, "
                "and the one breathed then.",
            ),
            ("difference", "Its ± is smaller than that of the two kits where both share a source, such as the diver."),
            SPREAD,
        ),
    ),
    "pair": Tour(
        (
            "Two or three divers who dive together. On top: what you must agree on before the dive, the gravest first. "
            "Enter says why and what to do.",
            "Below, a row per diver: who hands over which second stage, on which hose, and whether it reaches the "
            "other's mouth; gas and reserves; what fits the other's kit; lead and lift; single items.",
        ),
        (
            SIGNALS,
            ("220 bar (3191 psi)", "The diver's own units first, as the diver file says, then the other ones."),
            (
                "+5 cm, −2 cm",
                "Hose to spare, or missing, from port to mouth, with both bodies laid out.",
            ),
            ("reserve on the other's gauge", "What the other's cylinder would show if it held this reserve."),
            ("assumed air, assumed 50 bar", "The kit file does not give this value; a usual one stands for it."),
            ("greatest pull down", "What pulls this diver down at the heaviest moment, with an empty wing or jacket."),
            (
                "other's lift less this pull",
                "What the full wing or jacket of the other has left with this diver alone.",
            ),
            ("other's lift less both pulls", "What it has left with both divers, each at the heaviest moment."),
        ),
        "How much gas brings both up from the deepest point is not planned here.",
    ),
    "problems": Tour(
        (
            "A file that cannot be read: everything that is wrong with it, with the line, what was found, and what is "
            "accepted there.",
            "Fix the file in a text editor, then read it again here. The app does not change it.",
        ),
        (("line 3", "The line of the file, counted from 1."),),
    ),
    # ---- dialogs ----
    "question": Tour(
        (
            "A question with a few answers. Nothing happens before you take one; esc takes none.",
            "A letter moves the cursor to its answer and enter gives it, so that a word typed by chance answers "
            "nothing. The first answer loses nothing and changes no file that is there.",
        )
    ),
    "list": Tour(
        (
            "A list to choose from. Type words to narrow it; up and down move the cursor; enter takes the row; esc "
            "changes nothing.",
        )
    ),
    "line": Tour(
        ("A line to type in. Below it stands what is wrong, or what enter will do. Esc changes nothing.",),
        (("4'2\", 75CM, 1,5 kg", "Numbers may have any usual unit, letter case and decimal sign."),),
    ),
    "page": Tour(("A page to read. It scrolls; esc closes it.",)),
    "path": Tour(
        (
            "The path of a hose, landmark by landmark, from its port to its other end. Enter puts another landmark in "
            "place of the one under the cursor.",
        ),
        add="Add a landmark.",
    ),
    "new trip": Tour(
        (
            "Four questions about a trip: what may fly, what is rented, which water, and when. Enter takes the usual "
            "answer. Everything can be changed later in the trip file.",
        ),
    ),
    "new kit": Tour(
        (
            "A few questions, each with a default. Enter takes the row under the cursor, or what is typed; \"don't "
            'know" is an answer. Esc goes back one question; from the first it leaves without a new kit.',
        )
    ),
}
"""Every tour by the name of its screen or dialog."""
