"""English for the small words, the verdict, what was taken for granted, and what is going on."""

from __future__ import annotations

from collections.abc import Mapping

from foldproof.words.records import CommonWording, Counted, VerdictWording

COMMON = CommonWording(
    pair="{0} and {1}",
    comma=", ",
    and_more="{0} and {1} more",
    numbers=("none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"),
    about="about {0}",
    both_units="{0} ({1})",
    times="{0} by {1}",
    sentences=". ",
    millimetres="{0} mm",
    area_in="{0} sq in",
    area_cm="{0} cm²",
    area_mm="{0} mm²",
    angle="{0}°",
    turned_left="turned {0} to the left",
    turned_right="turned {0} to the right",
    not_turned="closed",
    percent="{0} %",
    grams="{0} g",
    ounces="{0} oz",
    weight="{0} gsm",
    layers=Counted(none="no layers", one="one layer", many="{count} layers"),
    at_most="at most {0}",
    at_least="at least {0}",
    none_allowed="none allowed",
    states={"holds": "holds", "look": "worth a look", "undecided": "not decided", "fails": "fails"},
    problem='{field} ("{value}"): {reason}. Try: {remedy}.',
    problem_without_value="{field}: {reason}. Try: {remedy}.",
)

VERDICT = VerdictWording(
    proved="Proved.",
    not_proved="Not proved: {title}.",
    not_decided="Not decided: {title}.",
    line_proved="It folds, it glues, it closes.",
    line_not_decided="Nothing that was found fails.",
    looks=Counted(
        none="",
        one="One thing is worth a look: {titles}.",
        many="{count} things are worth a look. {titles}.",
    ),
    fails=Counted(
        none="Nothing else fails.",
        one="One more check fails: {titles}.",
        many="{count} more checks fail. {titles}.",
    ),
)

# By code, and "code/choice" for one choice of how it is known or made.
ASSUMPTIONS: Mapping[str, str] = {
    "thickness": "thickness {high_mm}, the thick end of what you measured",
    "thickness/estimated": "thickness {high_mm}, the thick end of an estimate from the weight",
    "allowance": "allowance {allowance_mm} for the thickness of the card",
    "allowance/none": "allowance none",
    "allowance/computed": "allowance worked out from the thickness",
    "fingers": "fingers {finger_mm} wide and {finger_reach_mm} long",
    "marks": "every part as it is marked, on the board with {board}",
    "marks/none": "every part as it is marked, with a ruler",
    "contact": "parts may press into each other by {contact_mm}; each fold is looked at every {even_step_deg}",
    "class_version": "class version: wet glue takes the place of hot glue",
    "states": "at most {states_budget} half-made stages are tried",
}

STAGES: Mapping[str, str] = {
    "read": "Reading the project",
    "measure": "Measuring the pieces",
    "fit": "Looking for the best size",
    "photograph": "Reading the photograph",
    "lid_cover": "Looking where the lid covers best",
    "lid_size": "Looking for the best size of the lid",
    "lid_place": "Looking for the best place of the lid",
    "contact": "Trying what touches",
    "orders": "Looking for an order to fold and glue",
    "checks": "Checking",
    "mend": "Trying what would mend it",
    "pictures": "Drawing the steps",
    "sheets": "Laying out the sheets",
    "files": "Writing the files",
}
