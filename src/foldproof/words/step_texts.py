"""English for the steps, by their codes: one verb first, what to see, and one thing to do if it is not so.

Fold steps are by ``family/plain`` or ``family/glued``. Fields: ``{parts}`` all that is folded, ``{first}`` the first of
them, ``{put}`` and ``{press}`` from the adhesive; in bench steps ``{piece}`` and ``{lengths}``.
"""

from __future__ import annotations

from collections.abc import Mapping

from foldproof.words.records import AdhesiveWording, StepWording

BENCH_STEPS: Mapping[str, StepWording] = {
    "cut_piece": StepWording(
        title="Cut the piece for {piece}",
        text="Cut a piece of cardstock, {lengths}. Use a sharp blade and a straight edge.",
        check="The corners are square and the sides have the right size.",
        if_not="Trim the long side. If the piece is too small, cut a new one.",
        caution="knife",
    ),
    "score_one_way": StepWording(
        title="Score {piece} one way",
        text="Lay the piece with its inside up. The side near you is the front. "
        "Pencil a cross at bottom left. Score at {lengths}, all from the left edge.",
        check="The score lines run from edge to edge.",
        if_not="Go over a faint line again, with the same edge against the stop.",
    ),
    "score_other_way": StepWording(
        title="Turn {piece} and score again",
        text="Turn the piece one quarter to the right. Score at {lengths}, all from the left edge.",
        check="The score lines cross and make square corners.",
        if_not="If a line is off, check that you turned the piece only once.",
    ),
    "cut_corners": StepWording(
        title="Cut away the corners of {piece}",
        text="Turn the piece back: the cross is at bottom left. Cut away the waste that is hatched. "
        "Keep four tabs, each {lengths} long. Slant their ends.",
        check="Four tabs are left, two at the back and two at the front.",
        if_not="If a tab came off, tape a new one to the inside of its wall.",
        caution="knife",
    ),
    "work_folds": StepWording(
        title="Fold every score line of {piece}",
        text="Fold each score line toward you, one at a time. Run a bone folder along it. Let it open again.",
        check="Every fold moves freely and lies on its line.",
        if_not="If a fold wanders, score that line again and fold it against a rule.",
    ),
    "papers_walls": StepWording(
        title="Glue the papers to the walls of {piece}",
        text="Spread a thin film of glue on the back of each paper. Lay it on the outside of its wall, "
        "as far from the base as from both ends. Press it flat from the middle outwards.",
        check="Card shows along every edge, and no corner of a paper lifts.",
        if_not="If a paper is askew, slide it while the glue is wet.",
    ),
    "papers_base": StepWording(
        title="Lay the paper into {piece}",
        text="Spread a thin film of glue on the back of the paper. Lower it in, one end first, and press it flat.",
        check="The same border of card shows on all four sides.",
        if_not="If it catches on a wall, trim a sliver from that side.",
    ),
    "papers_lid": StepWording(
        title="Glue the paper to the top of {piece}",
        text="Spread a thin film of glue on the back of the paper. Lay it on the outside of the top. "
        "Press it flat from the middle outwards.",
        check="The same border of card shows on all four sides.",
        if_not="If the paper is askew, slide it while the glue is wet.",
    ),
    "papers_layer": StepWording(
        title="Glue the paper to {piece}",
        text="Spread a thin film of glue on the back of the paper. Lay it on {piece}, with the same border all round. "
        "Press it flat from the middle outwards.",
        check="The same border of card shows all round.",
        if_not="If the paper is askew, slide it while the glue is wet.",
    ),
    "lid_on": StepWording(
        title="Put the lid on",
        text="Hold the lid level over the tray. Lower it slowly with both hands.",
        check="The lid slides down on all four sides.",
        if_not="If it sticks, press the corners of the tray in a little.",
    ),
}

FOLD_STEPS: Mapping[str, StepWording] = {
    "tabs/plain": StepWording(
        title="Fold up {parts}",
        text="Fold {parts} toward you, to a square corner.",
        check="Each tab stands up by itself.",
        if_not="If a tab falls back, fold it flat once and let it open.",
    ),
    "tabs/glued": StepWording(
        title="Glue {parts}",
        text="{put} Fold {first} round the corner, onto the side wall. {press}",
        check="Each tab lies flat on its side wall.",
        if_not="If a tab stands off, hold it with a clip for a while.",
    ),
    "tabbed_walls/plain": StepWording(
        title="Fold up {parts}",
        text="Fold {parts} up. Let their tabs turn the corners and point along the sides.",
        check="Each tab stands along a side of the base.",
        if_not="If a tab points out, fold it in again.",
    ),
    "tabbed_walls/glued": StepWording(
        title="Glue {parts}",
        text="{put} Swing {first} up, with its tabs inside the side walls. {press}",
        check="The corners are closed and the rims meet.",
        if_not="If a corner gapes, hold it with a clip for a while.",
    ),
    "glued_walls/plain": StepWording(
        title="Fold up {parts}",
        text="Fold {parts} up, to a square corner.",
        check="The walls stand up straight.",
        if_not="If a wall leans out, fold it in past upright and let go.",
    ),
    "glued_walls/glued": StepWording(
        title="Glue {parts}",
        text="{put} Swing {first} up against the tabs. {press}",
        check="The rim is level and the corners are closed.",
        if_not="If a corner gapes, hold it with a clip for a while.",
    ),
    "inner_walls_over_tabs/plain": StepWording(
        title="Fold in {parts}",
        text="Fold {parts} over the rim and down inside, over the tabs.",
        check="The inner walls lie flat and hide the tops of the tabs.",
        if_not="If an inner wall buckles, trim a sliver from one end.",
    ),
    "inner_walls_over_tabs/glued": StepWording(
        title="Glue in {parts}",
        text="{put} Fold {first} over the rim and down, over the tabs. {press}",
        check="The inner walls lie flat and hide the tops of the tabs.",
        if_not="If an inner wall buckles, trim a sliver from one end.",
    ),
    "inner_walls/plain": StepWording(
        title="Fold in {parts}",
        text="Fold {parts} over the rim and down inside.",
        check="The inner walls lie flat and all four rims are level.",
        if_not="If an inner wall buckles, trim a sliver from one end.",
    ),
    "inner_walls/glued": StepWording(
        title="Glue in {parts}",
        text="{put} Fold {first} over the rim and down inside. {press}",
        check="The inner walls lie flat and all four rims are level.",
        if_not="If an inner wall buckles, trim a sliver from one end.",
    ),
}

# Wet glue takes 15 to 30 minutes to the touch, hot glue under a minute; common practice.
ADHESIVES: Mapping[str, AdhesiveWording] = {
    "wet glue": AdhesiveWording(
        put="Put a thin line of glue where the dots are.",
        press="Press it for half a minute.",
        caution="",
    ),
    "hot glue": AdhesiveWording(
        put="Put a thin line of hot glue where the dots are.",
        press="Press it at once and hold it until it is cool.",
        caution="Hot glue burns. Keep your fingers off it until it is cool.",
    ),
    "tape": AdhesiveWording(
        put="Stick double-sided tape where the dots are, and peel it.",
        press="Press it down hard: it grips at once.",
        caution="",
    ),
}
STEP_AGAIN = "Do the same with {rest}."
STEP_SLIDES = "The glue slides here. Use a little, and wipe the edge at once."
