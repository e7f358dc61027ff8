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
        sheets.map((sheet) => el("figure", { class: "plate-sheet-one" }, sheets.length > 1 ? el("figcaption", {}, sheet.title) : null, el("div", { class: "on-paper" }, drawing(sheet.svg)))),
      );
    },
    /** Marks parts by name. */
    point(about) {
      for (const each of place.querySelectorAll(".marked")) each.classList.remove("marked");
      for (const name of about.names ?? []) {
        for (const each of place.querySelectorAll(`[data-name="${CSS.escape(name)}"]`)) each.classList.add("marked");
      }
    },
  };
}
