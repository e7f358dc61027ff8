// What to cut and score, with measures large enough to read at the table.

import { el, fill, sized } from "./dom.js";

export function drawRecipe(desk) {
  const place = document.getElementById("recipe");
  let piece = "";
  fill(
    place,
    desk.state.recipe.map((row) => {
      const heading = row.piece === piece ? null : el("h3", {}, row.piece);
      piece = row.piece;
      return [
        heading,
        el(
          "div",
          { class: "recipe-row" },
          el("p", { class: "recipe-title" }, row.title),
          row.hero ? el("p", { class: "hero" }, sized(row.hero)) : null,
          row.other ? el("p", { class: "recipe-note" }, sized(row.other)) : null,
          row.note ? el("p", { class: "recipe-note" }, sized(row.note)) : null,
        ),
      ];
    }),
  );
}
