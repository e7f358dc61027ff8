"""English: the workbench: its sentence, its recipe, its pages, and what it refuses.

In a sentence every name in braces is a phrase that can be changed; what stands between is its own. What follows a
phrase in square brackets is said unless the phrase is left open: then the phrase says it itself.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from foldproof.words.tables import table


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkbenchWords:
    """What the workbench says that is not the proof's, the steps' or the booklet's."""

    # --- The sentence --------------------------------------------------------------------------------------------

    sentences: Mapping[str, str] = table(
        {
            "double-wall tray": "A {construction}, {base_length}[ long], {base_width}[ wide] and {wall_height}[ tall], "
            "its inner walls {inner_wall}",
            "double-wall tray/square": "A {construction}, {base_length} {base_width} and {wall_height}[ tall], "
            "its inner walls {inner_wall}",
            "plain tray": "A {construction}, {base_length}[ long], {base_width}[ wide] and {wall_height}[ tall], {lid}",
            "plain tray/square": "A {construction}, {base_length} {base_width} and {wall_height}[ tall], {lid}",
            "turning lid": "closed by a {shape} with {lobes}, {across}[ across], "
            "that turns on {fastener} in the {corner} corner",
            "turning lid/plain": "closed by a {shape}, {across}[ across], that turns on {fastener} in the "
            "{corner} corner",
        }
    )
    usual_sentence: str = "A {construction}"
    card: str = "from {sheet} of {weight} {name} cardstock"
    card_plain: str = "from {sheet} of {name} cardstock"
    card_nameless: str = "from {sheet} of {weight} {name}"
    content: str = "to hold {length} by {width} by {height}"
    join: str = ", "
    end: str = "."
    square: str = "square"
    open_phrases: Mapping[str, str] = table(
        {
            "base_length": "as long as it can be",
            "base_width": "as wide as it can be",
            "wall_height": "as tall as it can be",
            "inner_wall": "as deep as they can be",
            "across": "as small as it can be",
        }
    )
    open_phrase: str = "worked out"
    sheet: str = "one {size} sheet"
    articles: Mapping[str, str] = table({"brad": "a brad", "eyelet": "an eyelet", "snap": "a snap"})
    lids: Mapping[str, str] = table({"none": "without a lid", "lift-off": "with a lid that lifts off"})
    full_walls: str = "as tall as the walls"
    degrees: str = "{degrees}°"

    # --- What each phrase is about -------------------------------------------------------------------------------

    labels: Mapping[str, str] = table(
        {
            "cardstock.sheet": "the sheet it is sold as",
            "cardstock.weight": "the weight on the packet",
            "cardstock.name": "what you call this card",
            "cardstock.thickness": "how thick it is, as measured",
            "content.length": "what goes in, left to right",
            "content.width": "what goes in, front to back",
            "content.height": "what goes in, how tall",
            "teach.hand": "the hand you work with; left draws folded pieces from the other front corner",
            "teach.version": "who makes it; a class has wet glue for hot glue, and a teacher who cuts",
        }
    )
    units: Mapping[str, str] = table({"mm": "mm", "mm2": "mm²", "deg": "°", "%": "%", "g/m2": "gsm"})
    value_labels: Mapping[str, str] = table({"shape": "its shape: one of these, or one of your own"})
    more_titles: Mapping[str, str] = table(
        {
            "part": "More about the {part}",
            "alternative": "Instead of the {of}: the {part}",
            "cardstock": "More about the card",
            "papers": "The papers for its sides",
            "content": "What it must hold",
            "project": "Board, ruler, and how it is taught",
            "limits": "The limits it is judged by",
        }
    )
    build: Mapping[str, str] = table(
        {
            "add_lid": "Close it with a lid that turns",
            "add_lid/several": "Close the {part} with a lid that turns",
            "take_off_lid": "Take the {part} off",
            "take_off_alternative": "Offer no {part} instead",
            "add_layer": "Add a layer to the {part}",
            "take_off_layer": "Take layer {number} off",
            "add_content": "It must hold something",
            "take_out_content": "It need not hold anything",
            "add_papers": "Papers for its sides",
            "take_off_papers": "No papers for its sides",
        }
    )
    new_papers: str = "patterned paper"
    shapes_goal: str = "Which of my shapes cover the box"
    others_goal: str = "The lid in other shapes, for people without its die"
    as_the_lid: str = "as the lid it stands in for"
    counted: Mapping[str, tuple[str, str]] = table(
        {
            "lobes": ("one lobe", "{count} lobes"),
            "points": ("one point", "{count} points"),
            "sides": ("one side", "{count} sides"),
        }
    )

    # --- The recipe ----------------------------------------------------------------------------------------------

    cut_one: str = "Cut one piece"
    cut_some: str = "Cut {count} pieces"
    of_sheet: str = "{other}, from a {sheet} sheet"
    score: str = "Score from one edge, at"
    score_turned: str = "Turn a quarter, and score again at"
    on_grooves: str = "every one falls on a groove of your board"
    on_ruler: str = "ticked with a ruler: your board has no groove there"
    on_both: str = "{count} of {all} fall on a groove; tick the others with a ruler"
    cut_away: str = "Cut"
    across: str = "{size} across"
    sheet_alt: str = "{piece} on the scoring board: {words}"
    layer: str = "Layer {number}, counted from the lowest"
    not_given: str = "not given"
    list_join: str = ", "
    no_board: str = "ticked with a ruler, and scored with a bone folder"

    # --- The page ------------------------------------------------------------------------------------------------
    # What the page itself says, by key. Names in braces are filled in by the page.

    page: Mapping[str, str] = table(
        {
            "brand": "Foldproof",
            "skip": "Skip to the design",
            "nav": "Ways through the workbench",
            "projects": "My projects",
            "shapes": "Shapes",
            "share": "Share",
            "make": "Make the pack",
            "name": "What it is called",
            "sentence": "The design",
            "notes": "Notes on what changed",
            "undo": "Undo",
            "redo": "Redo",
            "compare": "Compare two notes",
            "close": "Close",
            "or": "or {other}",
            "range": "From {least} to {most}.",
            "shorter": "Shorter:",
            "longer": "Longer:",
            "less": "Less by {step}",
            "more_by": "More by {step}",
            "leave_out": "Leave it out",
            "my_own_shape": "A shape of my own, from a photograph or a drawing",
            "build": "Add to it, or take off",
            "fit": "Sizes that work out",
            "fit_note": "Say what you wish for, and the best answers on your own grooves stand below. Nothing "
            "changes until "
            "you take one.",
            "fit_looking": "Looking…",
            "fit_take": "Take it",
            "fit_take_number": "Take answer {number}",
            "leave_open": "Leave it open: work it out for me",
            "worked_out": "Worked out: {text}, {other}.",
            "not_worked_out": "It cannot be worked out. {why}",
            "fix_at": "Fix it at {text}",
            "back_to_usual": "Back to what is usual: {usual}",
            "proved": "Proved.",
            "not_proved": "Not proved.",
            "not_decided": "Not decided.",
            "checking": "Checking…",
            "checking_line": "Folding it, closing it and turning its lid.",
            "cannot": "It cannot be made yet.",
            "read_proof": "Read the proof",
            "fold": "The finished thing, step by step",
            "fold_alt": "The folded thing, drawn from its measures",
            "lid": "The lid from above",
            "sheet": "The sheet on the scoring board",
            "recipe": "To cut and score",
            "proof": "The proof, worst first",
            "proof_note": "Measured on this very design, after your last change.",
            "what_tried": "what was tried",
            "measured": "measured",
            "limit": "limit",
            "state": "how it stands",
            "holds": "holds",
            "look": "worth a look",
            "undecided": "not decided",
            "fails": "fails",
            "show_me": "Show me",
            "show_me_what": "Show me: {title}",
            "mend": "Mend it: {change}",
            "mending": "Looking for what would mend it…",
            "no_mend": "No single change that was tried mends this.",
            "also_hold": "{count} more were tried, and hold",
            "granted": "What is taken for granted",
            "more": "The small print",
            "more_note": "Everything else that can be changed. What is grey is as usual.",
            "merged": "Another window changed this too. Both changes are kept: {what}",
            "clash": "Another window changed this too: it says {theirs}, you wrote {mine}. Which one counts?",
            "keep_mine": "Mine: {mine}",
            "keep_theirs": "The other: {theirs}",
            "offline": "The workbench does not answer. Your last change is not saved. Start it again, and press "
            "“Try again”.",
            "again": "Try again",
            "ribbon_proved": "Proved",
            "ribbon_not": "Not proved: {title}",
            "step_of": "Step {number} of {count}",
            "back": "Back",
            "on": "On",
            "play": "Play from the start",
            "stop": "Stop",
            "turn_view": "Look from another side: drag, or use the arrow keys",
            "within_step": "Within the step",
            "lid_knob": "Turn the lid",
            "lid_said": "turned {deg} degrees, {share} percent uncovered",
            "lid_move": "Move the closed lid over the box",
            "lid_moved": "moved {right} to the right and {back} back, margin {margin}",
            "close_lid": "Closed",
            "open_lid": "Opened",
            "closed_hint": "Drag the lid to move it over the box, its knob to turn it.",
            "open_hint": "Drag the lid to turn it.",
            "hole_is": "The hole is {size} from the inner corner. Drag it too.",
            "hole_right": "The hole is {size} from the inner corner, and {aside} to the right of its diagonal. "
            "Drag it too.",
            "hole_left": "The hole is {size} from the inner corner, and {aside} to the left of its diagonal. "
            "Drag it too.",
            "no_margin": "none",
            "margin_asked": "at least {size} is asked, {better} is better",
            "hole_knob": "Move the hole",
            "hole_said": "the hole {size} from the corner, margin {margin}",
            "uncovered": "uncovered",
            "margin": "margin, when closed",
            "turned": "turned {deg}°",
            "box_beneath": "box beneath",
            "hole": "hole",
            "resize": "Make one in another size",
            "copy": "Copy it",
            "ways_on": "Ways on",
            "make_line": "Templates, booklet, card and cut files, ready to print.",
            "resize_line": "The same design in another size, kept as a new project.",
            "shapes_line": "Photograph a shape or bring a drawing, and keep it as a lid.",
            "projects_line": "Everything you keep, on this machine and nowhere else.",
            "home_title": "My projects",
            "home_line": "Kept on this machine, every version of them. Nothing leaves it unless you send it.",
            "none_kept": "Nothing here yet.",
            "begin": "Begin something new",
            "begin_with": "Begin with",
            "begin_example": "Begin with a finished example",
            "begin_do": "Begin",
            "begin_unit": "You measure in",
            "unit_in": "inches",
            "unit_cm": "centimetres",
            "begin_name": "What you will call it",
            "bring_in": "Bring in a file",
            "bring_in_line": "A project file that someone sent you, or that you saved.",
            "copy_do": "Copy",
            "rename_do": "Rename",
            "rename_to": "New name",
            "archive_do": "Put away",
            "restore_do": "Take out again",
            "remove_do": "Throw away",
            "remove_sure": "Throw {name} away? It can be taken back from the bin.",
            "remove_yes": "Yes, throw it away",
            "remove_no": "No, keep it",
            "send_do": "Save as a file",
            "put_away": "Put away",
            "the_bin": "In the bin",
            "take_back": "Take it back",
            "changed": "changed {when}",
            "verdict_unknown": "not tried yet",
            "verdict_open": "cannot be made yet",
            "trouble_title": "That is not here",
            "trouble_with": "It cannot be opened: {why}",
            "of_name": "{what}: {name}",
            "tour": "Three minutes to a first box",
            "tour_line": "A short way round that makes one with you.",
            "tour_begin": "Begin the tour",
            "tour_next": "Next",
            "tour_back": "Back",
            "tour_end": "End the tour",
            "tour_of": "{number} of {count}",
            "tour_1": "This sentence is your box. Every underlined phrase is a size or a choice, and a press "
            "changes it.",
            "tour_2": "Press how tall it is. Type another height, such as 1 3/4, and press Enter.",
            "tour_3": "Below the sentence is the verdict. The box was folded, closed and tried after your change. "
            "If something fails, what would mend it stands under it: one press does it.",
            "tour_4": "Here it is, step by step. Press “Play from the start”, or drag to look from another side.",
            "tour_5": "This is what to cut, and where to score it on your board. Large numbers are for the table.",
            "tour_6": "“Undo” takes back anything, as often as you like. Every version is kept.",
            "tour_7": "When it is proved, “Make the pack” gives you the pages to print. That is all.",
            "notes_title": "Notes on {name}",
            "notes_line": "Every version, newest first. Choose two to see them side by side.",
            "first": "the one",
            "second": "the other",
            "side_by_side": "Side by side",
            "no_difference": "Nothing differs.",
            "go_to": "Go back to this one",
            "back_to_design": "Back to the design",
            "this_value": "what",
            "version": "Note {number}",
            "current": "as it is now",
            "make_title": "The pack of {name}",
            "make_begin": "Every page to print, cut and publish, made from the design as it stands.",
            "make_do": "Make the pack",
            "make_again": "Make it again",
            "hand_right": "a right hand",
            "hand_left": "a left hand",
            "version_full": "makers at home",
            "version_class": "a class: no hot glue, and a teacher who cuts",
            "make_hand": "The hand it is drawn for",
            "make_version": "Who makes it",
            "make_stop": "Stop",
            "making": "Making it: {stage}",
            "made": "It is made: {count} files.",
            "make_stopped": "Stopped. Nothing was changed.",
            "make_failed": "It could not be made. {why}",
            "make_not_proved": "This design is not proved. Every page will say so.",
            "make_old": "The design has changed since. Make it again for the newest pages.",
            "download_all": "Save all of it",
            "print_title": "Print in true size",
            "print_1": "Open a page below, and print it from there at 100 %: “actual size”, not “fit to page”.",
            "print_2": "Lay a ruler on the check line of the printed page. It says how long it must be.",
            "print_3": "Too long or too short? Look for the size in the print window again, and print that page "
            "once more.",
            "open_file": "Open {file}",
            "save_file": "Save {file}",
            "more_pages": "{count} more pages",
            "page_of": "{file}, page {page} of {pages}",
            "kind_read": "To read and to teach",
            "kind_print": "To print in true size",
            "kind_cut": "For cutting machines",
            "kind_post": "Pictures and text to publish",
            "kind_lists": "Lists and the proof",
            "stage_prove": "proving it",
            "stage_mend": "looking for what would mend it",
            "stage_sheets": "score plans and templates",
            "stage_pictures": "drawing the steps",
            "stage_booklet": "setting the booklet",
            "stage_files": "writing the files",
            "shapes_title": "My shapes",
            "shapes_intro": "Shapes you own, to make lids of. Lay a cut shape flat on a sheet of paper, take a "
            "photograph of "
            "the whole sheet from above, and drop it here. A vector drawing does too.",
            "drop": "Choose a photograph or a drawing, or drop it here",
            "sheet_size": "The paper it lies on",
            "drawing_unit": "Units, when the drawing has none",
            "tracing": "Reading it…",
            "trace_title": "Is this its outline?",
            "trace_note": "The line should follow the edge all round. If the paper's corners are off, drag them "
            "and read it again.",
            "trace_drawing": "This is what the drawing holds, at its own size.",
            "read_again": "Read it again with these corners",
            "corner": "Corner {number} of the paper",
            "accuracy": "good to {size}",
            "across_words": "{widest} at its widest, {narrowest} at its narrowest",
            "symmetric_found": "It looks {fold} times the same round. Keep it evened out.",
            "mirror_found": "It looks the same on both sides. Keep it evened out.",
            "choose_outline": "Several shapes were found. Which one?",
            "outline_number": "Shape {number}, {size}",
            "shape_name": "What you call it",
            "shape_source": "Where it comes from",
            "shape_sizes": "Sizes you own, from tip to tip",
            "shape_accuracy": "How near to the line to keep",
            "trim_title": "Cut some of it off",
            "trim_note": "Draw a straight line over the shape with a finger or the mouse, or write its two ends in mm. "
            "The larger piece stays.",
            "trim_write": "The two ends of a cut, in mm from the lower left",
            "trim_do": "Cut there",
            "trim_back": "Take the last cut back",
            "trim_picture": "The shape as it was read, {size}, with its cuts",
            "shape_replace": "There is one of this name: put this one in its place",
            "shape_keep": "Keep it",
            "shape_kept": "Kept: {name}.",
            "shelf": "On the shelf",
            "shelf_empty": "No shapes yet.",
            "use_in": "Make it the lid of",
            "use_do": "Use it",
            "share_title": "Share on the local network",
            "share_intro": "Another tablet or computer in this room can open the workbench too. It sees and "
            "changes everything "
            "you keep here, so share it only with people you trust, and stop when you are done.",
            "share_begin": "Begin to share",
            "share_end": "Stop sharing",
            "share_address": "Open this address on the other device",
            "share_code": "and give this code. It lets in one device, then it changes.",
            "share_guests": "Devices let in: {count}",
            "share_ended": "Sharing was ended: too many wrong codes were given.",
            "share_only_here": "Sharing is begun and ended on the machine itself.",
            "join_title": "Come in",
            "join_line": "Give the code that the other screen shows.",
            "join_code": "Code",
            "join_do": "Come in",
            "join_wrong": "That is not the code. It may have changed: look again.",
            "resize_title": "{name} in another size",
            "resize_intro": "A new project of the same series. The first one stays as it is.",
            "resize_do": "Make it",
        }
    )

    # --- Steps that only the moving picture has ------------------------------------------------------------------

    turn_lid: str = "Turn the lid"
    turn_lid_text: str = "It turns about its hole, and the box is open."
    bring: str = "Put {piece} in its place"
    bring_text: str = "Carry {piece} over, and lower it to where it belongs."

    # --- Beginning -----------------------------------------------------------------------------------------------

    new_name: str = "My box"
    tour_name: str = "A first box"
    copy_name: str = "{name}, copied"
    by: str = " × "
    sized_from: str = "made from {name}, in another size"
    outgrows: str = "the piece would outgrow the sheet"

    # --- What the workbench itself refuses -----------------------------------------------------------------------
    # By the field that it is told of, with a reason and a remedy.

    refusals: Mapping[str, tuple[str, str]] = table(
        {
            "address": ("is not here", "go to My projects"),
            "origin": ("is no page of this workbench", "open the workbench at its own address"),
            "host": ("is no address of this workbench", "open it at its own address"),
            "guest": ("this device has not been let in", "open the address again and give the code"),
            "request": ("is not what a page of this workbench sends", "load the page again"),
            "file/large": ("is larger than what is read, or comes too slowly", "send a smaller one"),
            "file/empty": ("is empty", "choose a photograph or a drawing"),
            "file/pack": ("is not in this pack", "choose one that is listed"),
            "answer/slow": ("took too long", "try again, or make the design simpler"),
            "answer/many": ("has to wait: the machine is busy with other packs", "try again in a minute"),
            "answer/newer": ("was overtaken by a newer question", "nothing is to be done"),
            "answer/broken": (
                "could not be worked out, by a fault of the program",
                "undo the last change, and report it",
            ),
            "sharing": ("is begun and ended on the machine itself", "go to that machine"),
            "network": ("is not there, or holds this address already", "join the room's network, and try again"),
            "code": ("is not the code", "look at the other screen again: it may have changed"),
            "version": ("is no number of a version", "load the page again"),
            "changes": ("are no changes of values", "load the page again"),
            "value/long": ("is too long", "write something shorter"),
            "from": ("is nothing to begin with", "choose one that is listed"),
            "unit": ("is no unit", "write in or cm"),
            "pack": ("is not there any more", "make it again"),
            "points": ("are no outline", "read the file again"),
            "project": ("has no lid that turns", "choose a project that has one"),
        }
    )
