"""English cautions. Each stands where the hazard is, and once at the start."""

from __future__ import annotations

from collections.abc import Mapping

# By tool, by adhesive, and "always". Low-heat hot glue is about 120 °C, which still burns.
CAUTIONS: Mapping[str, str] = {
    "knife": "A craft knife is sharp. Cut on a mat, along a metal rule, with your other hand behind the blade.",
    "scissors": "Scissors are sharp. Close them before you hand them on.",
    "hot glue": "Hot glue burns skin. Use a low-heat gun and keep it out of reach of children.",
    "always": "If you sell or give away what you make, ask which local rules hold.",
}
