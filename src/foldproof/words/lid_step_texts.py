"""English for the steps of a turning lid, by their codes; "code/choice" for one piece, one glue, one size or many.

Fields: ``{piece}``, ``{lengths}``, ``{place}``, and ``{put}`` and ``{press}`` from what fixes the layer.
"""

from __future__ import annotations

from collections.abc import Mapping

from foldproof.words.records import AdhesiveWording, StepWording

LID_BENCH_STEPS: Mapping[str, StepWording] = {
    "lid_cut_triangle": StepWording(
        title="Cut the strip for {piece}",
        text="Cut a strip of cardstock, {lengths}. Waste from the tray will do. "
        "Score from the middle of one long side to both corners of the other.",
        check="The two lines meet in a square corner.",
        if_not="If they do not, check that the strip is twice as long as it is wide.",
        caution="knife",
    ),
    "lid_cut_triangle/cap": StepWording(
        title="Cut {piece}",
        text="Cut a second strip, {lengths}. Draw the same two lines, and cut just inside them. Keep the middle.",
        check="Laid on the corner triangle, it leaves a sliver of it in view all round.",
        if_not="If it stands out over an edge, trim that edge.",
        caution="knife",
    ),
    "lid_glue_cap": StepWording(
        title="Glue {piece} on",
        text="Spread a thin film of glue on its back. "
        "Lay it on the corner triangle, on the side away from the flaps. Press it flat.",
        check="A sliver of the corner triangle shows all round.",
        if_not="If it stands out over an edge, slide it back while the glue is wet.",
    ),
    # Upside down on the mat, the face of the top triangle comes level with the rim by itself.
    "lid_glue_triangle": StepWording(
        title="Glue the triangle into its corner",
        text="Put glue on the outside of both flaps. Push the triangle into the {place} corner, but not all the way. "
        "Turn the box upside down on the mat and press it down. Leave it there while the glue takes.",
        check="The top of the triangle is level with the rim.",
        if_not="If it is too low, push it up from inside while the glue is wet.",
    ),
    "lid_glue_triangle/hot glue": StepWording(
        title="Glue the triangle into its corner",
        text="Put a dot of hot glue on the outside of both flaps. "
        "Push the triangle into the {place} corner, but not all the way. "
        "Turn the box upside down on the mat at once and press it down. Hold it until the glue is cool.",
        check="The top of the triangle is level with the rim.",
        if_not="If it is too low, take it out, peel off the glue and try again.",
        caution="hot glue",
    ),
    "lid_cut_layers": StepWording(
        title="Cut out the layers",
        text="Cut each layer along the line of its template. They are {lengths} across, the lowest first.",
        check="The edges are smooth and the layers lie flat.",
        if_not="If an edge is rough, rub it with fine sandpaper.",
        caution="scissors",
    ),
    "lid_cut_layers/one": StepWording(
        title="Cut out the layer",
        text="Cut the layer along the line of its template. It is {lengths} across.",
        check="The edge is smooth and the layer lies flat.",
        if_not="If the edge is rough, rub it with fine sandpaper.",
        caution="scissors",
    ),
    "lid_cut_layers/many": StepWording(
        title="Cut out the layers",
        text="Cut each layer along the line of its template. Its size stands on the template.",
        check="The edges are smooth and the layers lie flat.",
        if_not="If an edge is rough, rub it with fine sandpaper.",
        caution="scissors",
    ),
    "lid_glue_low": StepWording(
        title="Put {piece} on",
        text="{put} Lay it in the middle of the layer below, as the drawing shows. {press}",
        check="It lies flat and stays put.",
        if_not="If a corner lifts, add a little glue under it.",
    ),
    "lid_hole_guide": StepWording(
        title="Find the hole with the hole guide",
        text="Lay the lid face down. Lay the hole guide on its back, edge on edge. "
        "Pierce the middle of the star with a needle, through guide and lid.",
        check="The prick is in the lid, and the guide still lies edge on edge.",
        if_not="If the guide has slipped, lay it edge on edge again and look where the mark is.",
        caution="awl",
    ),
    "lid_hole_by_hand": StepWording(
        title="Find the hole without a printer",
        text="Lay the lid face down. Put the box on it upside down, just where it will close. "
        "Draw round the corner with the triangle. "
        "From the drawn corner, measure {lengths} in along its diagonal. Prick the lid there.",
        check="The prick is as far from one drawn line as from the other.",
        if_not="If it is not, rub the lines out and draw round the corner again.",
        caution="awl",
    ),
    "lid_hole_by_sides": StepWording(
        title="Find the hole without a printer",
        text="Lay the lid face down. Put the box on it upside down, just where it will close. "
        "Draw round the corner with the triangle. "
        "Measure {first} in from the line of the {first_place} side. "
        "Measure {second} in from that of the {second_place} side. "
        "Prick the lid where the two meet.",
        check="Measured once more from both lines, the prick is where it should be.",
        if_not="If it is not, rub the lines out and draw round the corner again.",
        caution="awl",
    ),
    "lid_try_turn": StepWording(
        title="Cut a star to try the turn",
        text="Cut three short slits through the prick, so that they make a star no wider than {lengths}. "
        "Close the lid. Push a needle through the star into the triangle, and turn the lid on it.",
        check="Closed, the lid covers the box. Turned, it opens as the drawings show.",
        if_not="If it does not, find the hole again now, while the star is small.",
        caution="knife",
    ),
    "lid_glue_disc": StepWording(
        title="Glue the disc round the hole",
        text="Cut a disc of cardstock, {lengths} across, and prick its middle. Spread a thin film of glue on it. "
        "Lay it on the back of the lid, prick on star. Press it flat.",
        check="A needle goes through both, and the disc does not show beside the lid.",
        if_not="If it shows, slide it in or trim it while the glue is wet.",
        caution="scissors",
    ),
    "lid_make_hole": StepWording(
        title="Pierce the hole through the star",
        text="Cut or punch the star away, to a clean hole {lengths} wide.",
        check="No point of the star is left, and the edge is clean.",
        if_not="If a point is left, press the awl through once more from the other side.",
        caution="awl",
    ),
    "lid_mark_triangle": StepWording(
        title="Mark and pierce the triangle",
        text="Lay the pierced lid on the box, as it will close. Mark the triangle through the hole. "
        "Take the lid off and pierce the mark.",
        check="With the lid closed again, you can see through both holes.",
        if_not="If the holes miss, widen the one in the triangle a little.",
        caution="awl",
    ),
    "lid_brad": StepWording(
        title="Fasten the lid with the brad",
        text="Push the brad through the lid and the triangle. Turn the lid part way, so that a finger gets in. "
        "Open the legs along the long edge of the triangle. Leave the brad a little loose: the lid turns on it.",
        check="The lid turns freely and stays where you leave it.",
        if_not="If it is stiff, lift the legs a little and press them down again.",
        caution="small parts",
    ),
    "lid_eyelet": StepWording(
        title="Fasten the lid with the eyelet",
        text="Push the eyelet through the lid and the triangle. Turn the lid part way, so that you get in below. "
        "Lay a strip of thin card under the flange, set the eyelet, and pull the strip out.",
        check="The lid turns freely and stays where you leave it.",
        if_not="If it is stiff, turn it back and forth until it gives.",
        caution="small parts",
    ),
    "lid_snap": StepWording(
        title="Fasten the lid with the snap",
        text="Push the post of the cap through the lid and the triangle. Turn the lid part way, so that you get in "
        "below. Press the socket onto the post from inside, until it clicks.",
        check="The lid turns by itself on the snap, and the cap stays put.",
        if_not="If it is stiff, the card is too thick for it: use one with a longer post.",
        caution="small parts",
    ),
    "lid_glue_top": StepWording(
        title="Put {piece} on, over the head",
        text="{put} Keep clear of the head. Lay it on the layer below, as the drawing shows. {press}",
        check="The head is hidden and the lid still turns.",
        if_not="If the lid sticks, turn it once while the glue takes.",
    ),
    "lid_greeting": StepWording(
        title="Put the greeting on last",
        text="Turn the {place} side of the box toward you: that is the front. Close the lid. "
        "{put} Lay the greeting square to the front. {press}",
        check="The greeting stands straight when you look from the front.",
        if_not="If it is not straight, lift it at once and lay it again.",
    ),
}

LID_FOLD_STEPS: Mapping[str, StepWording] = {
    "triangle_flaps/plain": StepWording(
        title="Fold down {parts}",
        text="Fold {parts} away from you, to a square corner.",
        check="Both flaps stand square to the triangle, along its short sides.",
        if_not="If a flap springs back, run a bone folder along its fold.",
    ),
}

# What fixes one layer to the next, with the same names as in the project file.
LAYER_ADHESIVES: Mapping[str, AdhesiveWording] = {
    "wet glue": AdhesiveWording(
        put="Spread a thin film of glue on its back.",
        press="Press it flat with your hand for a minute.",
        caution="",
    ),
    "hot glue": AdhesiveWording(
        put="Put a few dots of hot glue on its back.",
        press="Press it down at once and hold it until it is cool.",
        caution="Hot glue burns. Keep your fingers off it until it is cool.",
    ),
    "foam": AdhesiveWording(
        put="Stick foam pads on its back, and peel them.",
        press="Press it down gently: foam grips at once.",
        caution="",
    ),
}
