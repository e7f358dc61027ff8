// The pieces on the scoring board, as the workbench drew them.

import { drawing, el, fill, say } from "./dom.js";

export function mountSheets(place) {
  return {
    /** Shows every piece; with problems there is none to show. */
    show(sheets, problems) {
      if (problems.length) {
        fill(place, el("p", { class: "quiet" }, say("cannot")));
        return;
      }
      fill(
        place,
        sheets.map((sheet) =>
          el(
            "figure",
            { class: "plate-sheet-one", "data-piece": sheet.piece, "data-part": sheet.part },
            sheets.length > 1 ? el("figcaption", {}, sheet.title) : null,
            el("div", { class: "on-paper" }, drawing(sheet.svg)),
          ),
        ),
      );
    },
    /** Marks panels, creases or whole pieces by name; a name may begin with its piece and a colon. */
    point({ names = [], part }) {
      for (const each of place.querySelectorAll(".marked")) each.classList.remove("marked");
      for (const name of names) {
        const [piece, inner] = name.includes(":") ? name.split(":") : ["", name];
        for (const sheet of place.querySelectorAll("figure")) {
          if (part && sheet.dataset.part !== part) continue;
          if (piece && sheet.dataset.piece !== piece) continue;
          const marked = sheet.dataset.piece === name ? "blank" : inner;
          for (const each of sheet.querySelectorAll(`[data-name="${CSS.escape(marked)}"]`)) each.classList.add("marked");
        }
      }
    },
  };
}
