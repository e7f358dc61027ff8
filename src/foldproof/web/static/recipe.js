// What to cut and score, with measures large enough to read at the table: what is folded beside its picture, and
// every other piece below.

import { el, fill, sized } from "./dom.js";

export function drawRecipe(desk) {
  const rows = desk.state.recipe;
  const folded = rows.filter((row) => row.folded);
  fill(document.getElementById("recipe"), pieces(folded));
  fill(document.getElementById("pieces"), pieces(rows.filter((row) => !row.folded)));
}

function pieces(rows) {
  const found = [];
  for (const row of rows) {
    if (found.at(-1)?.[0].id !== row.id) found.push([row]);
    else found.at(-1).push(row);
  }
  return found.map((those) => el("section", { class: "piece", "data-piece": those[0].id }, el("h3", {}, those[0].piece), those.map(line)));
}

const line = (row) =>
  el(
    "div",
    { class: "recipe-row" },
    el("p", { class: "recipe-title" }, row.title),
    row.hero ? el("p", { class: row.hero.length > 24 ? "hero long" : "hero" }, sized(row.hero)) : null,
    row.other ? el("p", { class: "recipe-note" }, sized(row.other)) : null,
    row.note ? el("p", { class: "recipe-note" }, sized(row.note)) : null,
  );

/** Marks the pieces that a check is about. */
export function pointRecipe(about) {
  const names = new Set(about.what === "sheet" ? about.names : []);
  for (const each of document.querySelectorAll(".piece")) each.classList.toggle("marked", names.has(each.dataset.piece.split("/").at(-1)));
}
