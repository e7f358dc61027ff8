"""English cautions. Each stands where the hazard is, and once at the start."""

from __future__ import annotations

from collections.abc import Mapping

# By tool, by adhesive, by who is taught, and "always". Low-heat hot glue is about 120 °C, which still burns.
CAUTIONS: Mapping[str, str] = {
    "knife": "A craft knife is sharp. Cut on a mat, along a metal rule, with your other hand behind the blade.",
    "knife/class": "Ask the teacher to cut, or use scissors.",
    "scissors": "Scissors are sharp. Close them before you hand them on.",
    "hot glue": "Hot glue burns skin. Use a low-heat gun and keep it out of reach of children.",
    "awl": "An awl or a needle is sharp. Pierce onto cork or foam, with your other hand well to the side.",
    # Parts that fit the small-parts cylinder choke children under three: 16 CFR 1501, EN 71-1; from memory.
    "small parts": "Brads, eyelets and snaps are small. Keep them from children under three, who can choke on them.",
    "always": "If you sell or give away what you make, ask which local rules hold.",
}
