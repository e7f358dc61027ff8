// Sizes that work out: a wish is pressed, the answers stand below it, best first, and a press takes one.

import { get, post, Away, Refused } from "./ask.js";
import { el, fill, say, sized, tell } from "./dom.js";
import { drawOffline } from "./trouble.js";

const now = { asked: null, version: null, found: null, trouble: null, waiting: false };

export function drawFit(desk, actions) {
  const place = document.getElementById("fit");
  if (now.version !== desk.state.version) Object.assign(now, { asked: null, found: null, trouble: null, version: desk.state.version });
  const wishes = desk.state.fits;
  const several = new Set(wishes.map((wish) => wish.part)).size > 1;
  const active = document.activeElement?.dataset?.keep;
  fill(
    place,
    el("div", { class: "wishes" }, wishes.map((wish) => button(wish, several, desk, actions))),
    el("div", { role: "status" }, now.waiting ? el("p", { class: "quiet" }, say("fit_looking")) : null, now.trouble ? el("p", { class: "wrong" }, sized(now.trouble)) : null, now.found ? answers(now.found, desk, actions) : null),
  );
  if (active) place.querySelector(`[data-keep="${CSS.escape(active)}"]`)?.focus();
}

function button(wish, several, desk, actions) {
  const key = `${wish.part} ${wish.goal}`;
  return el(
    "button",
    { type: "button", class: "wish", "data-keep": `fit ${key}`, "aria-pressed": String(now.asked === key), onclick: () => ask(wish, key, desk, actions) },
    wish.label,
    several ? el("small", {}, ` ${wish.part}`) : null,
  );
}

async function ask(wish, key, desk, actions) {
  const { version } = desk.state;
  Object.assign(now, { asked: key, found: null, trouble: null, waiting: true, version });
  drawFit(desk, actions);
  try {
    const found = await get(`/api/p/${desk.id}/fit?${new URLSearchParams({ version, part: wish.part, goal: wish.goal })}`);
    if (now.asked !== key || desk.state.version !== version) return;
    now.found = found;
    tell(found.notes[0] ?? found.title);
  } catch (error) {
    if (now.asked !== key) return;
    if (error instanceof Away) drawOffline(() => ask(wish, key, desk, actions));
    else if (error instanceof Refused) now.trouble = error.problems.map((each) => `${each.value} ${each.reason}: ${each.remedy}.`.trim()).join(" ");
    else throw error;
  } finally {
    now.waiting = false;
    drawFit(desk, actions);
  }
}

function answers(found, desk, actions) {
  return [
    el("h3", {}, found.title),
    found.notes.map((note) => el("p", { class: "quiet" }, sized(note))),
    found.rows.length
      ? el(
          "table",
          { class: "answers" },
          el("thead", {}, el("tr", {}, found.columns.map((column) => (column ? el("th", { scope: "col" }, column) : el("td", {}))), el("td", {}))),
          el("tbody", {}, found.rows.map((row, at) => el("tr", {}, row.cells.map((cell) => el("td", {}, sized(cell))), el("td", {}, take(row, at, desk, actions))))),
        )
      : null,
  ];
}

function take(row, at, desk, actions) {
  const label = say("fit_take_number", { number: at + 1 });
  if (row.changes.length) return el("button", { type: "button", class: "link", "aria-label": label, onclick: () => actions.mend(row.changes) }, say("fit_take"));
  if (!row.shape) return null;
  return el("button", { type: "button", class: "link", "aria-label": label, onclick: () => use(row.shape, desk, actions) }, say("fit_take"));
}

/** A shape of the project is only named; one of the shelf is put into the project first. */
async function use(shape, desk, actions) {
  if (shape.kept === "shelf") {
    try {
      await post("/api/shapes/use", { project: desk.id, name: shape.name, size: shape.size });
      location.reload();
    } catch (error) {
      if (error instanceof Away) drawOffline(() => use(shape, desk, actions));
      else if (error instanceof Refused) {
        now.trouble = error.message;
        drawFit(desk, actions);
      } else throw error;
    }
    return;
  }
  const lid = desk.state.lids[0]?.hole_path.replace(/\.hole_from_corner$/, "");
  actions.mend([
    { path: `${lid}.shape`, value: shape.name },
    { path: `${lid}.lobes`, value: null },
    { path: `${lid}.depth`, value: null },
    { path: `${lid}.across`, value: shape.size },
  ]);
}
